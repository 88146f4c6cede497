"""Conversations through a pipe, as text and as JSON: a turn a line, one object a turn, exit codes,
odd input.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest
from depth import not_quick
from jsonschema import Draft202012Validator

from advisor.load.schema import schema

TURN, ADVICE = Draft202012Validator(schema("turn")), Draft202012Validator(schema("advice"))


pytestmark = not_quick  # each is a process of its own


def objects(process):
    found = [json.loads(line) for line in process.stdout.decode("utf-8").splitlines()]
    for turn in found:
        TURN.validate(turn)
        if "advice" in turn:
            ADVICE.validate(turn["advice"])
    return found


def test_text_says_heard_and_ends_with_0(piped):
    done = piped("14 m shaft, dripping\nqwe rty\n")
    text = done.stdout.decode("utf-8")
    assert (
        done.returncode == 0
        and "Heard: pitch depth: 14 m; pitch water: drips" in text
        and 'Not understood: "qwe rty"' in text
        and not done.stderr
    )
    assert "\x1b" not in text


def test_json_gives_one_valid_object_a_turn(piped):
    lines = [
        "14 m shaft, dripping",
        "load cases/plan/arrival-left.yaml",
        "anchor a kind: spike?",
        "suppose the water is a stream",
        "why",
        "foot jammed between the rungs",
        "qwe rty",
        "undo",
        "load nothing.yaml",
        "is it going to rain",
        "skip",
        "quit",
    ]
    turns = objects(piped("\n".join(lines) + "\n", "--format", "json"))
    assert [t["turn"] for t in turns] == list(range(1, len(lines) + 1))
    assert turns[0]["heard"] == [
        {"fact": "pitch.depth", "value": "14 m", "unit": "m", "doubtful": False},
        {"fact": "pitch.water", "value": "drips", "unit": "", "doubtful": False},
    ]
    assert (
        turns[1]["intent"] == ["load"]
        and turns[2]["heard"][0]["doubtful"]
        and turns[3]["intent"] == ["what if"]
    )
    assert (
        turns[3]["advice"] == turns[2]["advice"]
        and turns[6]["not_understood"][0]["words"] == "qwe rty"
        and turns[-1]["intent"] == ["quit"]
    )


def test_the_exit_code_is_3_while_the_last_advice_has_a_stop(piped):
    assert piped("pitch water: stream\n").returncode == 3
    assert piped("pitch water: stream\npitch water: dry\n").returncode == 0


@pytest.mark.parametrize(
    "text, arguments",
    [("", ()), ("\n\n", ()), ("", ("-",)), ("14 m deep", ("-",)), ("14 m deep", ("--plain",))],
)
def test_an_end_of_input_anywhere_is_a_plain_end(piped, text, arguments):
    done = piped(text, *arguments)
    assert (
        done.returncode == 0
        and not done.stderr
        and ("Heard" in done.stdout.decode()) == bool(text.strip())
    )


def test_a_case_file_to_begin_with(piped):
    done = piped("", "cases/plan/arrival-left.yaml")
    assert done.returncode == 0 and b"Loaded " in done.stdout
    assert len(objects(piped("", "cases/plan/arrival-left.yaml", "--format", "json"))) == 1
    missing = piped("", "none.yaml")
    assert (
        missing.returncode == 2
        and b"none.yaml" in missing.stderr
        and b"Traceback" not in missing.stderr
    )


def test_a_line_of_a_million_characters(piped):
    done = piped("14 m deep\n" + "wibble " * 150_000 + "\npitch hang: free\n", "--format", "json")
    turns = objects(done)
    assert (
        len(turns) == 3
        and not turns[1]["heard"]
        and turns[1]["not_understood"]
        and turns[2]["heard"][0]["value"] == "free"
    )


def test_bytes_that_are_no_text_and_control_characters(piped):
    done = piped(
        b"\xff\xfe 14 m deep\n\x00\x07\x1b[2J\n\x0b\x0c\x1c pitch hang: free\nanchor \x1b[31m side:"
        b" left\n"
    )
    assert (
        done.returncode == 0
        and not done.stderr
        and b"\x1b" not in done.stdout
        and b"\x07" not in done.stdout
        and b"Heard: pitch depth: 14 m" in done.stdout
    )


def test_a_pipe_keeps_no_session_unless_it_goes_on_with_one(piped, data_folder):
    piped("14 m deep\n")
    assert not data_folder.exists()
    missing = piped("", "--resume")
    assert missing.returncode == 2 and b"no session 'last' is kept" in missing.stderr


def test_a_damaged_session_is_refused_in_one_line(piped, data_folder):
    (data_folder / "sessions").mkdir(parents=True)
    file = data_folder / "sessions" / "a.json"
    file.write_text("{", "utf-8")
    done = piped("", "--resume", "a")
    assert (
        done.returncode == 2
        and done.stderr.count(b"\n") == 1
        and b"damaged" in done.stderr
        and file.read_text("utf-8") == "{"
    )
    assert piped("", "--sessions").stdout == b"a\n"


@pytest.mark.skipif(sys.platform == "win32", reason="needs a shell")
@pytest.mark.parametrize("redirection, code", [("<&-", 0), ("< /dev/null", 0)])
def test_an_input_that_cannot_be_read(redirection, code):
    done = subprocess.run(
        f"'{sys.executable}' -m advisor chat {redirection}",
        shell=True,
        capture_output=True,
        text=True,
        cwd=Path(__file__).parents[2],
        timeout=300,
    )
    assert (
        done.returncode == code
        and done.stderr.count("\n") == (code == 2)
        and "internal" not in done.stderr
    )
