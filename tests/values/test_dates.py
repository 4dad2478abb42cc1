"""Dates and lengths of time that the calendar counts."""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.dates import CalendarSpan, date_of, day_number, read_date, read_span, subtract
from checker.values.refusals import NotationError

DAYS = st.dates(date(1900, 1, 1), date(2200, 12, 31))


@pytest.mark.parametrize(
    ("text", "day"), [("2026-03-14", date(2026, 3, 14)), (" 2024-02-29 ", date(2024, 2, 29)), ("0001-01-01", date.min)]
)
def test_accepted(text: str, day: date) -> None:
    assert read_date(text) == day


@pytest.mark.parametrize(
    ("text", "words", "remedy"),
    [
        ("03/14/2026", "month and day or as day and month", "Write 2026-03-14, the only one"),
        ("14/03/2026", "month and day or as day and month", "Write 2026-03-14, the only one"),
        ("03/04/2026", "month and day or as day and month", "Write 2026-03-04 or 2026-04-03."),
        ("3-4-26", "month and day or as day and month", "Write 2026-03-04 or 2026-04-03."),
        ("3.4.2026", "month and day or as day and month", "Write 2026-03-04 or 2026-04-03."),
        ("13/13/2026", "no day of the calendar", "2026-03-14"),
        ("2026-02-30", "no day of the calendar", "2026-03-14"),
        ("2025-02-29", "no day of the calendar", "2026-03-14"),
        ("2026-13-01", "no day of the calendar", "2026-03-14"),
        ("0000-01-01", "no day of the calendar", "2026-03-14"),
        ("2026-3-14", "not read as a date", "2026-03-14"),
        ("20260314", "not read as a date", "2026-03-14"),
        ("March 14, 2026", "not read as a date", "2026-03-14"),
        ("2026", "not read as a date", "2026-03-14"),
        ("", "Nothing is written", "unknown"),
    ],
)
def test_refused(text: str, words: str, remedy: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_date(text)
    assert words in refused.value.sentence
    assert remedy in refused.value.remedy


@given(DAYS)
def test_a_day_has_one_place_on_the_line(day: date) -> None:
    assert date_of(day_number(day)) == day
    assert day_number(day + timedelta(days=1)) - day_number(day) == 1
    assert read_date(str(day)) == day


def test_there_is_no_day_between_two_days() -> None:
    with pytest.raises(ValueError, match="between two days"):
        date_of(Fraction(1, 2))


@pytest.mark.parametrize(
    ("text", "months", "days"),
    [
        ("12 months", 12, 0),
        ("12 mo.", 12, 0),
        ("1 month", 1, 0),
        ("10 years", 120, 0),
        ("10-year", 120, 0),
        ("10 yrs", 120, 0),
        ("30 days", 0, 30),
        ("30d", 0, 30),
        ("2 weeks", 0, 14),
        ("1 year 6 months", 18, 0),
        ("1 year, 6 months and 3 days", 18, 3),
        ("0 days", 0, 0),
    ],
)
def test_spans(text: str, months: int, days: int) -> None:
    assert read_span(text) == CalendarSpan(months, days)


@pytest.mark.parametrize(
    "text", ["12", "months", "1.5 years", "5 hours", "a year", "12 months 5", "-3 days", "1e3 days", ""]
)
def test_spans_refused(text: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_span(text)
    assert refused.value.sentence.endswith(".")


@pytest.mark.parametrize(
    ("day", "span", "earlier"),
    [
        ("2026-03-31", CalendarSpan(1), "2026-02-28"),
        ("2024-03-31", CalendarSpan(1), "2024-02-29"),
        ("2024-02-29", CalendarSpan(12), "2023-02-28"),
        ("2024-02-29", CalendarSpan(48), "2020-02-29"),
        ("2026-01-15", CalendarSpan(1), "2025-12-15"),
        ("2026-01-15", CalendarSpan(12), "2025-01-15"),
        ("2026-03-14", CalendarSpan(0, 30), "2026-02-12"),
        ("2026-03-31", CalendarSpan(1, 1), "2026-02-27"),
        ("2026-03-14", CalendarSpan(), "2026-03-14"),
    ],
)
def test_subtraction_by_the_calendar(day: str, span: CalendarSpan, earlier: str) -> None:
    assert subtract(read_date(day), span) == read_date(earlier)


@given(DAYS, DAYS, st.builds(CalendarSpan, st.integers(0, 600), st.integers(0, 1000)))
def test_subtraction_keeps_the_order_of_days(first: date, second: date, span: CalendarSpan) -> None:
    early, late = sorted((first, second))
    assert subtract(early, span) <= subtract(late, span)


@given(DAYS, st.integers(0, 600))
def test_months_land_in_the_right_month(day: date, months: int) -> None:
    earlier = subtract(day, CalendarSpan(months))
    assert (day.year - earlier.year) * 12 + day.month - earlier.month == months
    assert earlier.day == day.day or (earlier + timedelta(days=1)).day == 1


def test_the_calendar_has_a_beginning() -> None:
    for span in (CalendarSpan(12 * 9999), CalendarSpan(0, 10**6), CalendarSpan(12 * 2025, 400)):
        with pytest.raises(NotationError, match="before the calendar begins"):
            subtract(date(2026, 3, 14), span)
