"""Names and values that look alike are one, and names that could be taken for another
are refused.
"""

import json

import pytest
from corpus import GOOD
from depth import not_quick
from in_process import loaded, places, run

from advisor.model.advice import Number, Span

FINDING = (
    b"given:\n  ladder main: {length: 10 m}\n  ladder next: {length: 10 m}\n  finding needles:"
    b" {item: %s, part: side wire, what: broken wire, count: 1}\n"
)


def verdicts(item: bytes) -> dict:
    code, out, error = run(["advise", "-", "--format", "json"], FINDING % item)
    assert code in (0, 3), error
    return {i["id"]: i["verdict"] for i in json.loads(out)["items"]}


def test_a_thing_named_twice_in_a_list_is_still_that_thing():
    once = verdicts(b"ladder main")
    assert once["ladder main"] == "retire" != once["ladder next"]
    assert (
        verdicts(b"[ladder main, ladder main]") == once
        and verdicts(b"[ladder main, ladder main, ladder main]") == once
    )
    assert verdicts(b"'ladder  main '") == once


@pytest.mark.parametrize(
    "text",
    [
        "given: {'pitch ': {water: stream}, pitch: {depth: 9 m}}\n",
        "given: {anchor  x: {moves: yes}, anchor x: {moves: no}}\n",
    ],
)
def test_other_blanks_are_no_other_thing(text):
    code, out, error = run(["advise", "-"], text.encode())
    assert (code, out) == (2, "") and "stands twice" in places(error, "standard input")[0][2]


@not_quick
def test_blanks_around_a_name_are_left_out():
    first, second = (
        run(
            ["advise", "-", "--format", "json", "--set", f"{name}.moves=yes"],
            b"given: {'pitch ': {depth: 9 m}, 'anchor  x ': {kind: resin bolt}}\n",
        )
        for name in ("anchor x", "anchor   x")
    )
    assert first == second and {f["id"] for f in json.loads(first[1])["facts"]} >= {
        "pitch.depth",
        "anchor x.kind",
        "anchor x.moves",
    }


@pytest.mark.parametrize(
    "name", ["ladder main, links", "ladder x?", "anchor \ufeffx", "anchor \ue000x\uffff"]
)
def test_a_name_that_could_be_taken_for_something_else_is_refused(name):
    code, out, error = run(
        [
            "advise",
            "-",
            "--set",
            f"{name}.{'length=9 m' if name.startswith('ladder') else 'moves=no'}",
        ],
        b"given: {pitch: {depth: 9 m}}\n",
    )
    assert (code, out) == (2, "") and "choose plain words" in places(error, "--set")[0][2]


@pytest.mark.parametrize(
    "text, file",
    [
        ('given: {"anchor \\ud83e": {moves: no}}\n', "standard input"),
        ('case: "\\udc00"\ngiven: {pitch: {depth: 9 m}}\n', "standard input"),
    ],
)
def test_half_a_character_is_refused(text, file):
    code, out, error = run(["advise", "-"], text.encode())
    assert (code, out) == (2, "")
    places(error, file)


def test_bytes_that_are_no_text_in_a_setting_are_refused(folder):
    (folder / "case.yaml").write_text(GOOD)
    code, out, error = run(["advise", "case.yaml", "--set", "anchor \udcff.moves=no"])
    assert (code, out) == (2, "") and "UTF-8" in error


def test_the_numbers_shown_are_those_of_the_anchor_chosen_only():
    numbers = [
        Number(
            **dict.fromkeys(("id", "title", "function", "formula", "missing", "because"), ""),
            **dict.fromkeys(("status", "derivation"), ""),
            **dict.fromkeys(("inputs", "named", "sources"), ()),
            text=name,
            result=Span(low=1.0, high=1.0, unit="1", text=name),
            key=True,
            gives=f"anchor {name}.margin",
        )
        for name in ("left", "left.x")
    ]
    assert [number.text for number in numbers if number.serves("left")] == ["left"]


@pytest.mark.parametrize(
    "setting", ["pitch.depth=" + "9" * 5000 + " m", "pitch.depth=" + "9" * 5000, "pitch.depth=² m"]
)
def test_a_number_without_end_is_no_number(folder, setting):
    (folder / "case.yaml").write_text(GOOD)
    code, out, error = run(["advise", "case.yaml", "--set", setting])
    assert (code, out) == (2, "") and len(error) < 300
    places(error, "--set")


def test_a_key_that_is_a_number_is_told_as_it_is_written():
    code, _, error = run(["advise", "-"], b"given: {pitch: {1: 9 m}}\n")
    assert code == 2 and "'1' is not an attribute" in error


def test_an_incident_with_a_kind_is_looked_at_whatever_the_case_says_it_is_about():
    kind = loaded().base.vocabulary.attribute("incident.what").values[0]
    code, out, error = run(
        ["advise", "-", "--format", "json"],
        f"about: [plan]\ngiven: {{pitch: {{depth: 9 m}}, incident: {{what: {kind}}}}}\n".encode(),
    )
    advice = json.loads(out)
    assert advice["about"] == ["plan", "incident"] and advice["response"]["incident"] == kind
