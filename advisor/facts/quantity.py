"""Reading a quantity as people write it: '14 m', '25 ft', '6 ft 9 in', '11 st 4', 'about 12 m',
'12-14 m', 'up to 20 min'.

A closed grammar of our own; a general units library serves as the outside check in the tests.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import NamedTuple

from advisor.facts.units import UNITS, in_steps, show, unit

LONGEST = 100  # signs of a quantity in words
ABOUT = Fraction(1, 10)  # 'about' without a stated tolerance means ± 10 %
_NUMBER = r"(?:1/2|1/4|3/4)(?!\d)|\d+(?:\.\d+)?(?:\s*(?:½|¼|¾)|\s+1/2|\s+1/4|\s+3/4)?|½|¼|¾"
_TOKEN = re.compile(
    rf"\s*(?:(?P<number>{_NUMBER})|(?P<word>[A-Za-z°%'\"′″/]+(?: a minute)?)|(?P<sign>[-–±~<>≤≥+]))"
)
_ABOUT = {"about", "around", "roughly", "approx", "approximately", "circa", "ca", "~", "some"}
_LEAST = re.compile(r"\s*(at least|no less than|more than|over|≥|>=|>)\s*", re.I)
_MOST = re.compile(r"\s*(at most|no more than|up to|less than|under|≤|<=|<)\s*", re.I)
_PART = {
    "½": Fraction(1, 2),
    "¼": Fraction(1, 4),
    "¾": Fraction(3, 4),
    "1/2": Fraction(1, 2),
    "1/4": Fraction(1, 4),
    "3/4": Fraction(3, 4),
}
_SUBUNIT = {"ft": "in", "st": "lb", "lb": "oz", "h": "min", "m": "cm", "min": "s"}


class Quantity(NamedTuple):
    """A closed interval in steps; exact values have low == high."""

    low: int
    high: int


class NotAQuantity(ValueError):
    """The text is no quantity of the wanted kind; the message says what was expected."""


def read_quantity(text: object, wanted: str, limits: tuple[int, int]) -> Quantity:
    """Read text (or a number) as a quantity of the dimension of the unit `wanted`.

    limits: lowest and highest accepted value in steps; 'at least' and 'up to' run to them.
    Raises NotAQuantity with one sentence.
    """
    if isinstance(text, bool) or text is None:
        raise NotAQuantity(f"expected a number{_with(wanted)}.")
    written = str(text).strip()
    if len(written) > LONGEST:
        raise NotAQuantity(f"this is too long for a number{_with(wanted)}.")
    low, high = _interval(written, wanted, limits)
    if wanted == "count" and low == high and low.denominator != 1:
        raise NotAQuantity(f"'{written}' should be a whole number; things are counted one by one.")
    quantity = (
        Quantity(math.floor(low), math.ceil(high))
        if low != high
        else Quantity(round(low), round(low))
    )
    if quantity.low < limits[0] or quantity.high > limits[1]:
        raise NotAQuantity(
            f"{written} is outside what is accepted, {show(limits[0], wanted)} to"
            f" {show(limits[1], wanted)}."
        )
    return quantity


def _with(wanted: str) -> str:
    return "" if wanted in ("count", "ratio") else f" in {wanted}, such as '5 {wanted}'"


def _interval(text: str, wanted: str, limits: tuple[int, int]) -> tuple[Fraction, Fraction]:
    for pattern, side in ((_LEAST, 0), (_MOST, 1)):
        match = pattern.match(text)
        if match:
            value = _one(text[match.end() :], wanted)[0]
            return (value, Fraction(limits[1])) if side == 0 else (Fraction(limits[0]), value)
    tolerance = re.split(r"\s*(?:±|\+/-|\+-|give or take|plus or minus)\s*", text)
    if len(tolerance) == 2:
        second, used = _one(tolerance[1], wanted)
        middle = _one(tolerance[0], wanted, used)[0]
        return middle - second, middle + second
    ends = re.split(r"(?<=[\d\w°%'\"½¼¾])\s*(?:-|–|\bto\b|\bor\b)\s*(?=[\d½¼¾])", text)
    if len(ends) == 2 and not text.lower().startswith("-"):
        second, used = _one(ends[1], wanted)
        first = _one(ends[0], wanted, used)[0]
        if first > second:
            raise NotAQuantity(
                f"'{text}' runs from the larger to the smaller; write the smaller first."
            )
        return first, second
    words = text.split(None, 1)
    rough = text[:1] == "~" or (len(words) == 2 and words[0].lower().rstrip(".") in _ABOUT)
    body = text[1:] if text[:1] == "~" else words[1] if rough else text
    value = _one(body, wanted)[0]
    return (value * (1 - ABOUT), value * (1 + ABOUT)) if rough and value > 0 else (value, value)


def _one(text: str, wanted: str, default: str | None = None) -> tuple[Fraction, str]:
    """One point value such as '6 ft 9 in'; returns (steps, unit used)."""
    parts, text, sign = [], text.strip(), 1
    if text[:1] in "-–" and text[1:2].isdecimal():
        sign, text = -1, text[1:]
    position = 0
    while position < len(text):
        match = _TOKEN.match(text, position)
        if not match or match.group("sign"):
            raise NotAQuantity(f"'{text}' is not a number{_with(wanted)}.")
        parts.append(match)
        position = match.end()
        if not text[position:].strip():
            break
    total, used, last = Fraction(0), None, None
    index = 0
    while index < len(parts):
        if not parts[index].group("number"):
            raise NotAQuantity(f"'{text}' is not a number{_with(wanted)}.")
        number = _fraction(parts[index].group("number"))
        word = parts[index + 1].group("word") if index + 1 < len(parts) else None
        name = _unit(word, last, wanted, default, text)
        total += in_steps(number, name)
        used, last = used or name, name
        index += 2 if word else 1
    if used is None:
        raise NotAQuantity(f"expected a number{_with(wanted)}.")
    return sign * total, used


def _unit(word: str | None, last: str | None, wanted: str, default: str | None, text: str) -> str:
    name = unit(word) if word else _SUBUNIT.get(last) if last else default or wanted
    if word == "m" and UNITS[wanted][0].name == "time":
        name = "min"
    if name is None or name not in UNITS:
        raise NotAQuantity(
            f"'{word or text}' is not a unit known here; expected a number{_with(wanted)}."
        )
    if UNITS[name][0] is not UNITS[wanted][0]:
        raise NotAQuantity(
            f"'{text}' is a {UNITS[name][0].name}, but a {UNITS[wanted][0].name} is"
            f" expected{_with(wanted)}."
        )
    return name


def _fraction(text: str) -> Fraction:
    pieces = text.replace("½", " ½").replace("¼", " ¼").replace("¾", " ¾").split()
    return sum((_PART[p] if p in _PART else Fraction(p) for p in pieces), Fraction(0))


def unit_written(text: object, wanted: str) -> str:
    """The unit of the dimension of `wanted` in which a quantity was written, the first where it has
    several ('6 ft 9 in'); `wanted` where it has none.
    """
    for word in re.findall(r"[^\W\d_]+|['\"′″°%]", str(text)):
        name = unit(word)
        if name and UNITS[name][0] is UNITS[wanted][0]:
            return name
    return wanted


def split_unit(text: str) -> tuple[Fraction, str | None]:
    """'2.9 kN' -> (Fraction(29, 10), 'kN'); a bare number has unit None; raises NotAQuantity."""
    if len(text) > LONGEST:
        raise NotAQuantity("this is too long for a number with a unit.")
    match = re.fullmatch(r"\s*(-?\d+(?:\.\d+)?)\s*(.*?)\s*", text)
    name = unit(match.group(2)) if match and match.group(2) else None
    if not match or (match.group(2) and name is None):
        raise NotAQuantity(f"'{text}' is not a number with a unit known here, such as '2.9 kN'.")
    return Fraction(match.group(1)), name
