"""Worked-out numbers are said as the trade says them, stated ones as they were stated."""

import pytest

from advisor.facts.rounding import exact, show_worked
from advisor.facts.values import show_value
from advisor.facts.vocabulary import Attribute

SAID = [
    ("m", (140766, 140766), "14.1 m"),
    ("m", (11980, 18140), "1.2 m to 1.8 m"),
    ("m", (120000, 120000), "12 m"),
    ("m", (300, 300), "under 0.1 m"),
    ("m", (0, 0), "0 m"),
    ("N", (1863, 1863), "1.9 kN"),
    ("N", (2041, 2999), "2 kN to 3 kN"),
    ("N", (932, 932), "0.9 kN"),
    ("N", (149, 149), "150 N"),
    ("N", (2000, 10**9), "2 kN to no limit"),
    ("s", (340, 340), "6 min"),
    ("s", (25, 25), "30 s"),
    ("min", (3060, 3060), "51 min"),
    ("deg", (531, 531), "53°"),
    ("kg", (2210, 2210), "2.2 kg"),
    ("ratio", (3220, 3220), "3.2"),
    ("ratio", (514, 514), "0.51"),
    ("count", (4, 4), "4"),
]


@pytest.mark.parametrize("unit, span, words", SAID)
def test_worked_out_numbers(unit, span, words):
    attribute = Attribute("thing", "number", "number", unit, -(10**9), 10**9, derived=True)
    assert show_worked(attribute, *span) == show_value(attribute, span) == words


def test_a_stated_number_stays_as_stated():
    attribute = Attribute("thing", "number", "number", "m", 0, 10**9)
    assert (
        show_value(attribute, (4475, 4475)) == "0.447 m"
        or show_value(attribute, (4475, 4475)) == "0.448 m"
    )
    assert show_value(attribute, (1330, 1330)) == "0.133 m"


@pytest.mark.parametrize(
    "span, words",
    [
        ((-160000, -160000), "16 m too short"),
        ((-15000, -11000), "1.1 m to 1.5 m too short"),
        ((-5000, 3000), "0.5 m too short to 0.3 m to spare"),
        ((-300, -300), "under 0.1 m too short"),
        ((85000, 85000), "8.5 m"),
    ],
)
def test_what_is_missing_is_said_in_words(span, words):
    below = ("too short", "to spare")
    attribute = Attribute(
        "thing", "rest", "number", "m", -(10**9), 10**9, derived=True, below=below
    )
    assert show_worked(attribute, *span) == words and "-" not in words


def test_clock_times_are_said_as_a_clock_says_them():
    attribute = Attribute("thing", "end", "time", "min", 0, 172800, derived=True)
    assert show_worked(attribute, 50760, 50760) == "14:06"


def test_no_worked_out_number_of_the_vocabulary_can_show_a_minus_sign():
    """A derived number that can go below nought has words for it; only temperatures may be cold."""
    from advisor.advise import Advisor

    bare = [
        a.key
        for a in Advisor().base.vocabulary.by_key.values()
        if a.derived and a.type == "number" and a.low < 0 and not a.below and a.unit != "degC"
    ]
    assert bare == []


@pytest.mark.parametrize(
    "value, unit, words", [(50760.0, "s", "50760 s"), (14.07633, "m", "14.076 m")]
)
def test_the_exact_number_has_no_exponent(value, unit, words):
    assert exact(value, unit) == words
