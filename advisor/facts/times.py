"""Times of day: '14:30', '9.15', '2 pm', '03:00 next day', kept as seconds after the midnight
before the trip.
"""

from __future__ import annotations

import re

from advisor.facts.quantity import NotAQuantity

_CLOCK = re.compile(r"\s*(\d{1,2})(?:[:.h](\d{2}))?\s*(am|pm)?(\s+next day)?\s*\Z", re.I)
DAY = 24 * 3600


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
    return hour * 3600 + minute * 60 + (DAY if match.group(4) else 0)


def show_time(seconds: int) -> str:
    """'14:30', '00:34 next day', '23:10 the day before'."""
    days, left = divmod(seconds, DAY)
    day = {0: "", 1: " next day", -1: " the day before"}.get(days, f" {days} days on")
    return f"{left // 3600:02d}:{left % 3600 // 60:02d}{day}"


def run_on(moment: int, start: int) -> int:
    """A time of day said for after a start: the next day's, where the clock has passed midnight
    between them, that is less than twelve hours from the start on.
    """
    return moment + DAY if 2 * (start - moment) > DAY else moment
