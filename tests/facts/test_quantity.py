"""Ways of writing a quantity, against the general unit library `pint` (its unit definitions are
the outside check).

Each row says how a person writes it, the wanted unit of ours, and what is meant as terms of
(number, pint unit), summed.
"""

from fractions import Fraction

import pint
import pytest
from depth import examples
from hypothesis import given, settings
from hypothesis import strategies as st

from advisor.facts.quantity import NotAQuantity, read_quantity
from advisor.facts.times import read_time, run_on, show_time
from advisor.facts.units import UNITS, from_steps, show

REGISTRY = pint.UnitRegistry(non_int_type=Fraction)
WIDE = (-(10**12), 10**12)
PINT = {
    "m": "metre",
    "kg": "kilogram",
    "N": "newton",
    "s": "second",
    "degC": "delta_degC",
    "deg": "degree",
    "%": "percent",
    "ppm": "ppm",
    "count": "dimensionless",
    "ratio": "dimensionless",
    "m/s": "metre/second",
}

EXACT = [
    ("14 m", "m", [(14, "m")]),
    ("14m", "m", [(14, "m")]),
    ("14", "m", [(14, "m")]),
    (14, "m", [(14, "m")]),
    (14.5, "m", [("14.5", "m")]),
    ("14.5 metres", "m", [("14.5", "m")]),
    ("1 metre", "m", [(1, "m")]),
    ("12 meters", "m", [(12, "m")]),
    ("0.5 m", "m", [("0.5", "m")]),
    ("350 mm", "m", [(350, "mm")]),
    ("35 cm", "m", [(35, "cm")]),
    ("0.2 km", "m", [("0.2", "km")]),
    ("25 ft", "m", [(25, "ft")]),
    ("25ft", "m", [(25, "ft")]),
    ("25 feet", "m", [(25, "ft")]),
    ("1 foot", "m", [(1, "ft")]),
    ("25'", "m", [(25, "ft")]),
    ("6 ft 9 in", "m", [(6, "ft"), (9, "inch")]),
    ("6 ft 9", "m", [(6, "ft"), (9, "inch")]),
    ("6'9\"", "m", [(6, "ft"), (9, "inch")]),
    ("6′ 9″", "m", [(6, "ft"), (9, "inch")]),
    ("9 in", "m", [(9, "inch")]),
    ("10 yards", "m", [(10, "yard")]),
    ("2 m 50 cm", "m", [(2, "m"), (50, "cm")]),
    ("2 m 50", "m", [(2, "m"), (50, "cm")]),
    ("2½ m", "m", [("2.5", "m")]),
    ("2 1/2 m", "m", [("2.5", "m")]),
    ("½ m", "m", [("0.5", "m")]),
    ("3/4 m", "m", [("0.75", "m")]),
    ("1¼ in", "mm", [("1.25", "inch")]),
    ("-0.3 m", "m", [("-0.3", "m")]),
    ("7 mm", "mm", [(7, "mm")]),
    ("7", "mm", [(7, "mm")]),
    ("8.5 mm", "mm", [("8.5", "mm")]),
    ("0.7 cm", "mm", [(7, "mm")]),
    ("1/2 in", "mm", [("0.5", "inch")]),
    ("80 kg", "kg", [(80, "kg")]),
    ("80kg", "kg", [(80, "kg")]),
    ("80 kilos", "kg", [(80, "kg")]),
    ("350 g", "kg", [(350, "gram")]),
    ("11 st 4", "kg", [(11, "stone"), (4, "pound")]),
    ("11 stone 4 lb", "kg", [(11, "stone"), (4, "pound")]),
    ("180 lb", "kg", [(180, "pound")]),
    ("180 pounds", "kg", [(180, "pound")]),
    ("0.1 t", "kg", [(100, "kg")]),
    ("12 kN", "N", [(12, "kilonewton")]),
    ("2.94 kN", "N", [("2.94", "kilonewton")]),
    ("2940 N", "N", [(2940, "newton")]),
    ("300 kgf", "N", [(300, "kgf")]),
    ("500 lbf", "N", [(500, "lbf")]),
    ("22 kn", "N", [(22, "kilonewton")]),
    ("20 min", "min", [(20, "minute")]),
    ("20", "min", [(20, "minute")]),
    ("20 m", "min", [(20, "minute")]),
    ("90 s", "min", [(90, "second")]),
    ("1 h 30 min", "min", [(90, "minute")]),
    ("1 h 30", "min", [(90, "minute")]),
    ("1½ h", "min", [(90, "minute")]),
    ("2 hours", "min", [(120, "minute")]),
    ("5 min 30 s", "min", [(330, "second")]),
    ("3 days", "h", [(3, "day")]),
    ("2 weeks", "day", [(14, "day")]),
    ("6 months", "month", [(6, "month")]),
    ("1 year", "month", [(12, "month")]),
    ("18 months", "year", [("1.5", "year")]),
    ("8 °C", "degC", [(8, "delta_degC")]),
    ("-5 degC", "degC", [(-5, "delta_degC")]),
    ("8", "degC", [(8, "delta_degC")]),
    ("60°", "deg", [(60, "degree")]),
    ("60 degrees", "deg", [(60, "degree")]),
    ("90 deg", "deg", [(90, "degree")]),
    ("15 %", "%", [(15, "percent")]),
    ("15%", "%", [(15, "percent")]),
    ("0.5 percent", "%", [("0.5", "percent")]),
    ("200 ppm", "ppm", [(200, "ppm")]),
    ("9", "count", [(9, "dimensionless")]),
    ("9 people", "count", [(9, "dimensionless")]),
    ("1.5", "ratio", [("1.5", "dimensionless")]),
    ("3 m/min", "m/min", [(3, "m/min")]),
    ("3 metres a minute", "m/min", [(3, "m/min")]),
    ("0.05 m/s", "m/min", [("0.05", "m/s")]),
]


def meant(wanted, terms) -> Fraction:
    """The value in steps, worked out by pint."""
    dimension = UNITS[wanted][0]
    unit = PINT[dimension.si]
    total = sum(
        (
            REGISTRY.Quantity(Fraction(str(number)), unit_name).to(unit)
            for number, unit_name in terms[1:]
        ),
        REGISTRY.Quantity(Fraction(str(terms[0][0])), terms[0][1]).to(unit),
    )
    return Fraction(total.magnitude) * dimension.steps


@pytest.mark.parametrize(
    "text, wanted, terms", EXACT, ids=lambda v: v if isinstance(v, str) else None
)
def test_reads_what_is_meant(text, wanted, terms):
    low, high = read_quantity(text, wanted, WIDE)
    assert low == high
    # Whole steps: never off by more than half a step (0.05 mm, half a gram, half a newton, half a
    # second).
    assert abs(low - meant(wanted, terms)) <= Fraction(1, 2)


@pytest.mark.parametrize("name", sorted(UNITS))
def test_every_unit_is_as_long_as_pint_says(name):
    """Month and year are 30.4375 and 365.25 days on both sides; `pint` calls ten to the minus six
    ppm.
    """
    dimension, scale = UNITS[name]
    theirs = {
        "m": "metre",
        "in": "inch",
        "st": "stone",
        "t": "tonne",
        "degC": "delta_degC",
        "deg": "degree",
        "%": "percent",
        "count": "dimensionless",
        "ratio": "dimensionless",
        "h": "hour",
        "lb": "pound",
        "min": "minute",
        "yd": "yard",
        "m/min": "metre/minute",
        "m/s": "metre/second",
    }.get(name, name)
    assert REGISTRY.Quantity(Fraction(1), theirs).to(PINT[dimension.si]).magnitude == pytest.approx(
        float(scale), rel=1e-12
    )


INTERVALS = [
    ("12-14 m", "m", 12, 14),
    ("12 - 14 m", "m", 12, 14),
    ("12–14 m", "m", 12, 14),
    ("12 to 14 m", "m", 12, 14),
    ("12 m to 14 m", "m", 12, 14),
    ("12 or 13 m", "m", 12, 13),
    ("12-14", "m", 12, 14),
    ("about 12 m", "m", "10.8", "13.2"),
    ("~12 m", "m", "10.8", "13.2"),
    ("roughly 20 m", "m", 18, 22),
    ("ca. 10 m", "m", 9, 11),
    ("around 10", "m", 9, 11),
    ("12 m ± 1 m", "m", 11, 13),
    ("12 ± 1 m", "m", 11, 13),
    ("12 m +/- 50 cm", "m", "11.5", "12.5"),
    ("12 m give or take 2 m", "m", 10, 14),
    ("at least 10 m", "m", 10, 300),
    ("more than 10 m", "m", 10, 300),
    (">= 10 m", "m", 10, 300),
    ("up to 20 m", "m", 0, 20),
    ("at most 20 m", "m", 0, 20),
    ("under 20 m", "m", 0, 20),
    ("≤ 20 m", "m", 0, 20),
]


@pytest.mark.parametrize("text, wanted, low, high", INTERVALS, ids=[i[0] for i in INTERVALS])
def test_reads_a_range(text, wanted, low, high):
    found = read_quantity(text, wanted, (0, 300 * 10000))
    assert [from_steps(steps, wanted) for steps in found] == [
        Fraction(str(low)),
        Fraction(str(high)),
    ]


BAD = [
    ("", "m", "expected a number"),
    ("deep", "m", "not a number"),
    ("m", "m", "not a number"),
    ("14 kg", "m", "is a mass"),
    ("14 m", "kg", "is a length"),
    ("14 kN", "kg", "is a force"),
    ("5 h", "m", "is a time"),
    ("14 cubits", "m", "not a unit"),
    ("14-12 m", "m", "larger to the smaller"),
    ("301 m", "m", "outside"),
    ("-1 m", "m", "outside"),
    ("1e5 m", "m", ""),
    ("--3", "m", "not a number"),
    ("3..4", "m", ""),
    ("1,5 m", "m", "not a number"),
    (True, "m", "expected a number"),
    (None, "m", "expected a number"),
    ("2.5", "count", "whole number"),
    ("2½", "count", "whole number"),
    ("about", "m", "not a number"),
    ("±", "m", ""),
    ("12 to", "m", ""),
]


@pytest.mark.parametrize("text, wanted, words", BAD, ids=[str(b[0]) for b in BAD])
def test_refuses_what_is_no_quantity(text, wanted, words):
    with pytest.raises(NotAQuantity) as error:
        read_quantity(text, wanted, (0, 300 * 10000))
    message = str(error.value)
    assert words in message and message.endswith(".") and "\n" not in message


@settings(max_examples=examples(300), deadline=None, derandomize=True)
@given(st.integers(0, 3_000_000), st.sampled_from(["m", "mm", "cm", "ft", "in"]))
def test_shown_lengths_read_back(steps, unit):
    """What is shown has three decimals of the unit, so it reads back to within one step and half a
    thousandth of the unit.
    """
    slack = 1 + UNITS[unit][1] * UNITS[unit][0].steps / 2000
    assert abs(read_quantity(show(steps, unit), unit, WIDE).low - steps) <= slack


@settings(max_examples=examples(200), deadline=None, derandomize=True)
@given(st.integers(1, 5000), st.integers(0, 5000), st.sampled_from(["m", "kg", "N", "min"]))
def test_a_range_holds_both_of_its_ends(first, more, unit):
    low, high = read_quantity(f"{first}-{first + more} {unit}", unit, WIDE)
    assert (
        low == read_quantity(f"{first} {unit}", unit, WIDE).low
        and high == read_quantity(f"{first + more} {unit}", unit, WIDE).high
    )


TIMES = [
    ("14:30", 14, 30),
    ("14.30", 14, 30),
    ("9:05", 9, 5),
    ("9.15", 9, 15),
    ("2 pm", 14, 0),
    ("2pm", 14, 0),
    ("12 am", 0, 0),
    ("12 pm", 12, 0),
    ("0:00", 0, 0),
    ("23:59", 23, 59),
    ("7:45 am", 7, 45),
]


@pytest.mark.parametrize("text, hour, minute", TIMES, ids=[t[0] for t in TIMES])
def test_times_of_day(text, hour, minute):
    assert read_time(text) == hour * 3600 + minute * 60
    assert read_time(show_time(read_time(text))) == read_time(text)


@pytest.mark.parametrize(
    "seconds, shown",
    [
        (27 * 3600, "03:00 next day"),
        (-50 * 60, "23:10 the day before"),
        (49 * 3600, "01:00 2 days on"),
    ],
)
def test_times_beyond_midnight(seconds, shown):
    assert show_time(seconds) == shown
    assert shown != "03:00 next day" or read_time(shown) == seconds


@pytest.mark.parametrize(
    "moment, start, taken",
    [("03:00", "22:30", 27), ("18:00", "10:00", 18), ("09:00", "10:00", 9), ("10:00", "22:30", 34)],
)
def test_what_is_said_for_after_the_start_runs_on_past_midnight(moment, start, taken):
    """Less than twelve hours on it is the next day's; before that the slip is left to be seen."""
    assert run_on(read_time(moment), read_time(start)) == taken * 3600


@pytest.mark.parametrize(
    "text", ["24:00", "12:60", "noon", "14", "1:2", "", "14:30:00", "25 pm", "13 pm", "0 am"]
)
def test_refuses_what_is_no_time(text):
    with pytest.raises(NotAQuantity, match="not a time of day"):
        read_time(text)
