"""The rehearsal: choice and reason before the advice, disagreement kept as a point for a trainer,
a line an answer, a safe sheet.
"""

import io
import os

import pytest
from depth import not_quick, some_numbers
from small_base import case_named, program, shipped

from advisor.cli import main
from advisor.drill.drill import END, Drill, match, told_response
from advisor.drill.missed import missed
from advisor.drill.screens import LINES, screens
from advisor.load.folder import files_of, find_folder

CASE = str(find_folder("cases") / "plan" / "arrival-left.yaml")


def talk(monkeypatch, capsys, answers, *arguments):
    """(exit code, what was shown, errors) of a piped rehearsal."""
    monkeypatch.setattr("sys.stdin", io.StringIO("".join(f"{a}\n" for a in answers)))
    monkeypatch.setenv("COLUMNS", "100")
    code = main(["drill", *arguments])
    shown = capsys.readouterr()
    return code, shown.out, shown.err


def enters(case):
    """Enter for the title and every screen of facts."""
    return [""] * (1 + len(screens(program().base, case)))


TALK = [
    "go on",
    "all looks sound",
    "",
    "lifelined ladder",
    "short and dry",
    "",
    "right ladder bolt",
    "less crowded",
    "The right side is drier here.",
    "quit",
]
DECISIVE = (
    "This is a rehearsal. In a real emergency act and call first.",
    "Your first choice? go on",
    "And your reason? all looks sound",
    "The advice: nothing found that forbids it, on the facts given",
    "The advice is the same.",
    "Your first choice? right ladder bolt",
    "And your reason? less crowded",
    "The advice: left ladder bolt",
    "Rules that differ:",
    "[ladder-anchor.far-side, ladder-anchor.nearest-arrival",
    "Anything you see otherwise? (Enter if not) The right side is drier here.",
    "Ended here. The sheet holds what was discussed.",
)


@not_quick
def test_a_transcript(monkeypatch, capsys, tmp_path):
    sheet = tmp_path / "sheet.md"
    code, shown, _ = talk(
        monkeypatch,
        capsys,
        [*enters(case_named("arriving from the left")), *TALK],
        CASE,
        "--sheet",
        str(sheet),
    )
    place = 0
    for line in DECISIVE:
        place = shown.find(line, place)
        assert place >= 0, line
    assert code == 0
    kept = sheet.read_text("utf-8")
    assert "- Seen otherwise, to take to a qualified trainer: The right side is drier here." in kept
    assert "## Points to take to a qualified trainer" in kept and "score" not in kept.lower()
    assert os.listdir(tmp_path) == ["sheet.md"]


@not_quick
def test_the_advice_is_never_shown_before_choice_and_reason():
    course, asked, answer = (
        Drill(program(), case_named("arriving from the left")).course(),
        [],
        None,
    )
    try:
        while True:
            ask = course.send(answer)
            asked.append(
                (ask.question, any(str(line).startswith("The advice") for line in ask.lines))
            )
            answer = "" if answer is not None else ""
    except StopIteration:
        pass
    for number, (_, advice) in enumerate(asked):
        if advice:
            assert [q for q, _ in asked[number - 2 : number]] in (
                ["Your first choice?", "And your reason?"],
                ["What do you do, in what order?", "And your reason?"],
            )
    assert sum(advice for _, advice in asked) >= 9


@not_quick
@some_numbers
def test_every_worked_case_can_be_rehearsed_to_its_end(number):
    course, answer, last = Drill(program(), shipped()[number], 1).course(), None, None
    while True:
        try:
            last = course.send(answer)
        except StopIteration:
            break
        answer = "I would do it my own way"
    assert last.question is END and last.lines[-1].startswith("That is the end.")


@not_quick
def test_facts_come_in_screens_that_can_be_read():
    for case in shipped():
        pages = screens(program().base, case)
        assert all(0 < len(page) <= LINES for page in pages) and len(pages) <= 10
        shown = " ".join(" ".join(line for page in pages for line in page).split())
        assert not [
            f
            for f in case.facts.values()
            if f"{f.key.partition('.')[2]} = {' '.join(f.text.split())}" not in shown
        ]


@not_quick
def test_incidents_are_thrown_in_on_the_plans_own_facts_and_differ_from_case_to_case():
    def thrown(case):
        return [e.response.incident for e in Drill(program(), case, 3)._thrown_in()]

    first, second = (thrown(case_named(words)) for words in ("arriving from the left", "One bolt"))
    assert (
        len(set(first)) == 3
        and first == thrown(case_named("arriving from the left"))
        and first != second
    )


def test_without_a_case_the_cases_are_listed_and_one_is_chosen(monkeypatch, capsys):
    code, shown, _ = talk(
        monkeypatch,
        capsys,
        ["glazed"],
    )
    assert (
        code == 0
        and "cases/kit/glazed-cord.yaml" in shown
        and "A glazed bridle at Thorn Shaft" in shown
    )
    assert sum(line.lstrip()[:1].isdigit() for line in shown.splitlines()) >= len(
        files_of(find_folder("cases"))
    )


@pytest.mark.parametrize(
    "word, fault",
    [("arrival", "several cases are called so"), ("no-such-thing", "no case is called so")],
)
def test_a_word_that_means_no_single_case(monkeypatch, capsys, word, fault):
    code, _, error = talk(monkeypatch, capsys, [], word)
    assert code == 2 and fault in error and "Traceback" not in error


def test_a_sheet_that_is_there_is_kept(monkeypatch, capsys, tmp_path):
    sheet = tmp_path / "sheet.md"
    sheet.write_text("mine", "utf-8")
    code, _, error = talk(monkeypatch, capsys, [], CASE, "--sheet", str(sheet))
    assert code == 2 and "choose another name" in error and sheet.read_text("utf-8") == "mine"


def test_a_sheet_that_cannot_be_written_is_one_sentence(monkeypatch, capsys, tmp_path):
    code, _, error = talk(
        monkeypatch, capsys, [""] * 60, CASE, "--sheet", str(tmp_path / "none" / "sheet.md")
    )
    assert code == 2 and "cannot write the sheet" in error and error.count("\n") == 1


@not_quick
def test_hostile_answers_do_no_harm(monkeypatch, capsys, tmp_path):
    sheet = tmp_path / "sheet.md"
    nasty = "\x1b[2J<script>alert(1)</script> [x](y) " + "z" * 100_000
    code, shown, _ = talk(
        monkeypatch,
        capsys,
        [*enters(case_named("arriving from the left")), "go on", nasty, nasty],
        CASE,
        "--sheet",
        str(sheet),
    )
    assert (
        code == 0
        and "\x1b" not in shown
        and "<script>" not in sheet.read_text("utf-8")
        and len(sheet.read_text("utf-8")) < 5000
    )


@not_quick
def test_ctrl_c_keeps_the_sheet(monkeypatch, capsys, tmp_path):
    answers = iter([*enters(case_named("arriving from the left")), "go on", "sound", ""])

    def next_line(limit):
        line = next(answers, None)
        if line is None:
            raise KeyboardInterrupt
        return line + "\n"

    monkeypatch.setattr("advisor.drill.run.sys.stdin", Lines(next_line))
    code = main(["drill", CASE, "--sheet", str(tmp_path / "sheet.md")])
    assert (
        code == 0
        and "Ended here" in capsys.readouterr().out
        and "Chosen: go on" in (tmp_path / "sheet.md").read_text("utf-8")
    )


class Lines:
    """A pipe whose lines come from a function."""

    def __init__(self, readline):
        self.readline = readline

    def isatty(self):
        return False


@pytest.mark.parametrize(
    "answer, meant",
    [
        ("1", "left bolt"),
        ("RIGHT bolt", "right bolt"),
        ("right", "right bolt"),
        ("bolt", None),
        ("", None),
        ("9", None),
        ("tree", None),
    ],
)
def test_what_an_answer_means(answer, meant):
    assert match(("left bolt", "right bolt"), answer) == meant


INCIDENT = str(find_folder("cases") / "incident" / "bad-air-below.yaml")


def test_what_was_not_named_is_told_with_why_it_matters_and_kept(monkeypatch, capsys, tmp_path):
    """The steps and their reasons are those of the response; the answer names only the call."""
    sheet = tmp_path / "sheet.md"
    answers = ["", "", "call cave rescue now, someone is down", "help is hours away", "", ""]
    code, shown, _ = talk(monkeypatch, capsys, answers, INCIDENT, "--sheet", str(sheet))
    shown = " ".join(shown.split())
    assert code == 0 and "Not heard in your words" in shown
    silent = shown.partition("Not heard in your words")[2]
    steps = program().advise(case_named("Alarm and a sick climber")).response.lines
    out = next(s for s in steps if s.text.startswith("Do not go down to help without breathing"))
    assert f"{out.text.rstrip('.')} ({out.because.rstrip('.')})" in silent
    assert "Call cave rescue now: someone is down in bad air (" not in silent
    kept = sheet.read_text("utf-8")
    assert "Not heard in your words" in kept and "Do not go down to help without" in kept


def test_what_not_to_do_is_told_after_the_choice():
    case = case_named("Leg through the rungs at Lantern Shaft")
    response = program().advise(case).response
    sure = [line.text for line in response.do_not if not line.when]
    assert sure and set(sure) <= set(told_response(response))


def test_nothing_is_missed_where_nothing_was_said_or_all_was_named():
    steps = program().advise(case_named("Alarm and a sick climber")).response.steps
    assert missed("", steps) == missed("of the and", steps) == []
    assert missed(" ".join(s.text for s in steps), steps) == []


def test_a_step_back_asks_again_and_the_sheet_keeps_the_second_answer(
    monkeypatch, capsys, tmp_path
):
    sheet = tmp_path / "sheet.md"
    start = enters(case_named("arriving from the left"))
    answers = [*start, "do not go on", "too deep", "back", "back", "go on", "all sound", "", "quit"]
    code, shown, _ = talk(monkeypatch, capsys, answers, CASE, "--sheet", str(sheet))
    kept = sheet.read_text("utf-8")
    assert code == 0 and shown.count("Would you go on with this") == 2
    assert "Chosen: go on" in kept and "do not go on" not in kept and "too deep" not in kept


def test_a_step_back_from_the_first_step_stays_there(monkeypatch, capsys):
    code, shown, _ = talk(monkeypatch, capsys, ["back", "back", "quit"], CASE)
    assert code == 0 and shown.count("This is a rehearsal.") == 3
