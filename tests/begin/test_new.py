"""A new plan: what is answered stands in the file as it was said, what is not says nothing, and
nothing answered is lost.
"""

import io
import re
import sys

import pytest
import yaml
from depth import not_quick
from worked import program

from advisor.cli import main
from advisor.faults import Faults
from advisor.load.folder import find_folder
from advisor.load.new_plan import read_new_plan

ADVISOR = program()
PLAN = read_new_plan(ADVISOR.base.vocabulary, find_folder("rules"))
ANSWERS = {
    "What is the plan called?": "Saturday at Rook Pot",
    "What are the anchors called": "left bolt and Old Spike",
    "What kind of anchor is left bolt": "resin bolt",
    "What kind of anchor is old spike": "4",
    "How deep": "40 ft",
    "How does the ladder hang": "1",
    "Is the trip led": "led",
    "How many people are led": "8",
    "heaviest": "95-100 kg",
}


@pytest.fixture
def talk(monkeypatch, capsys):
    """Runs `new` with the lines piped in; returns (code, shown, error)."""

    def run(file, lines, *options):
        monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        code = main(["new", str(file), *options])
        shown = capsys.readouterr()
        return code, shown.out, shown.err

    return run


def lines_for(answers):
    """The lines that answer every question in the order of the file."""
    questions = ["What is the plan called?"]
    for part in PLAN.asks:
        names = [part.of]
        if part.called:
            questions.append(part.called)
            names = ["left bolt", "old spike"]
        for name in names:
            questions += [a.asks.replace("{it}", name) for a in part.facts]
    return [next((answers[k] for k in answers if k in q), "") for q in questions]


def facts_of(file):
    return {(f.entity, f.key): f.text for f in ADVISOR.read(str(file)).facts.values()}


def test_what_is_answered_is_what_the_file_says(talk, tmp_path):
    file = tmp_path / "plan.yaml"
    code, shown, _ = talk(file, lines_for(ANSWERS))
    assert code == 0 and "Written:" in shown
    assert facts_of(file) == {
        ("pitch", "pitch.depth"): "12.192 m",
        ("pitch", "pitch.hang"): "free",
        ("plan", "plan.trip kind"): "led",
        ("anchor left bolt", "anchor.kind"): "resin bolt",
        ("anchor old spike", "anchor.kind"): "spike",
        ("group", "group.size"): "8",
        ("group", "group.heaviest"): "95 kg to 100 kg",
    }
    assert yaml.safe_load(file.read_text())["case"] == "Saturday at Rook Pot"


def test_an_answer_that_cannot_be_read_is_asked_again(talk, tmp_path):
    code, shown, _ = talk(tmp_path / "plan.yaml", ["A plan", "blue", "12 m", "quit"])
    assert code == 0 and shown.count("How deep is the pitch") == 2
    assert facts_of(tmp_path / "plan.yaml") == {("pitch", "pitch.depth"): "12 m"}


@not_quick
@pytest.mark.parametrize("after", range(0, 12, 3))
def test_leaving_early_keeps_what_was_said(talk, tmp_path, after):
    lines = lines_for(ANSWERS)
    code, _, _ = talk(tmp_path / "plan.yaml", lines[:after])  # the pipe ends
    told = facts_of(tmp_path / "plan.yaml")
    whole = tmp_path / "whole.yaml"
    talk(whole, lines)
    assert code == 0 and told.items() <= facts_of(whole).items()
    assert len(told) == sum(bool(line) for line in lines[1:after])


def test_the_template_says_nothing_until_it_is_filled_in(talk, tmp_path):
    file = tmp_path / "blank.yaml"
    code, _, _ = talk(file, [], "--blank")
    assert code == 0 and facts_of(file) == {}
    assert ADVISOR.advise(ADVISOR.read(str(file))).about[0] == "plan"


def test_every_line_of_the_template_can_be_filled_in(talk, tmp_path):
    """Each comment that is a fact, taken as a line with its last choice or a number, is read."""
    file = tmp_path / "blank.yaml"
    talk(file, [], "--blank")
    entity, rows = "", []
    for row in file.read_text().splitlines():
        named = re.fullmatch(r"  (?:# )?([\w ]+):", row)
        fact = re.fullmatch(r"    (?:# )?([\w ]+):(?: unknown)?", row)
        if named:
            entity, row = named[1], f"  {named[1]}:"
        if fact:
            row = f"    {fact[1]}: {last_value(entity, fact[1])}"
        rows.append(row)
    file.write_text("\n".join(rows) + "\n")
    stated = [row for row in rows if row.startswith("    ") and "#" not in row]
    assert len(facts_of(file)) == len(stated) > 40


def last_value(entity, name):
    """The last choice; of a number the lower end of its range."""
    from advisor.facts.units import show

    kind, _ = ADVISOR.base.vocabulary.split(entity)
    attribute = kind.attributes[name]
    if attribute.type == "time":
        return "14:30"
    return attribute.values[-1] if attribute.is_choice else show(attribute.low, attribute.unit)


def test_a_file_that_is_there_is_kept(talk, tmp_path):
    file = tmp_path / "mine.yaml"
    file.write_text("mine")
    code, _, error = talk(file, ["A plan"])
    assert code == 2 and "exists already" in error and file.read_text() == "mine"


@pytest.mark.parametrize("name, says", [("plan.txt", ".yaml"), ("no/where/plan.yaml", "folder")])
def test_where_it_cannot_be_written_is_told_before_anything_is_asked(talk, tmp_path, name, says):
    code, shown, error = talk(tmp_path / name, ["A plan"])
    assert code == 2 and says in error and not shown and error.count("\n") == 1


@pytest.mark.parametrize(
    "text, says",
    [
        ("asks:\n  - {of: pich, facts: [depth]}\nmore: []\n", "2:10: 'pich'"),
        ("asks:\n  - {of: pitch, facts: [depht]}\nmore: []\n", "2:25: 'depht'"),
        ("asks: []\nmore: []\n", "1:7: at least 1"),
    ],
)
def test_a_list_that_asks_for_what_is_not_there_is_refused(tmp_path, text, says):
    (tmp_path / "new-plan.yaml").write_text(text)
    with pytest.raises(Faults) as found:
        read_new_plan(ADVISOR.base.vocabulary, tmp_path)
    assert says in str(found.value.faults[0])
