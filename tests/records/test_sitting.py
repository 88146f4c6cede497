"""An examination: its verdict is that of a case file with the same findings, the gravest on the
piece or any of its parts; who examines is said; what is out of use is so on its card.
"""

import sys
from subprocess import PIPE, Popen

import pytest
import yaml
from depth import sampled, sweep
from desks import LADDER, layout, store_in, with_ladder
from worked import program

from advisor.faults import Faults
from advisor.load.case import read_case
from advisor.records.sitting import Examiner, sit
from advisor.records.verdict import passes

DAY = "2026-06-01"
AB = Examiner("AB", "kit course")
GRAVER = ("keep", "keep and watch", "clean and look again", "replace part",
          "set aside for a competent person", "retire")  # fmt: skip
FIT = GRAVER[:2]


def findings(quick=4, normal=60):
    """(part, what) of what may be found on a ladder."""
    whats = program().base.vocabulary.by_key["finding.what"].values
    parts = sorted({point.part for point in layout().walks["ladder"]})
    return sampled([(part, what) for part in parts for what in whats], quick, normal)


def typist(part="", what=""):
    """Answers Enter, but types what was found at the first point of a part."""
    left = [what] if part else []

    def ask(text):
        return left.pop() if left and text.partition(" ")[2].startswith(f"{part}: ") else ""

    return ask


def examined(folder, part="", what="", examiner=AB):
    desk = with_ladder(folder, DAY)
    said = []
    fit = sit(desk, ["L3"], examiner, typist(part, what), said.append)
    return desk, said, fit


def by_case_file(folder, part, what):
    """The verdict on the same ladder with the same finding, told in a file."""
    # What 'all so' confirms of a ladder that came back, beside what is on its card.
    confirmed = dict.fromkeys(
        ("overloaded", "left in place", "chemical contact", "mishap", "lent out"), "no"
    )
    case = {
        "about": ["kit"],
        "given": {
            "ladder L3": {**LADDER, **confirmed, "inspection": "full by fingertip", "clean": "yes",
                          "dry": "yes", "last examined": "0 month", "age": "27 month",
                          "examined by": "a competent person", "standing": "in use"},
            "finding a": {"item": "ladder L3", "part": part, "what": what},
        },
    }  # fmt: skip
    file = folder / "same.yaml"
    file.write_text(yaml.safe_dump(case), "utf-8")
    items = program().advise(read_case(file, program().base)).items
    return max((item.verdict for item in items), key=GRAVER.index)


@sweep("pair", findings, ", ".join)
def test_the_verdict_is_that_of_a_case_file_with_the_same_findings(pair, tmp_path_factory):
    folder = tmp_path_factory.mktemp("ladder")
    desk, said, fit = examined(folder, *pair)
    word = by_case_file(folder, *pair)
    assert f"L3: {word.upper()}." in said
    assert fit == (word in FIT)
    assert passes(program(), desk.card("L3")) in ((True,) if fit else (False, None))


@pytest.mark.parametrize(
    "part, what, word",
    [
        ("links", "opened gap", "replace part"),
        ("spreader", "burr", "set aside for a competent person"),
        ("cord", "glaze", "retire"),
    ],
)
def test_a_part_that_fails_takes_the_piece_out_of_use(tmp_path, part, what, word):
    desk, said, fit = examined(tmp_path, part, what)
    assert not fit and f"L3: {word.upper()}." in said
    card = desk.card("L3")
    assert passes(program(), card) is False
    assert card.value("ladder.standing") == "set aside"
    kept = desk.store.entries("L3")[1]
    assert (kept.what, kept.by, kept.body["competence"]) == ("examined", "AB", "kit course")
    assert kept.body["verdict"] == word
    assert kept.body["findings"] == [{"part": part, "what": what}]


def test_a_sound_piece_examined_again_is_in_use_again(tmp_path):
    desk, _, _ = examined(tmp_path, "spreader", "burr")
    assert sit(desk, ["L3"], AB, typist(), [].append)
    assert desk.card("L3").value("ladder.standing") == "in use"
    assert passes(program(), desk.card("L3"))


def test_who_says_no_competence_has_looked_and_not_examined(tmp_path):
    desk, said, fit = examined(tmp_path, examiner=Examiner("AB", ""))
    assert desk.store.entries("L3")[-1].what == "inspected" and not fit
    card = desk.card("L3")
    assert "examined" not in card.dates and card.value("ladder.examined by") == ""
    assert not passes(program(), card)
    assert any("look before use" in line for line in said)


def test_an_examination_without_initials_keeps_nothing(tmp_path):
    with pytest.raises(Faults, match="your initials"):
        examined(tmp_path, examiner=Examiner("", "kit course"))
    assert len(store_in(tmp_path).entries()) == 1


def test_what_is_retired_is_neither_examined_nor_used(tmp_path):
    desk = with_ladder(tmp_path, DAY)
    retired = desk.happened(["L3"], ["retired"], {"reason": "broken wires"})[0]
    with pytest.raises(Faults, match="nothing to examine"):
        sit(desk, ["L3"], AB, typist(), [].append)
    with pytest.raises(Faults, match="it was retired on 2026-06-01"):
        desk.happened(["L3"], ["used"])
    with pytest.raises(Faults, match="it was retired"):
        desk.tell(desk.card("L3"), {"standing": "in use"}, {})
    desk.correct(retired.number, "that was L4")
    assert desk.happened(["L3"], ["used"])


def test_the_walk_goes_in_the_order_of_the_rules():
    told = {
        "walk.spreader-and-links": "spreader",
        "walk.side-wires": "side wire",
        "walk.every-rung-to-the-foot": "rung fixing",
        "walk.cord-last": "cord",
    }
    rules = [rule.id for rule in program().base.rules if rule.id in told]
    parts = [point.part for point in layout().walks["ladder"]]
    first = [parts.index(told[rule]) for rule in rules]
    assert len(first) == len(told) and first == sorted(first)
    assert parts[-1] == "cord"


MAKER = """
import sys
sys.path[:0] = sys.argv[2:]
from datetime import date
from pathlib import Path
from desks import LADDER, MADE, desk_in
from advisor.faults import Faults
desk = desk_in(Path(sys.argv[1]))
print("ready", flush=True)
sys.stdin.readline()
for n in range(20):
    try:
        desk.begin(f"L{n}", "kit", "ladder", LADDER, MADE)
        print("made", n, flush=True)
    except Faults as error:
        assert "this mark already" in str(error), error
"""


def test_two_who_make_the_same_cards_at_once_make_each_once(tmp_path):
    paths = [path for path in sys.path if path]
    makers = [
        Popen([sys.executable, "-c", MAKER, str(tmp_path), *paths], stdin=PIPE, stdout=PIPE,
              text=True)
        for _ in range(2)
    ]  # fmt: skip
    for maker in makers:
        assert maker.stdout.readline() == "ready\n"
    for maker in makers:
        maker.stdin.write("go\n")
        maker.stdin.flush()
    made = [line for maker in makers for line in maker.communicate()[0].splitlines()]
    assert not any(maker.returncode for maker in makers)
    assert sorted(made) == sorted(f"made {n}" for n in range(20))
    store = store_in(tmp_path)
    assert store.check() is None and len(store.entries()) == 20
