"""What is assumed is marked wherever it is told, and told apart from what is known."""

import json

import pytest
from jsonschema import Draft202012Validator

from advisor.advise import Advisor
from advisor.cli import main
from advisor.load.schema import schema

GIVEN = """case: Looking ahead
about: [plan]
based on: cases/group/two-leaders-sound.yaml
without: [pitch.depth, ladder main.length]
"""
AHEAD = GIVEN + "assumed:\n  pitch: {depth: 9 m}\n  ladder main: {length: 11 m}\n"
TOLD = ("ladder main length 11 m", "pitch depth 9 m")


@pytest.fixture
def case(tmp_path):
    file = tmp_path / "ahead.yaml"
    file.write_text(AHEAD, "utf-8")
    return str(file)


@pytest.mark.parametrize("option", [(), ("--all",), ("--format", "markdown")])
def test_every_face_names_what_is_assumed(case, capsys, option):
    main(["advise", case, *option])
    said = " ".join(capsys.readouterr().out.split())
    assert "assumed" in said.lower() and "it clears nothing" in said
    assert all(words in said for words in TOLD)


def test_json_names_it_and_keeps_to_its_form(case, capsys):
    main(["advise", case, "--format", "json"])
    advice = json.loads(capsys.readouterr().out)
    assert advice["assumed"] == ["ladder main.length", "pitch.depth"]
    assert {f["id"] for f in advice["facts"] if f["said_by"] == "assumed"} == set(advice["assumed"])
    Draft202012Validator(schema("advice")).validate(advice)


def test_it_is_still_asked_for(case):
    program = Advisor()
    advice = program.advise(program.read(case))
    assert {"ladder main.length", "pitch.depth"} <= {q.fact for q in advice.open_questions}
    assert advice.decisions["go"].choice == "not yet"


def test_the_numbers_look_ahead(case, capsys):
    main(["advise", case])
    assert "depth 9 m" in capsys.readouterr().out


def test_an_option_assumes_as_a_file_does(tmp_path, case, capsys):
    file = tmp_path / "plain.yaml"
    file.write_text(GIVEN, "utf-8")
    main(["advise", case, "--format", "json"])
    by_file = json.loads(capsys.readouterr().out)
    options = ["--assume", "pitch.depth=9 m", "--assume", "ladder main.length=11 m"]
    main(["advise", str(file), *options, "--format", "json"])
    assert json.loads(capsys.readouterr().out) == by_file


def test_what_is_given_cannot_be_assumed_too(tmp_path, capsys):
    file = tmp_path / "both.yaml"
    file.write_text("given:\n  pitch: {depth: 8 m}\nassumed:\n  pitch: {depth: 9 m}\n", "utf-8")
    assert main(["advise", str(file)]) == 2
    said = capsys.readouterr().err
    assert "both.yaml:4:11" in said and "'pitch.depth' is given and assumed" in said
    file.write_text("given:\n  pitch: {depth: 8 m}\n", "utf-8")
    assert main(["advise", str(file), "--assume", "pitch.depth=9 m"]) == 2
    assert "pitch.depth is given as 8 m" in capsys.readouterr().err
