"""Times of day as people say them: '14:30', '2 pm', 'half past two', 'quarter to six', 'noon'."""

from __future__ import annotations

from itertools import product
from typing import NamedTuple

from advisor.language.numbers import read_number


class Clock(NamedTuple):
    """start, end: token indexes; readings: 'HH:MM' texts, more than one where morning or afternoon
    was not said.
    """

    start: int
    end: int
    readings: tuple


_EARLIEST = "06:00"  # before which nobody begins a trip


def one_day(figures) -> dict:
    """The one reading of each time of day among some figures, where they follow one another in one
    day in one way only: 'in at 10, out by 3, call out 5' can only be 10:00, 15:00 and 17:00; {}
    where there are several ways.
    """
    clocks = sorted((f for f in figures if isinstance(f, Clock)), key=lambda c: c.start)
    ways = [
        way
        for way in product(*(c.readings for c in clocks))
        if way and way[0] >= _EARLIEST and all(a < b for a, b in zip(way, way[1:]))
    ]
    if len(clocks) < 2 or len(ways) != 1:
        return {}
    return {clock: (reading,) for clock, reading in zip(clocks, ways[0])}


def clock_at(tokens, at: int, expected: bool = False) -> Clock | None:
    """The time of day that begins at a token; `expected` lets a bare '6' or '1800' be one."""
    found = _named(tokens, at) or _past_or_to(tokens, at) or _figures(tokens, at, expected)
    if not found:
        return None
    hour, minute, end, sure = found
    half, end = _half(tokens, end)
    if half and not 1 <= hour <= 12 or hour > 23 or minute > 59:
        return None
    if half:
        return Clock(at, end, (f"{hour % 12 + (12 if half == 'pm' else 0):02d}:{minute:02d}",))
    if sure or hour > 12 or hour == 0:
        return Clock(at, end, (f"{hour:02d}:{minute:02d}",))
    return Clock(at, end, (f"{hour % 12 + 12:02d}:{minute:02d}", f"{hour % 12:02d}:{minute:02d}"))


def _text(tokens, at):
    return tokens[at].text if at < len(tokens) else ""


def _named(tokens, at):
    hour = {"noon": 12, "midday": 12, "midnight": 0}.get(_text(tokens, at))
    return None if hour is None else (hour, 0, at + 1, True)


def _past_or_to(tokens, at):
    """'half past two', 'half two', 'quarter to six', 'ten past nine'."""
    word = _text(tokens, at)
    minutes = {"half": 30, "quarter": 15}.get(word)
    end = at + 1
    if minutes is None:
        found = read_number(tokens, at)
        if not found or found[0] not in (5, 10, 20, 25):
            return None
        minutes, end = int(found[0]), found[1]
    link = _text(tokens, end)
    if link not in ("past", "to") and not (
        word == "half" and _text(tokens, end) not in ("a", "an") and read_number(tokens, end)
    ):
        return None
    end += link in ("past", "to")
    hour = read_number(tokens, end)
    if not hour or not 1 <= hour[0] <= 12 or hour[0].denominator != 1:
        return None
    if link == "to" and minutes in (15, 5, 10, 20, 25):
        if word not in ("quarter",):
            return None  # '10 to 12' is a range far more often than a time
        return (int(hour[0]) - 1 or 12, 60 - minutes, hour[1], False)
    return None if link == "to" else (int(hour[0]), minutes, hour[1], False)


def _figures(tokens, at, expected):
    text = _text(tokens, at)
    hour, colon, minute = text.partition(":") if ":" in text else text.partition(".")
    if colon and hour.isdecimal() and len(minute) == 2 and minute.isdecimal() and len(hour) <= 2:
        if ":" in text or expected or _half(tokens, at + 1)[0]:
            return (
                int(hour),
                int(minute),
                at + 1,
                len(hour) == 2 and hour[0] in "012" and int(hour) != 12 and hour[0] == "0",
            )
        return None
    if expected and len(text) == 4 and text.isdecimal():
        return (
            int(text[:2]),
            int(text[2:]),
            at + 1 + (_text(tokens, at + 1) in ("hours", "h")),
            text[0] == "0",
        )
    found = read_number(tokens, at)
    if not found or found[0].denominator != 1 or not 0 <= found[0] <= 23:
        return None
    end = found[1]
    if _text(tokens, end) in ("o'clock", "oclock"):
        return int(found[0]), 0, end + 1, False
    if _half(tokens, end)[0] or (
        expected and _text(tokens, end) not in ("m", "min", "h", "hours", "hour", "minutes")
    ):
        return int(found[0]), 0, end, False
    return None


def _half(tokens, at):
    text = _text(tokens, at)
    if text in ("am", "pm"):
        return text, at + 1
    if text in ("a", "p") and _text(tokens, at + 1) == "." and _text(tokens, at + 2) == "m":
        return text + "m", at + 3 + (_text(tokens, at + 3) == ".")
    if (
        text == "in"
        and _text(tokens, at + 1) == "the"
        and _text(tokens, at + 2) in ("morning", "afternoon", "evening")
    ):
        return "am" if _text(tokens, at + 2) == "morning" else "pm", at + 3
    if text in ("tonight", "this") and _text(tokens, at + (text == "this")) in (
        "evening",
        "afternoon",
        "tonight",
    ):
        return "pm", at + 1 + (text == "this")
    return "", at
