"""Dates as people write them: 2025-03-14, 14 March 2025, 14/3/25 (day first), two months ago."""

from __future__ import annotations

import re
from datetime import date, datetime

MONTHS = (
    "January February March April May June July August September October November December".split()
)
WEEKDAYS = "Monday Tuesday Wednesday Thursday Friday Saturday Sunday".split()
FORMS = "write 14 March 2025, 14/3/25 or 2025-03-14"
_NUMERIC = re.compile(r"(\d{1,2})([/.-])(\d{1,2})(?:\2(\d{2}|\d{4})?)?")  # 14/3/25, 14.3., 14/3
_MONTH = re.compile(r"(\d{1,2})[/.-](\d{4})|(\d{4})[/.-](\d{1,2})")  # 3/2025, 2025-03
_WORD = re.compile(r"[A-Za-z]{3,}")  # without one only the forms above are dates
_TIME_OF_DAY = re.compile(
    r"\b(now|hours?|hrs?|minutes?|mins?|seconds?|secs?)\b|\d\s*[hms]\b|:", re.I
)
_ABOUT = re.compile(r"(last|this|next) (week|weekend|year)|a while ago", re.I)
_CENTURY = 100


class NotADate(ValueError):
    """What is wrong with a date, in one sentence."""


def read_date(text: str, today: date, *, ahead: bool = False, whole: bool = True) -> date:
    """The day that a text means, as seen from `today`; of a month its first, where a `whole` month
    will do. Raises NotADate; of a day to come where that cannot be, unless it may lie `ahead`.
    """
    said = " ".join(str(text).split())
    if _ABOUT.fullmatch(said):
        raise NotADate(f"'{said}' is no single day; name the day.")
    bare = re.fullmatch(r"(?:on )?(\w+)", said, re.I)
    if bare and bare[1].lower() == WEEKDAYS[today.weekday()].lower():
        raise NotADate(f"'{said}' may be today or a week ago; write 'today' or 'last {bare[1]}'.")
    try:
        found: date | None = date.fromisoformat(said)
    except ValueError:
        found = _numeric(said, today)
    month = None if found else _month(said)
    if found is None and month is None and _WORD.search(said) and not _TIME_OF_DAY.search(said):
        found, month = _in_words(said, today)
    if month and not whole:
        raise NotADate(f"'{said}' is a whole month; name the day.")
    found = found or month
    if found is None:
        raise NotADate(f"'{said}' is no date read here; {FORMS}, the day first.")
    if found > today and not ahead:
        raise NotADate(f"{in_words(found)} is still to come; what is kept has happened.")
    named = next((n for n, name in enumerate(WEEKDAYS) if name.lower() in said.lower()), None)
    if named is not None and found.weekday() != named:
        day = WEEKDAYS[found.weekday()]
        raise NotADate(f"{in_words(found)} is a {day}, not a {WEEKDAYS[named]}; which is it?")
    return found


def _numeric(text: str, today: date) -> date | None:
    """Day, month and year in figures, the day first; without a year the last such day."""
    match = _NUMERIC.fullmatch(text)
    if not match:
        return None
    day, month, year = int(match[1]), int(match[3]), match[4]
    if month > len(MONTHS) >= day:
        raise NotADate(f"'{text}' has no month {month}: the day comes first here; {FORMS}.")
    if year is None:
        this = _day(today.year, month, day)
        return this if this and this <= today else _day(today.year - 1, month, day)
    full = int(year) if len(year) > 2 else today.year - today.year % _CENTURY + int(year)
    if len(year) == 2 and full > today.year + 50:
        full -= _CENTURY
    return _day(full, month, day)


def _month(text: str) -> date | None:
    match = _MONTH.fullmatch(text)
    return _day(int(match[2] or match[3]), int(match[1] or match[4]), 1) if match else None


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def _in_words(text: str, today: date) -> tuple[date | None, date | None]:
    """(the day, or the first of the whole month) that words mean, one of them None."""
    first, last = (_parsed(text, today, day) for day in ("first", "last"))
    if first == last or first is None:
        return first, None
    if "ago" in text.lower():  # 'two months ago' is of today, not of a month
        return _parsed(text, today, "current"), None
    return None, first


def _parsed(text: str, today: date, day_of_month: str) -> date | None:
    import dateparser  # takes a fifth of a second to import

    found = dateparser.parse(
        text,
        languages=["en"],
        settings={
            "DATE_ORDER": "DMY",
            "PREFER_DATES_FROM": "past",
            "PREFER_DAY_OF_MONTH": day_of_month,
            "RELATIVE_BASE": datetime(today.year, today.month, today.day, 12),
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
