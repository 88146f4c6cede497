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
    ],
)
def test_a_date_as_people_write_it(text, day):
    assert read_date(text, TODAY) == day


@pytest.mark.parametrize("text", ["12", "2025", "rubbish", "31 February 2025", "tomorrow", ""])
def test_what_is_no_day_that_was_is_refused(text):
    with pytest.raises(NotADate):
        read_date(text, TODAY)


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
