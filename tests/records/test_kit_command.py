"""The commands: what is kept is said back, an examination gives the verdict of the rules, and a
case takes what its cards say.
"""

import io
import json
import re
import sqlite3
from contextlib import closing

import pytest
import yaml
from depth import not_quick
from desks import LADDER
from worked import program

from advisor.cli import main
from advisor.load.case import read_case

pytestmark = not_quick
EXAMINER = ("--by", "cd", "--competence", "kit course")
SOUND = "\n" * 10
BROKEN = "\n\n\nbroken wire, count 2\n\n" + "\n" * 7


@pytest.fixture
def kit(tmp_path, capsys, monkeypatch):
    """Runs `kit …` on records of its own: (code, what was said)."""
    file = str(tmp_path / "club.sqlite")

    def run(*arguments, typed="", command="kit"):
        monkeypatch.setattr("sys.stdin", io.StringIO(typed))
        code = main([command, *arguments, "--records", file])
        told = capsys.readouterr()
        return code, told.out + told.err

    run.file = file
    return run


def add_ladder(kit, mark="L3"):
    facts = [part for name, raw in LADDER.items() for part in ("--fact", f"{name}={raw}")]
    return kit(
        "add", mark, "--type", "ladder", "--made", "March 2024", *facts, "--on", "2026-01-05"
    )


def kept_of(kit, mark):
    """How many entries its history tells."""
    return len(re.findall(r"^ *\d+  \d{4}-", kit("history", mark)[1], re.M))


def test_what_is_kept_is_said_back_and_shown(kit):
    code, said = add_ladder(kit)
    assert code == 0 and "ladder.length 12 m" in said and "kit correct" in said
    code, said = kit("show", "L3", "--on", "2026-01-06")
    assert code == 0 and "made 1 March 2024" in said and "CLEAN AND LOOK AGAIN" in said


def test_a_sound_piece_passes_by_ten_keys(kit):
    add_ladder(kit)
    code, said = kit("examine", "L3", "--on", "2026-06-01", *EXAMINER, typed=SOUND)
    assert code == 0 and "L3: KEEP." in said and "10 keys" in said
    said = kit("show", "L3", "--on", "2027-06-02")[1]
    assert "examined 1 June 2026 by CD, kit course; the rules then said keep (entry 2)" in said
    assert "By the rules: SET ASIDE FOR A COMPETENT PERSON." in said


def test_an_examination_gives_the_verdict_of_a_case_file(kit, tmp_path):
    add_ladder(kit)
    code, said = kit("examine", "L3", "--on", "2026-06-01", *EXAMINER, typed=BROKEN)
    assert code == 3
    case = {
        "about": ["kit"],
        "given": {
            "ladder L3": {**LADDER, "inspection": "full by fingertip", "clean": "yes", "dry": "yes",
                          "last examined": "0 month", "age": "27 month", "standing": "in use"},
            "finding a": {"item": "ladder L3", "part": "eye or ferrule", "what": "broken wire",
                          "count": 2},
        },
    }  # fmt: skip
    file = tmp_path / "same.yaml"
    file.write_text(yaml.safe_dump(case), "utf-8")
    items = program().advise(read_case(file, program().base)).items
    assert f"L3: {items[0].verdict.upper()}." in said


def test_a_walk_broken_off_keeps_nothing(kit):
    add_ladder(kit)
    code, said = kit("examine", "L3", *EXAMINER, typed="\n\n")
    assert code == 2 and "nothing is kept" in said
    assert kept_of(kit, "L3") == 1


def test_due_names_what_is_late_and_what_has_no_date(kit):
    add_ladder(kit)
    kit("add", "R2", "--type", "rope", "--fact", "length=30 m", "--on", "2026-01-05")
    kit("examine", "L3", "--on", "2026-06-01", *EXAMINER, typed=SOUND)
    said = kit("due", "--on", "2026-12-24")[1]
    assert "L3: ladder, 1 December 2026 OVERDUE" in said and "R2: rope, NOW" in said
    assert "L3" not in kit("due", "--on", "2026-08-01")[1]
    kit("retire", "L3", "--reason", "old", "--on", "2026-08-02")
    assert "L3" not in kit("due", "--on", "2026-12-24")[1]


@pytest.mark.parametrize(
    "arguments, words",
    [
        (("show", "L9"), "no kit card"),
        (("add", "X", "--fact", "length=3 m"), "say what it is"),
        (("add", "X", "--type", "ladder", "--fact", "lenght=3 m"), "length"),
        (("add", "X", "--type", "ladder", "--fact", "length=long"), "length"),
        (("used", "L3", "eaten"), "expected one of"),
        (("used", "L3", "--on", "2999-01-01"), "still to come"),
        (("correct", "77", "--reason", "x"), "no such entry"),
    ],
)
def test_a_fault_is_one_sentence_and_keeps_nothing(kit, arguments, words):
    add_ladder(kit)
    code, said = kit(*arguments)
    assert code == 2 and words in said and "Traceback" not in said
    assert len(kit("list")[1].splitlines()) == 2


def test_a_case_takes_its_cards_and_says_so(kit, tmp_path, capsys):
    add_ladder(kit)
    kit("examine", "L3", "--on", "2026-06-01", *EXAMINER, typed=SOUND)
    file = tmp_path / "trip.yaml"
    file.write_text(
        "based on: cases/group/two-leaders-sound.yaml\nwithout: [ladder main]\n"
        "with: {ladder: L3}\n",
        "utf-8",
    )
    main(["advise", str(file), "--records", kit.file, "--on", "2026-06-02", "--format", "json"])
    advice = json.loads(capsys.readouterr().out)
    facts = {fact["id"]: fact for fact in advice["facts"]}
    assert facts["ladder L3.length"]["said_by"].startswith("record L3 entry 1, 2026-01-05")
    assert facts["ladder L3.examined and passed"]["value"] == "yes"
    assert advice["on_file"]["cards"] == ["ladder L3"] and not advice["on_file"]["expired"]
    kit("used", "L3", "--on", "2026-06-03")
    main(["advise", str(file), "--records", kit.file, "--on", "2026-06-04", "--format", "json"])
    later = json.loads(capsys.readouterr().out)
    assert any("inspection" in gone for gone in later["on_file"]["expired"])
    assert "ladder L3.examined and passed" not in {f["id"] for f in later["facts"]}
    pinned = file.read_text("utf-8").replace("L3}", f'L3, as of: "{advice["on_file"]["as_of"]}"}}')
    file.write_text(pinned, "utf-8")
    main(["advise", str(file), "--records", kit.file, "--on", "2026-06-02", "--format", "json"])
    again = json.loads(capsys.readouterr().out)
    assert again["decisions"] == advice["decisions"] and again["facts"] == advice["facts"]


def test_a_card_is_judged_by_the_built_in_rules_also_under_local_guidance(kit, tmp_path, capsys):
    """What local guidance lays down of a plan speaks of no piece of kit, and its verdicts are its
    own, beside the plan's.
    """
    add_ladder(kit)
    kit("examine", "L3", "--on", "2026-06-01", *EXAMINER, typed=SOUND)
    trip, own = tmp_path / "trip.yaml", tmp_path / "own.yaml"
    trip.write_text(
        "based on: cases/group/two-leaders-sound.yaml\nwithout: [ladder main]\n"
        "with: {ladder: L3}\n",
        "utf-8",
    )
    own.write_text(
        "local guidance: Our own\nissued by: A centre (invented)\ndate: 2026-03-01\n"
        "facts: {leader: {authorised depth: 12 m}}\ntopic: Rules of our own\nabout: kit\n"
        "rules:\n  - id: local.trick\n    title: A rule of our own\n    for: {l: ladder}\n"
        "    if: {l.length: {at least: 1 m}}\n    then: {verdict: {on: l, give: retire}}\n"
        "    because: The centre says so.\n    source: local-guidance\n"
        "    status: read in the source\n    authority: local rule\n",
        "utf-8",
    )
    options = ["--records", kit.file, "--on", "2026-06-02", "--format", "json"]
    for more in ([], ["--local", str(own)]):
        assert main(["advise", str(trip), *options, *more]) in (0, 3)
        facts = {f["id"]: f for f in json.loads(capsys.readouterr().out)["facts"]}
        assert facts["ladder L3.examined and passed"]["value"] == "yes", more


def test_a_case_with_a_card_that_is_not_there_says_where(kit, tmp_path, capsys):
    file = tmp_path / "trip.yaml"
    file.write_text("with: {ladder: L8}\n", "utf-8")
    assert main(["advise", str(file), "--records", kit.file]) == 2
    assert "trip.yaml:1:16" in capsys.readouterr().err


def test_places_and_practice_come_from_a_case(kit, capsys):
    case = "cases/group/two-leaders-sound.yaml"
    code, said = kit("add", "shaft", "--from", case, command="place")
    assert code == 0 and "pitch.depth" in said and "anchor" in said and "moves" not in said
    code, said = kit("add", "usual", "--from", case, command="practice")
    assert code == 0 and "lifeline.way" in said and "depth" not in said


@pytest.mark.parametrize(
    "used, spacing", [("left middle", "0.45 m"), ("middle right", "0.8 m"), ("left right", ""),
                      ("left middle right", "")],
)  # fmt: skip
def test_how_far_two_anchors_are_apart_counts_for_the_two_that_are_used(
    kit, tmp_path, capsys, used, spacing
):
    code, said = kit("add", "shaft", "--fact", "left to middle=0.45 m", "--fact",
                     "anchor right to anchor middle=0.8 m", "--on", "2026-01-05",
                     command="place")  # fmt: skip
    assert code == 0 and "middle to right 0.8 m apart" in " ".join(said.split())
    assert "left to middle: 0.45 m apart" in kit("show", "shaft", command="place")[1]
    file = tmp_path / "trip.yaml"
    given = {f"anchor {name}": {"kind": "resin bolt"} for name in ("left", "middle", "right")}
    for name in used.split():
        given[f"anchor {name}"]["in lifeline"] = "yes"
    file.write_text(yaml.safe_dump({"with": {"place": "shaft"}, "given": given}), "utf-8")
    main(["advise", str(file), "--records", kit.file, "--on", "2026-01-06", "--format", "json"])
    facts = {f["id"]: f["value"] for f in json.loads(capsys.readouterr().out)["facts"]}
    assert facts.get("pitch head.leg spacing", "") == spacing


def test_a_fact_with_to_in_its_name_is_no_distance(kit):
    code, said = kit("add", "shaft", "--fact", "hours to help=2 h", command="place")
    assert code == 0 and "site.hours to help 2 h" in said and "apart" not in said


def test_a_distance_that_is_none_is_refused(kit):
    code, said = kit("add", "shaft", "--fact", "left to right=far", command="place")
    assert code == 2 and "left to right" in said and "m" in said


def test_lent_and_back_are_noted_with_whom_and_how(kit):
    add_ladder(kit)
    code, said = kit("lend", "L3", "--to", "a club", "--on", "2026-06-02", "--by", "ab")
    assert code == 0 and "lent to others; to: a club (AB)" in said
    code, said = kit("back", "L3", "wet", "--on", "2026-06-09")
    assert code == 0 and "came back from those it was lent to" in said and "came back wet" in said
    said = kit("show", "L3", "--on", "2026-06-10")[1]
    assert "lent out: yes" in said and "ladder dry: no" in said


def test_use_is_noted_with_trip_and_people(kit):
    add_ladder(kit)
    code, said = kit("used", "L3", "muddy", "--trip", "the shaft", "--people", "9",
                     "--on", "2026-06-02")  # fmt: skip
    assert code == 0 and "used; trip: the shaft; people: 9" in said and "came back muddy" in said


@pytest.mark.parametrize(
    "arguments, words",
    [
        (("note", "L3", "examined"), "'kit examine' notes that"),
        (("back", "L3", "retired"), "'kit retire' notes that"),
        (("used", "L3", "--people", "-1"), "not below nought"),
        (("used", "L3", "--on", "March 2026"), "whole month"),
        (("used", "L3", "--on", "2025-12-31"), "begins on 2026-01-05"),
        (("examine", "L3"), "your initials"),
        (("add", "l3", "--type", "ladder"), "would be taken for the card 'L3'"),
        (("add", "L3?", "--type", "ladder"), "a question mark"),
    ],
)
def test_what_cannot_be_noted_is_one_sentence_and_keeps_nothing(kit, arguments, words):
    add_ladder(kit)
    code, said = kit(*arguments)
    assert code == 2 and words in said and len(said.strip().splitlines()) == 1
    assert kept_of(kit, "L3") == 1


def test_due_takes_the_day_by_which(kit):
    add_ladder(kit)
    kit("examine", "L3", "--on", "2026-06-01", *EXAMINER, typed=SOUND)
    assert "L3: ladder" not in kit("due", "--by", "30 November 2026", "--on", "2026-06-02")[1]
    assert "L3: ladder" in kit("due", "--by", "1 December 2026", "--on", "2026-06-02")[1]


def test_records_that_are_not_whole_are_read_with_a_word_and_clear_nothing(kit, tmp_path, capsys):
    add_ladder(kit)
    kit("used", "L3", "fall held", "--on", "2026-06-02")
    with closing(sqlite3.connect(kit.file)) as db:
        db.execute("DROP TRIGGER entries_are_kept")
        db.execute("DELETE FROM entries WHERE what = 'fall held'")
        db.commit()
    for arguments in (("show", "L3"), ("history", "L3"), ("list",), ("due",)):
        code, said = kit(*arguments)
        assert code == 0 and "L3" in said and "entry 3 is not as it was written" in said
    code, said = kit("check", command="records")
    assert code == 2 and "entry 3 is not" in said
    file = tmp_path / "trip.yaml"
    file.write_text("with: {ladder: L3}\n", "utf-8")
    assert main(["advise", str(file), "--records", kit.file]) == 2
    assert "entry 3 is not" in capsys.readouterr().err
