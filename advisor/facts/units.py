"""Units people use, and the whole-number steps the engines count in.

Every quantity is kept as an integer number of steps (0.1 mm, 1 g, 1 N, 1 s, 0.1 °C …), so that
comparisons are exact and both engines see the same number.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

F = Fraction


class Dimension(NamedTuple):
    """name, the SI unit that calculations use, and how many steps make one SI unit."""

    name: str
    si: str
    steps: int


LENGTH = Dimension("length", "m", 10000)
MASS = Dimension("mass", "kg", 1000)
FORCE = Dimension("force", "N", 1)
TIME = Dimension("time", "s", 1)
TEMPERATURE = Dimension("temperature", "degC", 10)
ANGLE = Dimension("angle", "deg", 10)
SHARE = Dimension("share", "%", 10)
GAS = Dimension("gas", "ppm", 1)
COUNT = Dimension("count", "count", 1)
RATIO = Dimension("ratio", "ratio", 1000)
SPEED = Dimension("speed", "m/s", 60000)

# unit word -> (dimension, SI units in one of it). Exact by definition (inch 25.4 mm, pound
# 0.45359237 kg, g 9.80665 m/s2).
_POUND = F("0.45359237")
_G = F("9.80665")
UNITS = {
    "m": (LENGTH, F(1)),
    "mm": (LENGTH, F(1, 1000)),
    "cm": (LENGTH, F(1, 100)),
    "km": (LENGTH, F(1000)),
    "ft": (LENGTH, F("0.3048")),
    "in": (LENGTH, F("0.0254")),
    "yd": (LENGTH, F("0.9144")),
    "kg": (MASS, F(1)),
    "g": (MASS, F(1, 1000)),
    "lb": (MASS, _POUND),
    "st": (MASS, 14 * _POUND),
    "t": (MASS, F(1000)),
    "N": (FORCE, F(1)),
    "kN": (FORCE, F(1000)),
    "kgf": (FORCE, _G),
    "lbf": (FORCE, _G * _POUND),
    "s": (TIME, F(1)),
    "min": (TIME, F(60)),
    "h": (TIME, F(3600)),
    "day": (TIME, F(86400)),
    "week": (TIME, F(604800)),
    "month": (TIME, F(2629800)),
    "year": (TIME, F(31557600)),
    "degC": (TEMPERATURE, F(1)),
    "deg": (ANGLE, F(1)),
    "%": (SHARE, F(1)),
    "ppm": (GAS, F(1)),
    "count": (COUNT, F(1)),
    "ratio": (RATIO, F(1)),
    "m/min": (SPEED, F(1, 60)),
    "m/s": (SPEED, F(1)),
}
SPELLINGS = {
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeters": "mm",
    "centimetres": "cm",
    "foot": "ft",
    "feet": "ft",
    "'": "ft",
    "′": "ft",
    "inch": "in",
    "inches": "in",
    '"': "in",
    "″": "in",
    "yard": "yd",
    "yards": "yd",
    "kilo": "kg",
    "kilos": "kg",
    "kilogram": "kg",
    "kilograms": "kg",
    "kgs": "kg",
    "pound": "lb",
    "pounds": "lb",
    "lbs": "lb",
    "stone": "st",
    "stones": "st",
    "tonne": "t",
    "newton": "N",
    "newtons": "N",
    "kn": "kN",
    "n": "N",
    "sec": "s",
    "second": "s",
    "seconds": "s",
    "mins": "min",
    "minute": "min",
    "minutes": "min",
    "hr": "h",
    "hrs": "h",
    "hour": "h",
    "hours": "h",
    "days": "day",
    "weeks": "week",
    "months": "month",
    "mo": "month",
    "years": "year",
    "yr": "year",
    "yrs": "year",
    "y": "year",
    "°c": "degC",
    "c": "degC",
    "degc": "degC",
    "celsius": "degC",
    "°": "deg",
    "degree": "deg",
    "degrees": "deg",
    "percent": "%",
    "per cent": "%",
    "M": "m",
    "KG": "kg",
    "ratio": "ratio",
    "metres a minute": "m/min",
    "people": "count",
    "persons": "count",
    "times": "count",
}


def unit(word: str) -> str | None:
    """The canonical unit for a word, or None."""
    return word if word in UNITS else SPELLINGS.get(word) or SPELLINGS.get(word.lower())


def in_steps(number: Fraction, unit_name: str) -> Fraction:
    """A number with a unit, in steps of its dimension (exact, not rounded)."""
    dimension, scale = UNITS[unit_name]
    return number * scale * dimension.steps


def from_steps(steps: int, unit_name: str) -> Fraction:
    """Steps back to a number in a unit."""
    dimension, scale = UNITS[unit_name]
    return Fraction(steps * scale.denominator, dimension.steps * scale.numerator)


def thousandths(number: float, decimals: int = 3) -> str:
    """A number with at most so many decimals and no trailing noughts."""
    text = f"{number:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


@lru_cache(maxsize=4096)
def show(steps: int, unit_name: str, decimals: int = 3) -> str:
    """'14 m', '7 mm', '2.94 kN', '9': at most so many decimals, no trailing noughts."""
    if unit_name == "N" and abs(steps) >= 500:
        unit_name = "kN"
    if UNITS[unit_name][0] is TIME:
        unit_name = _time_unit(steps, unit_name)
    text = thousandths(float(from_steps(steps, unit_name)), decimals)
    word = {"count": "", "ratio": "", "degC": " °C", "deg": "°", "%": " %"}.get(
        unit_name, " " + unit_name
    )
    plural = "s" if unit_name in ("month", "year", "day", "week") and text != "1" else ""
    return text + word + plural


def _time_unit(steps: int, preferred: str) -> str:
    whole = from_steps(steps, preferred).denominator == 1
    return (
        preferred if whole or preferred in ("year", "month") else "min" if steps % 60 == 0 else "s"
    )
