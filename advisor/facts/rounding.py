"""How worked-out numbers are said: rounded as the trade says them, in one place for every face.

A worked-out number is no more exact than what went into it. Lengths are said to 0.1 m, loads to
0.1 kN, times to the minute. What is missing is said in words, never as a negative number.
"""

from __future__ import annotations

from functools import lru_cache

from advisor.facts.times import show_time
from advisor.facts.units import FORCE, TIME, UNITS, show, thousandths
from advisor.facts.vocabulary import Attribute

# The grain in the unit of each dimension; what is not listed here is said exactly.
GRAINS = {"length": "0.1", "mass": "0.1", "angle": "1", "temperature": "1", "share": "1"}
NO_LIMIT = 10**9  # N; a part that is not there fails at no load
SMALL_FORCE = 500  # N; a smaller force is a hand's and is said to 10 N


def show_worked(attribute: Attribute, low: int, high: int) -> str:
    """A worked-out range in words: '14.1 m', '2.2 kN to 3 kN', '16 m too short', '14:06'."""
    if attribute.type == "time":
        return _to(show_time(low), show_time(high))
    if low >= 0 or not attribute.below:
        return _to(*(rounded(end, attribute.unit) for end in (low, high)))
    missing, over = attribute.below
    if high <= 0:
        return f"{_to(rounded(-high, attribute.unit), rounded(-low, attribute.unit))} {missing}"
    return f"{rounded(-low, attribute.unit)} {missing} to {rounded(high, attribute.unit)} {over}"


def _to(first: str, second: str) -> str:
    return first if first == second else f"{first} to {second}"


@lru_cache(maxsize=32768)
def rounded(steps: int, unit: str) -> str:
    """One worked-out number in words, rounded to the grain of its dimension."""
    if UNITS[unit][0] is FORCE and steps >= NO_LIMIT:
        return "no limit"
    grain = grain_of(steps, unit)
    near = (2 * abs(steps) + grain) // (2 * grain) * grain * (1 if steps >= 0 else -1)
    unit = _said_in(unit, abs(near))
    return f"under {show(grain, unit)}" if near == 0 and steps else show(near, unit)


def _said_in(unit: str, size: int) -> str:
    """The unit in which a size is said: minutes from one minute on, kN from half a kN on."""
    dimension = UNITS[unit][0]
    if dimension is TIME and unit == "s" and size >= 60:
        return "min"
    return "kN" if dimension is FORCE and size >= SMALL_FORCE else unit


def grain_of(steps: int, unit: str) -> int:
    """The grain in steps to which a number of this size and unit is said."""
    dimension = UNITS[unit][0]
    size = abs(steps)
    if dimension is FORCE:
        return 10 if size < SMALL_FORCE else 100
    if dimension is TIME:
        return 60 if size >= 60 else 10
    if dimension.name == "ratio":
        return dimension.steps // (10 if size >= dimension.steps else 100)
    whole = GRAINS.get(dimension.name)
    return max(1, round(float(whole) * dimension.steps)) if whole else 1


def exact(value: float, unit: str) -> str:
    """A number in SI with its unit, to three decimals and never with an exponent."""
    return thousandths(value) + (f" {unit}" if unit and unit != "1" else "")
