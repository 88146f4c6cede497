"""Times of day: '14:30', '9.15', '2 pm', kept as seconds after midnight."""

from __future__ import annotations

import re

from advisor.facts.quantity import NotAQuantity

_CLOCK = re.compile(r"\s*(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm)?\s*\Z", re.I)


def read_time(text: object) -> int:
    """Seconds after midnight; raises NotAQuantity with one sentence."""
    match = _CLOCK.match(str(text))
    if not match or not (match.group(2) or match.group(3)):
        raise NotAQuantity(f"'{text}' is not a time of day; write it as 14:30.")
    hour, minute, half = (
        int(match.group(1)),
        int(match.group(2) or 0),
        (match.group(3) or "").lower(),
    )
    if half and not 1 <= hour <= 12:
        raise NotAQuantity(f"'{text}' is not a time of day; write it as 14:30.")
    if half:
        hour = hour % 12 + (12 if half == "pm" else 0)
    if hour > 23 or minute > 59:
        raise NotAQuantity(f"'{text}' is not a time of day; write it as 14:30.")
    return hour * 3600 + minute * 60


def show_time(seconds: int) -> str:
    return f"{seconds // 3600:02d}:{seconds % 3600 // 60:02d}"
