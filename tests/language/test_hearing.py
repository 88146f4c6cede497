"""The ways of saying of rules/hearing: each is heard in its example; and what is never told."""

from __future__ import annotations

import re

import pytest
from talk import Outcome, context, outside, the_base

from advisor.language.forms import forms_of
from advisor.language.mend import distance, lexicon_of
from advisor.language.parts import Intent, Said, Unclear
from advisor.language.scene import Scene
from advisor.language.understand import understand

FORMS = the_base().hearing["forms"]


@pytest.mark.parametrize("entry", FORMS, ids=lambda entry: entry["example"])
def test_an_example_holds_a_way_of_saying_of_its_entry(entry):
    scene = Scene(entry["example"], context())
    scene.supposing = True
    assert any(f.form.entry == entry for f in forms_of(scene.base).every(scene.tokens))


@pytest.mark.parametrize("entry", FORMS, ids=lambda entry: entry["example"])
def test_an_example_leaves_nothing_without_a_word(entry):
    assert understand(entry["example"], context()).parts


@pytest.mark.parametrize("entry", FORMS, ids=lambda entry: entry["example"])
def test_what_is_meant_is_of_the_vocabulary(entry):
    vocabulary = the_base().vocabulary
    for means in entry.get("means", ()):
        left, _, value = means.removeprefix("else ").partition(" = ")
        if left.startswith(("ask ", "fault")) or not value:
            continue
        kind, _, name = re.sub("^@(?:each |first )?", "", left).rpartition(".")
        attribute = vocabulary.attribute(f"{vocabulary.split(kind)[0].name}.{name}")
        assert attribute, means
        if attribute.is_choice and "{" not in value:
            assert {v.strip("? ") for v in value.split("|")} <= {*attribute.values, "unknown"}


def test_lines_of_outside_hands_are_heard():
    found = [Outcome(line, settings) for _, settings, line in outside()]
    assert sum(o.fully for o in found) >= 0.95 * len(found)
    assert [(o.typed, o.wrong) for o in found if o.wrong] == []


@pytest.mark.parametrize(
    "one, other, far",
    [
        ("bolt", "blot", 0),
        ("hanger", "hangr", 1),
        ("hanger", "hangar", 2),
        ("helmet", "helmer", 3),
        ("rope", "rung", 4),
    ],
)
def test_how_far_off_a_word_is(one, other, far):
    assert distance(one, other) == distance(other, one) == far


def test_a_plain_word_is_not_bent_into_one_of_the_trade():
    scene = Scene("", context())
    lexicon = lexicon_of(scene.base, scene.index)
    for word in ("stories", "sprang", "house", "market", "stain"):
        scene.take(f"the {word} is here")
        assert scene.tokens[1].text == word or scene.tokens[1].stem in lexicon.stems


@pytest.mark.parametrize(
    "line",
    [
        "is 20 m of ladder enough for a 60 ft pitch",
        "may i let a novice belay off the left bolt",
        "how long to get 8 novices down a 40 ft ladder",
        "what happens if the left bolt is loose",
        "would you go if it were 25 metres",
        "can two of us haul 95 kg",
    ],
)
def test_nothing_in_a_question_is_told(line):
    assert not [p for p in understand(line, context()).parts if isinstance(p, Said)]


@pytest.mark.parametrize(
    "line",
    [
        "a lad fell off the ladder last year",
        "in case someone falls off",
        "suppose she is hanging on the rope",
        "the pitch is not flooding",
    ],
)
def test_no_incident_is_told_of_what_is_past_supposed_or_denied(line):
    assert not [
        p for p in understand(line, context()).parts if isinstance(p, Said) and "incident" in p.key
    ]


def test_every_word_with_a_meaning_is_told_or_said_to_be_left_over():
    line = "ladder 4 is fifteen metres and the purple widget hums by the gate"
    parts = understand(line, context()).parts
    left = " ".join(p.words for p in parts if isinstance(p, Unclear))
    assert all(word in left for word in ("purple", "widget", "hums"))


def test_one_thing_is_asked_about_at_a_time():
    parts = understand("munter, stiff, 30 m and 12 kg", context("two bolts")).parts
    assert sum(bool(p.readings) for p in parts if isinstance(p, Unclear)) <= 1


def test_what_only_hints_at_an_incident_yields_to_what_tells_of_one():
    parts = understand("she's stuck half way, foot jammed in the ladder", context()).parts
    told = [p.raw for p in parts if isinstance(p, Said) and p.key == "incident.what"]
    assert told == ["leg trapped in the ladder"]
    assert not [p for p in parts if isinstance(p, Intent)]
