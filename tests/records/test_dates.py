"""Dates as people write them, read to the calendar of the standard library."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from advisor.records.dates import (
    NotADate,
    in_words,
    months_before,
    read_date,
    whole_months,
)

TODAY = date(2026, 11, 27)  # a Friday


@pytest.mark.parametrize(
    "text, day",
    [
        ("2025-03-14", date(2025, 3, 14)),
        ("14 March 2025", date(2025, 3, 14)),
        ("14/3/25", date(2025, 3, 14)),
        ("3/4/2025", date(2025, 4, 3)),
        ("31.12.24", date(2024, 12, 31)),
        ("March 2025", date(2025, 3, 1)),
        ("last Saturday", date(2026, 11, 21)),
        ("yesterday", date(2026, 11, 26)),
        ("5 weeks ago", date(2026, 10, 23)),
        ("two months ago", date(2026, 9, 27)),
        ("Saturday 21 November", date(2026, 11, 21)),
        ("14-3-25", date(2025, 3, 14)),
        ("14/3/99", date(1999, 3, 14)),
        ("28/11", date(2025, 11, 28)),
        ("3/2025", date(2025, 3, 1)),
    ],
)
def test_a_date_as_people_write_it(text, day):
    assert read_date(text, TODAY) == day


@pytest.mark.parametrize(
    "text, words",
    [
        *((text, "no date read here") for text in (
            "12", "2025", "rubbish", "31 February 2025", "", "a", "10m", "1 hour ago", "12 2025",
            "2025-13-01", "0/0/0", "1 to 3 March", "14 March 2025 10:30", "1735689600",
        )),
        ("tomorrow", "still to come"),
        ("3/14/2025", "no month 14: the day comes first"),
        ("3/25", "no month 25: the day comes first"),
        ("Monday 13 March 2026", "is a Friday, not a Monday"),
        ("last week", "no single day"),
        ("Friday", "may be today or a week ago"),
    ],
)  # fmt: skip
def test_what_is_no_day_that_was_is_refused_in_one_sentence(text, words):
    with pytest.raises(NotADate, match=words) as error:
        read_date(text, TODAY)
    assert "\n" not in str(error.value)


@pytest.mark.parametrize("text", ["March 2025", "3/2025", "last month", "May"])
def test_a_whole_month_is_no_day_on_which_a_thing_happened(text):
    assert read_date(text, TODAY).day == 1
    with pytest.raises(NotADate, match="whole month"):
        read_date(text, TODAY, whole=False)


@given(st.dates(date(1990, 1, 1), TODAY), st.sampled_from("/.-"), st.booleans())
def test_figures_are_read_day_first(day, mark, short):
    year = f"{day.year % 100:02d}" if short else day.year
    assert read_date(f"{day.day}{mark}{day.month}{mark}{year}", TODAY) == day


@given(st.dates(date(1990, 1, 1), TODAY))
def test_a_date_in_words_reads_back(day):
    assert read_date(in_words(day), TODAY) == day
    assert read_date(day.isoformat(), TODAY) == day


@given(st.dates(date(1990, 1, 1), TODAY), st.integers(0, 240))
def test_months_are_counted_as_the_calendar_does(day, months):
    before = months_before(day, months)
    assert months <= whole_months(before, day) <= months + 1
    if day.day <= 28:
        assert whole_months(before, day) == months and before.day == day.day
