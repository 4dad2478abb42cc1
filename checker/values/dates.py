"""Dates, dates as day numbers, and lengths of time that the calendar counts."""

from __future__ import annotations

import calendar
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from checker.values.refusals import NotationError, quoted, readable

_ISO = re.compile(r"([0-9]{4})-([0-9]{2})-([0-9]{2})")
_STROKES = re.compile(r"([0-9]{1,2})[/.-]([0-9]{1,2})[/.-]([0-9]{4}|[0-9]{2})")
_SPAN_PART = re.compile(r"\s*(?P<count>[0-9]{1,4})\s*-?\s*(?P<unit>[a-z]+)\.?\s*(?:,|and\b)?", re.IGNORECASE)
_CENTURY = 2000
_MONTHS_PER_YEAR = 12
_DAYS_PER_WEEK = 7

_SPAN_UNITS: Mapping[str, tuple[int, int]] = {
    "y": (_MONTHS_PER_YEAR, 0), "yr": (_MONTHS_PER_YEAR, 0), "yrs": (_MONTHS_PER_YEAR, 0),
    "year": (_MONTHS_PER_YEAR, 0), "years": (_MONTHS_PER_YEAR, 0),
    "mo": (1, 0), "mos": (1, 0), "month": (1, 0), "months": (1, 0),
    "wk": (0, _DAYS_PER_WEEK), "wks": (0, _DAYS_PER_WEEK), "week": (0, _DAYS_PER_WEEK), "weeks": (0, _DAYS_PER_WEEK),
    "d": (0, 1), "day": (0, 1), "days": (0, 1),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class CalendarSpan:
    """Months and days, counted by the calendar: a month is as long as the calendar makes it."""

    months: int = 0
    days: int = 0


def read_date(text: str) -> date:
    """``2026-03-14``; raises NotationError for every other way of writing a date."""
    typed = readable(text)
    match = _ISO.fullmatch(typed)
    if match is None:
        raise _not_iso(typed)
    day = _calendar_day(int(match[1]), int(match[2]), int(match[3]))
    if day is None:
        raise NotationError(f"{quoted(typed)} is no day of the calendar.", "Write year, month and day, as 2026-03-14.")
    return day


def read_date_as_typed(text: str) -> date:
    """A date that a person typed in answer to a question: also with strokes, where the calendar has one reading only,
    as 11/26/2026. Raises NotationError.
    """
    match = _STROKES.fullmatch(readable(text))
    if match is None or len(match[3]) < len("2026"):
        return read_date(text)
    first, second, year = int(match[1]), int(match[2]), int(match[3])
    readings = {_calendar_day(year, first, second), _calendar_day(year, second, first)} - {None}
    found = readings.pop() if len(readings) == 1 else None
    return read_date(text) if found is None else found


def _not_iso(text: str) -> NotationError:
    match = _STROKES.fullmatch(text)
    if match is None:
        return NotationError(f"{quoted(text)} is not read as a date.", "Write year, month and day, as 2026-03-14.")
    first, second, year = int(match[1]), int(match[2]), int(match[3])
    year += _CENTURY if len(match[3]) < len("2026") else 0
    readings = {_calendar_day(year, first, second), _calendar_day(year, second, first)} - {None}
    written = " or ".join(sorted(str(day) for day in readings))
    if not written:
        return NotationError(f"{quoted(text)} is no day of the calendar.", "Write year, month and day, as 2026-03-14.")
    return NotationError(
        f"{quoted(text)} can be read as month and day or as day and month.",
        f"Write {written}." if len(readings) > 1 else f"Write {written}, the only one of the two that exists.",
    )


def _calendar_day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None


def day_number(day: date) -> Fraction:
    """The place of a day on the number line: days since the day before 0001-01-01."""
    return Fraction(day.toordinal())


def date_of(number: Fraction) -> date:
    """The day at a place on the number line; ValueError where no day is there."""
    if number.denominator != 1:
        raise ValueError(f"{number} is between two days")
    return date.fromordinal(number.numerator)


def read_span(text: str) -> CalendarSpan:
    """``12 months``, ``10 years``, ``30 days``, ``1 year 6 months``; raises NotationError."""
    typed = readable(text)
    months = days = place = 0
    while place < len(typed):
        match = _SPAN_PART.match(typed, place)
        factors = _SPAN_UNITS.get(match["unit"].casefold()) if match else None
        if match is None or factors is None:
            raise NotationError(f"{quoted(typed)} is not a number of days, months or years.", "Write it as 18 months.")
        months += int(match["count"]) * factors[0]
        days += int(match["count"]) * factors[1]
        place = match.end()
    return CalendarSpan(months, days)


def subtract(day: date, span: CalendarSpan) -> date:
    """The day that lies a span earlier; where the month is too short, its last day (31 March - 1 month = 28 February).

    NotationError where the calendar does not reach back so far.
    """
    index = day.year * _MONTHS_PER_YEAR + day.month - 1 - span.months
    year, month = index // _MONTHS_PER_YEAR, index % _MONTHS_PER_YEAR + 1
    try:
        last = calendar.monthrange(year, month)[1]
        return date(year, month, min(day.day, last)) - timedelta(days=span.days)
    except (ValueError, OverflowError):
        raise NotationError(
            "The length of time reaches back before the calendar begins.", "Write a shorter one."
        ) from None
