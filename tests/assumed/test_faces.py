"""What is assumed is marked wherever it is told, and told apart from what is known."""

import io
import json
import re
import zipfile

import pytest
from depth import not_quick
from jsonschema import Draft202012Validator

from advisor.advise import Advisor
from advisor.cli import main
from advisor.load.schema import schema

pytestmark = not_quick
GIVEN = """case: Looking ahead
about: [plan]
based on: cases/group/two-leaders-sound.yaml
without: [pitch.depth, ladder main.length]
"""
AHEAD = GIVEN + "assumed:\n  pitch: {depth: 9 m}\n  ladder main: {length: 11 m}\n"
MARK = "ladder main length 11 m; pitch depth 9 m: not known; they clear nothing."


@pytest.fixture
def case(tmp_path):
    file = tmp_path / "ahead.yaml"
    file.write_text(AHEAD, "utf-8")
    return str(file)


def told(capsys, *command) -> str:
    main(list(command))
    return " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("option", [(), ("--all",), ("--format", "markdown")])
def test_every_face_names_what_is_assumed(case, capsys, option):
    said = told(capsys, "advise", case, *option)
    assert "assumed" in said.lower() and MARK in said


def test_the_one_screen_tells_it_below_the_verdict_however_narrow(case, capsys, monkeypatch):
    for columns in ("40", "60", "80"):
        monkeypatch.setenv("COLUMNS", columns)
        said = told(capsys, "advise", case)
        assert MARK in said and said.index("ASSUMED") < said.index("THE RIG")


def test_nothing_assumed_is_called_right(tmp_path, capsys):
    file = tmp_path / "locks.yaml"
    text = (
        "based on: cases/group/two-leaders-sound.yaml\nwithout: [lifeline.locks off hands-free]\n"
    )
    file.write_text(text, "utf-8")
    assume = ("--assume", "lifeline.locks off hands-free=yes", "--at", "home")
    assert "Line locks off" in told(capsys, "advise", "cases/group/two-leaders-sound.yaml")
    said = told(capsys, "advise", str(file), *assume)
    assert "As told" in said and "Line locks off" not in said


@pytest.mark.parametrize("form", ["txt", "md", "html", "docx", "json"])
def test_the_papers_mark_it_on_the_first_page_and_in_each_list(case, tmp_path, form):
    out = tmp_path / f"papers.{form}"
    assert main(["export", case, "-o", str(out), "--paper", "all"]) == 0
    data = out.read_bytes()
    if form == "docx":
        data = zipfile.ZipFile(io.BytesIO(data)).read("word/document.xml")
    text = " ".join(re.sub(r"<[^>]*>", " ", data.decode("utf-8")).split())
    if form == "json":
        assert json.loads(data)["advice"]["assumed"] == ["ladder main.length", "pitch.depth"]
    else:
        assert f"Assumed, to look ahead: {MARK}" in text
        assert text.index(MARK) < len(text) / 4
        assert "9 m (assumed)" in text


def test_the_sketch_the_comparison_and_the_rehearsal_mark_it(case, capsys, monkeypatch):
    assert MARK in told(capsys, "sketch", case)
    said = told(capsys, "compare", "cases/group/two-leaders-sound.yaml", case)
    assert f"Assumed after: {MARK}" in said and "Assumed before" not in said
    found = json.loads(told(capsys, "compare", case, "--set", "plan.trip kind=led",
                            "--format", "json"))  # fmt: skip
    assert found["assumed_before"] == found["assumed_after"] == MARK.partition(":")[0]
    monkeypatch.setattr("sys.stdin", io.StringIO("\n" * 12))
    assert "depth = 9 m (assumed)" in told(capsys, "drill", case)


def test_reasons_say_that_it_is_only_assumed(case, capsys):
    said = told(capsys, "advise", case, "--why", "pitch.depth")
    assert "9 m, only assumed, not known" in said


def test_searches_tell_what_is_known_beside_it(case, capsys):
    said = told(capsys, "advise", case, "--how-sure", "method")
    known, _, ahead = said.partition("With what is assumed taken as known")
    assert "On what is known" in known and "Standing: provisional." in known
    assert "Standing: firm." in ahead


def test_json_names_it_and_keeps_to_its_form(case, capsys):
    advice = json.loads(told(capsys, "advise", case, "--format", "json"))
    assert advice["assumed"] == ["ladder main.length", "pitch.depth"]
    assert {f["id"] for f in advice["facts"] if f["said_by"] == "assumed"} == set(advice["assumed"])
    Draft202012Validator(schema("advice")).validate(advice)


def test_it_is_still_asked_for(case):
    program = Advisor()
    advice = program.advise(program.read(case))
    assert {"ladder main.length", "pitch.depth"} <= {q.fact for q in advice.open_questions}
    assert advice.decisions["go"].choice == "not yet"


def test_the_numbers_look_ahead(case, capsys):
    assert "depth 9 m" in told(capsys, "advise", case)


def test_an_option_assumes_as_a_file_does(tmp_path, case, capsys):
    file = tmp_path / "plain.yaml"
    file.write_text(GIVEN, "utf-8")
    by_file = told(capsys, "advise", case, "--format", "json")
    options = ["--assume", "pitch.depth=9 m", "--assume", "ladder main.length=11 m"]
    assert told(capsys, "advise", str(file), *options, "--format", "json") == by_file
