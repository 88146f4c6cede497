"""Signs of trouble and topics of questions: each is found in its example, each topic names rules
that there are, and nothing practised, planned, asked or remembered rings.
"""

from __future__ import annotations

import pytest
from talk import context, the_base

from advisor.language.parts import Said
from advisor.language.scene import Scene
from advisor.language.signs import signs_of
from advisor.language.understand import understand

SIGNS, TOPICS = (the_base().hearing[part] for part in ("signs", "topics"))
WHAT = "incident.what"


def seen(line, part="signs"):
    scene = Scene(line, context())
    return signs_of(scene.base, part).seen(scene.tokens)


def happened(line):
    parts = understand(line, context()).parts
    return [p.raw for p in parts if isinstance(p, Said) and p.key == WHAT]


@pytest.mark.parametrize("entry", SIGNS, ids=lambda entry: entry["example"])
def test_a_sign_is_seen_in_its_example(entry):
    assert seen(entry["example"]).sign.entry == entry


@pytest.mark.parametrize("entry", TOPICS, ids=lambda entry: entry["example"])
def test_a_topic_is_seen_in_its_example_and_names_rules(entry):
    assert seen(entry["example"], "topics").sign.entry == entry
    assert all(the_base().rule(name) for name in entry["rules"])


@pytest.mark.parametrize(
    "line",
    [
        "we practised a lad fainting on the rope",
        "last year a girl was paralysed by fear on the ladder",
        "suppose his batteries die half way up",
        "remember a lad who fell off here",
        "why not climb with no lifeline on the ladder",
        "three broken wires near the top eye",
        "can't hear anyone from the bottom",
        "it fell off the bench onto the carpet",
        "the knot in the sling wont come out",
        "one knackered rope on the shelf, half way up the cupboard",
    ],
)
def test_what_sounds_like_it_does_not_ring(line):
    assert happened(line) == []


def test_words_of_a_sign_are_taken_for_nothing_else():
    parts = understand("a massive block just fell off the wall next to us", context()).parts
    assert [p.entity for p in parts if isinstance(p, Said)] == ["incident"]


def test_of_two_signs_the_one_that_covers_more_counts():
    assert happened("wet through and shaking uncontrollably at the bottom") == ["cold casualty"]
