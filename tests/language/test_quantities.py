"""Spoken quantities: every way in quantities.yaml, answered to the question that asks for it, and
checked against pint where it can read them.
"""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from talk import context, split, the_base, value_of

from advisor.language.understand import Said, understand

WAYS = [
    (group["fact"], said, str(meant))
    for group in yaml.safe_load((Path(__file__).parent / "quantities.yaml").read_text("utf-8"))
    for said, meant in group["say"].items()
]


def test_there_are_enough_ways():
    assert len(WAYS) >= 150


@pytest.mark.parametrize("fact, said, meant", WAYS, ids=[f"{f}: {s}" for f, s, _ in WAYS])
def test_a_way_to_say_a_quantity(fact, said, meant):
    base = the_base()
    entity, key = split(base, fact)
    parts = understand(said, context(asked=fact)).parts
    facts = {(p.entity, p.key): p.raw for p in parts if isinstance(p, Said)}
    assert list(facts) == [(entity, key)], parts
    assert value_of(base, entity, key, facts[entity, key], {}) == value_of(
        base, entity, key, meant, {}
    )


@pytest.mark.parametrize(
    "said",
    [
        "several",
        "a few",
        "loads",
        "12 14",
        "sqrt 2",
        "1e9 m",
        "12 furlongs",
        "half past six",
        "--3",
        "5:61",
    ],
)
def test_what_is_no_quantity_is_never_taken(said):
    for fact in ("pitch.depth", "group.size", "plan.call-out time"):
        assert not [
            p
            for p in understand(said, context(asked=fact)).parts
            if isinstance(p, Said) and p.raw != "unknown"
        ], (fact, said)


@pytest.mark.parametrize(
    "number, unit, spoken",
    [
        (25, "foot", "25 foot"),
        (6.75, "foot", "six foot nine"),
        (158, "pound", "eleven stone four"),
        (20, "yard", "20 yards"),
        (2.5, "metre", "two and a half metres"),
    ],
)
def test_conversions_agree_with_a_general_library(number, unit, spoken):
    """pint is the outside check of what the words come to in SI."""
    import pint

    mass = unit == "pound"
    fact = "group.heaviest" if mass else "pitch.depth"
    base = the_base()
    part = understand(spoken, context(asked=fact)).parts[0]
    low, _ = value_of(base, part.entity, part.key, part.raw, {})[1]
    expected = pint.UnitRegistry().Quantity(number, unit).to(
        "gram" if mass else "metre"
    ).magnitude * (1 if mass else 10000)
    assert low == pytest.approx(expected, abs=1)
