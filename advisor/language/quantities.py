"""Quantities as people say them, found among the tokens: '25 foot', 'six foot nine', '12 or so',
'between 10 and 12 m', 'up to 20'.
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from advisor.facts.units import UNITS, unit
from advisor.language.numbers import read_number
from advisor.language.words import ABOUT, ABOUT_AFTER, ADJECTIVES, COMMON, LEAST, MOST

_GLUED_ONLY = {
    "s",
    "t",
    "g",
    "n",
    "c",
    "y",
    "h",
    "N",
}  # one letter that is a unit only when it touches its number
_NOT_UNITS = {"people", "persons", "times", "ratio", "count", "second", "mo", "day", "pound"}
_SUB = {
    "ft": ("in", 12),
    "st": ("lb", 14),
    "h": ("min", 60),
    "m": ("cm", 100),
    "min": ("s", 60),
    "lb": ("oz", 16),
}
_ALONE = {
    "hour": "h",
    "metre": "m",
    "meter": "m",
    "minute": "min",
    "year": "year",
    "month": "month",
    "week": "week",
    "tonne": "t",
    "foot": "ft",
    "day": "day",
}
_SPOKEN = {
    "footer": "ft",
    "footers": "ft",
    "mil": "mm",
    "mils": "mm",
    "metrs": "m",
    "mtrs": "m",
    "mtr": "m",
}
_POINTERS = ADJECTIVES | frozenset(
    "the this that left right middle which each every any no".split()
)
_FORCE = {"kg": ("kgf", 1), "lb": ("lbf", 1), "t": ("kgf", 1000)}


class Quantity(NamedTuple):
    """start, end: token indexes; points: one or two, each a tuple of (number, unit or None); mode:
    '', 'about', 'at least', 'up to', 'range' or 'give or take'.
    """

    start: int
    end: int
    points: tuple
    mode: str = ""

    @property
    def unit(self):
        return next((u for point in reversed(self.points) for _, u in point if u), None)

    @property
    def value(self) -> Fraction:
        return self.points[0][0][0]

    @property
    def fits_count(self) -> bool:
        """Whether it is a bare whole number, such as counts people."""
        return self.unit is None and all(
            n.denominator == 1 for point in self.points for n, _ in point
        )

    def fits(self, attribute) -> bool:
        """Whether its unit could measure the attribute; a bare number fits any but a strength."""
        if self.unit is None:
            return attribute.unit not in ("N", "kN")
        mine, wanted = UNITS[self.unit][0].name, UNITS[attribute.unit][0].name
        return (
            mine == wanted
            or (self.unit == "deg" and wanted == "temperature")
            or (wanted == "force" and self.unit in _FORCE)
            or (wanted == "count" and self.unit == "year" and "years" in (attribute.asks or ""))
        )

    def raw(self, attribute) -> str:
        """The words facts.quantity reads, in a unit of the attribute's kind."""
        texts = [
            " ".join(_shown(number, name, attribute) for number, name in point)
            for point in self.points
        ]
        if self.mode == "range":
            return " to ".join(texts)
        if self.mode == "give or take":
            return " ± ".join(texts)
        if self.mode == "up to" and (attribute.asks or "").lower().startswith("to what"):
            return texts[0]  # 'up to 18 m' takes up the question's own 'to'
        return f"{self.mode} {texts[0]}".strip()


def _shown(number, name, attribute) -> str:
    wanted = UNITS[attribute.unit][0].name
    if wanted == "force" and name in _FORCE:
        name, factor = _FORCE[name]
        number *= factor
    if wanted == "temperature" and name == "deg":
        name = "degC"
    if wanted == "count" and name == "year":
        name = None
    text = str(number.numerator) if number.denominator == 1 else f"{float(number):.4f}".rstrip("0")
    return f"{text} {name}" if name else text


def quantities(tokens) -> list[Quantity]:
    """All quantities of a line, left to right, none overlapping."""
    found, at = [], 0
    while at < len(tokens):
        quantity = read_at(tokens, at)
        if quantity:
            found.append(quantity)
            at = quantity.end
        else:
            at += 1
    return found


def read_at(tokens, at: int) -> Quantity | None:
    """The quantity that begins exactly at a token, with the words before and after that make it
    rough or bound it.
    """
    start, mode = at, ""
    if tokens[at].text == "one" and at and tokens[at - 1].text in _POINTERS:
        return None  # 'the left one'
    if at and tokens[at - 1].text in ("number", "nr", "#"):
        return None  # 'rung number four'
    for name, sequences in (("up to", MOST), ("at least", LEAST), ("about", ABOUT)):
        length = sequence_at(tokens, at, sequences)
        if length:
            mode, at = name, at + length
            at += (
                sequence_at(tokens, at, ("a", "an"))
                if _text(tokens, at + 1) in ("good", "couple")
                else 0
            )
            break
    if tokens[at : at + 1] and tokens[at].text == "~":
        mode, at = "about", at + 1
    between = (
        tokens[at : at + 1] and tokens[at].text in ("between", "from") and mode in ("", "about")
    )
    first = _point(tokens, at + bool(between))
    if not first:
        return None
    point, end = first
    second = _second(tokens, end, between)
    if second:
        return _range(tokens, start, point, *second)
    if between and tokens[at].text == "between":
        return None
    return _after(tokens, start, point, end, mode)


def _text(tokens, at):
    return tokens[at].text if 0 <= at < len(tokens) else ""


_BY_FIRST: dict = {}  # sequences by the word they begin with, longest first, for each list of them


def sequence_at(tokens, at, sequences) -> int:
    """Length of the longest of some word sequences that stands at a token, or 0."""
    if not 0 <= at < len(tokens):
        return 0
    known = _BY_FIRST.get(id(sequences))
    if known is None or known[0] is not sequences:
        known = _BY_FIRST[id(sequences)] = sequences, _by_first(sequences)
    return next(
        (
            len(words)
            for words in known[1].get(tokens[at].text, ())
            if [t.text for t in tokens[at : at + len(words)]] == words
        ),
        0,
    )


def _by_first(sequences) -> dict:
    found: dict = {}
    for words in sorted((s.split() for s in sequences), key=len, reverse=True):
        found.setdefault(words[0], []).append(words)
    return found


def _second(tokens, end, between):
    joins = ("and", "to", "-") if between else ("to", "-", "or")
    if _text(tokens, end) not in joins:
        return None
    after = end + 1
    for sequences in (ABOUT,):
        after += sequence_at(tokens, after, sequences)
    found = _point(tokens, after)
    return (found[0], found[1]) if found else None


def _range(tokens, start, first, second, end):
    low, high = first, second
    if all(u is None for _, u in first) and second[0][1]:
        low = tuple((n, second[0][1]) for n, _ in first)
    if _size(low) > _size(high):
        low, high = high, low
    end += sequence_at(tokens, end, ABOUT_AFTER)
    return Quantity(start, end, (low, high), "range")


def _size(point) -> Fraction:
    return sum((n * (UNITS[u][1] if u else 1) for n, u in point), Fraction(0))


def _after(tokens, start, point, end, mode):
    """Words behind a quantity: '-ish', 'or so', 'give or take 1 m', '+', 'max'."""
    take = sequence_at(tokens, end, ("give or take", "plus or minus", "±", "+ / -"))
    other = _point(tokens, end + take) if take else None
    if other:
        second = (
            other[0] if other[0][0][1] or not point[-1][1] else ((other[0][0][0], point[-1][1]),)
        )
        return Quantity(start, other[1], (point, second), "give or take")
    dash = _text(tokens, end) == "-" and _text(tokens, end + 1) in ("ish", "odd")
    length = sequence_at(tokens, end + dash, ABOUT_AFTER)
    if length:
        end += dash + length
        name, after = _unit_at(tokens, end) if point[-1][1] is None else (None, end)
        return Quantity(
            start, after, ((*point[:-1], (point[-1][0], name or point[-1][1])),), "about"
        )
    length = sequence_at(
        tokens, end, ("or more", "and up", "or over", "minimum", "min", "at least", "plus of")
    )
    if length or (
        _text(tokens, end) == "+" and tokens[end].glued and _text(tokens, end + 1) not in ("1", "2")
    ):
        return Quantity(start, end + (length or 1), (point,), "at least")
    length = sequence_at(
        tokens,
        end,
        ("or less", "or under", "max", "maximum", "tops", "at most", "at the most", "or fewer"),
    )
    return Quantity(start, end + length, (point,), "up to" if length else mode)


def _point(tokens, at):
    """(((number, unit), …), index after it): '6 ft 9', 'an hour and a half', '-2
    degrees', '14m'.
    """
    sign = 1
    if _text(tokens, at) == "minus" or (
        _text(tokens, at) == "-"
        and at + 1 < len(tokens)
        and tokens[at + 1].glued
        and not (at and tokens[at].glued)
    ):
        sign, at = -1, at + 1
    if _text(tokens, at) in ("a", "an") and _text(tokens, at + 1) in _ALONE:
        number, at = Fraction(1), at + 1
    else:
        found = read_number(tokens, at)
        if not found:
            return None
        if _stuck(tokens, at, found[1]):
            return None
        number, at = found
    name, at = _unit_at(tokens, at)
    if (
        _text(tokens, at) == "and"
        and _text(tokens, at + 1) == "a"
        and _text(tokens, at + 2) in ("half", "quarter")
        and name
    ):
        number, at = (
            number + (Fraction(1, 2) if _text(tokens, at + 2) == "half" else Fraction(1, 4)),
            at + 3,
        )
    parts, at = _lower_unit(tokens, at, (sign * number, name), name)
    return parts, at


def _stuck(tokens, at, end) -> bool:
    """'1e9', 'v2', '--3': a figure grown into something else is no quantity."""
    before = tokens[at - 1] if at and tokens[at].glued else None
    if before and (
        before.is_word
        and tokens[at].is_number
        and before.text not in ("x",)
        or before.text == "-"
        and at > 1
        and tokens[at - 1].glued
        and not (tokens[at - 2].is_number or tokens[at - 2].is_word)
    ):
        return True
    after = (
        tokens[end]
        if end < len(tokens) and tokens[end].glued and tokens[end - 1].is_number
        else None
    )
    return bool(
        after
        and after.is_word
        and after.text not in ("ish", "odd", "am", "pm", "hrs")
        and _unit_at(tokens, end)[0] is None
        and tokens[end - 1].end == after.start
    )


def _unit_at(tokens, at):
    dash = _text(tokens, at) == "-" and at + 1 < len(tokens) and tokens[at + 1].glued
    text = _text(tokens, at + dash)
    for length, name in ((3, "m/min"), (3, "m/s")):
        if "".join(t.text for t in tokens[at : at + length]) == name:
            return name, at + length
    if text in ("degree", "degrees", "deg", "°") and _text(tokens, at + dash + 1) in (
        "c",
        "celsius",
        "centigrade",
    ):
        return "degC", at + dash + 2
    if text == "per" and _text(tokens, at + dash + 1) == "cent":
        return "%", at + dash + 2
    if text == "parts" and [t.text for t in tokens[at : at + 3]] == ["parts", "per", "million"]:
        return "ppm", at + 3
    name = _SPOKEN.get(text) or unit(text) if text and text not in _NOT_UNITS else None
    name = name if name in UNITS else None
    if not name or (
        text in _GLUED_ONLY and not tokens[at].glued and _text(tokens, at + 1)[:1].isalpha()
    ):
        return None, at
    if text == "in" and _text(tokens, at + 1)[:1].isalpha() and not tokens[at].glued:
        return None, at
    if text in ("'", '"') and not tokens[at].glued:
        return None, at
    return name, at + dash + 1


def _lower_unit(tokens, at, first, name):
    """The second part of '6 ft 9', '11 st 4 lb', '1 h 30'; a count that follows by chance is left
    alone.
    """
    if name not in _SUB:
        return (first,), at
    sub, most = _SUB[name]
    after = at + (_text(tokens, at) == "and")
    found = read_number(tokens, after)
    if not found or not 0 <= found[0] < most:
        return (first,), at
    said, end = _unit_at(tokens, found[1])
    if said == sub:
        return (first, (found[0], sub)), end
    bare = (
        said is None
        and after == at
        and found[0].denominator == 1
        and (name in ("ft", "st") or (found[0] >= 10 and name in ("h", "m")))
    )
    following = _text(tokens, found[1])
    if (
        bare
        and sub in UNITS
        and (
            not following[:1].isalpha()
            or following in COMMON
            or following in ("deep", "tall", "long", "high")
        )
        and following not in ("of", "-", "to", "on", "at")
    ):
        return (first, (found[0], sub)), found[1]
    return (first,), at
