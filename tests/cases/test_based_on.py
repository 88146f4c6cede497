"""What a case takes over from those it is based on, and that no shipped case says again what its
bases say.
"""

from functools import cache

import pytest
from depth import not_quick

from advisor.advise import Advisor
from advisor.load.based_on import laid_out
from advisor.load.case import read_case
from advisor.load.folder import files_of, find_folder
from advisor.load.tree import Document, read_document

FOLDER = find_folder("cases")
FILES = files_of(FOLDER)
GROUND = """case: Ground
teaches: Nothing.
about: [plan]
given:
  pitch: {depth: 14 m, water: dry}
  anchor left bolt: {kind: resin bolt, moves: no}
  anchor right bolt: {kind: resin bolt}
expect: {stops: []}
"""


@cache
def base():
    return Advisor().base


@pytest.fixture
def read(tmp_path):
    """Write files of cases, NAME=TEXT, and read the last; settings go over it."""

    def write(*settings, **files):
        for name, text in {"ground": GROUND, **files}.items():
            path = tmp_path / f"{name}.yaml"
            path.write_text(text, encoding="utf-8")
        return read_case(path, base(), settings)

    return write


def told(case):
    return {f"{entity}.{key.partition('.')[2]}": f.text for (entity, key), f in case.facts.items()}


def test_facts_and_about_are_taken_over_and_nothing_else(read):
    case = read(case="based on: ground.yaml\n")
    assert told(case) == {
        "pitch.depth": "14 m",
        "pitch.water": "dry",
        "anchor left bolt.kind": "resin bolt",
        "anchor left bolt.moves": "no",
        "anchor right bolt.kind": "resin bolt",
    }
    assert (case.title, case.teaches, case.expect, case.about) == ("", "", {}, ("plan",))


def test_what_a_case_gives_replaces_and_without_takes_away(read):
    case = read(
        case="based on: ground.yaml\nabout: [kit]\nwithout: [anchor right bolt, pitch.water]\n"
        "given:\n  pitch: {depth: 9 m}\n  anchor left bolt: {moves: unknown}\n"
    )
    assert told(case) == {"pitch.depth": "9 m", "anchor left bolt.kind": "resin bolt"}
    assert case.names["anchor"] == {"anchor left bolt"} and case.about == ("kit",)


def test_a_thing_taken_away_and_given_again_is_begun_anew(read):
    case = read(
        case="based on: ground.yaml\nwithout: [anchor left bolt]\n"
        "given:\n  anchor left bolt: {moves: yes}\n"
    )
    assert "anchor left bolt.kind" not in told(case)
    assert told(case)["anchor left bolt.moves"] == "yes"


def test_a_later_base_lies_over_one_before_and_settings_over_all(read):
    over = "given:\n  pitch: {depth: 20 m}\n"
    files = {"over": over, "case": "based on: [ground.yaml, over.yaml]\n"}
    assert told(read(**files))["pitch.depth"] == "20 m"
    turned = {"over": over, "case": "based on: [over.yaml, ground.yaml]\n"}
    assert told(read(**turned))["pitch.depth"] == "14 m"
    case = read("pitch.depth=5 m", **files)
    assert told(case)["pitch.depth"] == "5 m" and told(case)["pitch.water"] == "dry"


def test_a_fact_is_said_by_the_file_and_line_where_it_stands(read, tmp_path):
    case = read(
        "pitch.lip=clean",
        middle="based on: ground.yaml\ngiven:\n  pitch: {depth: 9 m}\n",
        case="based on: middle.yaml\ngiven:\n  anchor left bolt: {moves: yes}\n",
    )
    assert {key: fact.said_by for (_, key), fact in case.facts.items() if key != "anchor.kind"} == {
        "pitch.depth": f"case file {tmp_path / 'middle.yaml'}:3",
        "pitch.water": f"case file {tmp_path / 'ground.yaml'}:5",
        "anchor.moves": "case file",
        "pitch.lip": "command line",
    }


def test_a_case_of_ones_own_is_based_on_one_that_comes_with_the_program(tmp_path, monkeypatch):
    (tmp_path / "mine.yaml").write_text(
        "based on: cases/accidents/fire-at-the-collar-twin.yaml\ngiven:\n  pitch: {depth: 7 m}\n"
    )
    monkeypatch.chdir(tmp_path)
    case = read_case("mine.yaml", base())
    assert case.facts["pitch", "pitch.depth"].text == "7 m" and len(case.facts) > 250
    assert case.facts["pitch", "pitch.hang"].said_by.startswith("case file cases/plan/arrival-left")


@not_quick
def test_no_case_gives_again_what_it_takes_over():
    again = []
    derived = [path for path in FILES if "based on" in read_document(path).data]
    for path in derived:
        data = dict(read_document(path).data)
        given = data.pop("given", {})
        below = laid_out(Document(str(path), data)).things
        again += [
            f"{path.relative_to(FOLDER)}: {thing}.{name}"
            for thing, facts in given.items()
            for name, raw in facts.items()
            if thing in below and name in below[thing].facts and below[thing].facts[name].raw == raw
        ]
    assert len(derived) > 100 and again == []


def test_a_twin_is_based_on_its_accident():
    for path in FILES:
        data = read_document(path).data
        if "twin of" in data:
            bases = data["based on"]
            assert data["twin of"] in ([bases] if isinstance(bases, str) else bases), path
