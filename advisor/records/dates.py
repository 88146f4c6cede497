"""Dates as people write them: 2025-03-14, 14 March 2025, 14/3/25 (day first), two months ago."""

from __future__ import annotations

import re
from datetime import date, datetime

MONTHS = (
    "January February March April May June July August September October November December".split()
)
_BARE = re.compile(r"\d+")  # '12', '2025': a part of a date, which would be guessed at


class NotADate(ValueError):
    """What is wrong with a date, in one sentence."""


def read_date(text: str, today: date, *, ahead: bool = False) -> date:
    """The day that a text means, as seen from `today`; of a month its first. Raises NotADate; of
    a day to come where that cannot be, unless it may lie `ahead`.
    """
    said = " ".join(str(text).split())
    try:
        found: date | None = date.fromisoformat(said)
    except ValueError:
        found = None if _BARE.fullmatch(said) else _parsed(said, today)
    if found is None:
        raise NotADate(
            f"'{said}' is no date read here; write 14 March 2025, 14/3/25 or 2025-03-14."
        )
    if found > today and not ahead:
        raise NotADate(f"{in_words(found)} is still to come; what is kept has happened.")
    return found


def _parsed(text: str, today: date) -> date | None:
    import dateparser  # takes a fifth of a second to import

    found = dateparser.parse(
        text,
        languages=["en"],
        settings={
            "DATE_ORDER": "DMY",
            "PREFER_DATES_FROM": "past",
            "PREFER_DAY_OF_MONTH": "first",
            "RELATIVE_BASE": datetime(today.year, today.month, today.day),
        },
    )
    return found.date() if found else None


def in_words(day: date) -> str:
    """'14 March 2025'."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def whole_months(since: date, to: date) -> int:
    """Whole months from one day to another, rounded up: a day more is a month more."""
    months = (to.year - since.year) * 12 + to.month - since.month
    return max(0, months + (to.day > since.day))


def months_before(day: date, months: int) -> date:
    """The day some months before; the last of a month that is too short."""
    year, month = divmod(day.year * 12 + day.month - 1 - months, 12)
    for last in (day.day, 30, 29, 28):
        try:
            return date(year, month + 1, min(day.day, last))
        except ValueError:
            continue
    raise AssertionError("every month has 28 days")
