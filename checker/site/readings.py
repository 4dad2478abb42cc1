"""Readings of demand in a table beside the site file: what the record of a meter says, taken as if it were written."""

from __future__ import annotations

import csv
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from itertools import pairwise

from checker.catalog.reading.written import refusal
from checker.files.yaml.tree import Entry, Mapping, Scalar
from checker.values.positions import Position
from checker.values.problems import Unreadable
from checker.values.refusals import nearest, quoted

GREATEST, LENGTH, INTERVAL = "greatest_demand", "record_length", "record_interval"

_TIME = "time"
_DEMANDS = {"kVA": "demand record", "kW": "demand record in kW, counted as kVA"}
_MOST_DIGITS = 12
"""More before or behind the decimal sign than any demand has; a limit of effort."""

_SHAPE = "Write one reading in a line, under the heading time,kVA or time,kW, as 2025-01-31 18:15,12.4."
_TIME_SHAPE = "Write day and time as 2025-01-31 18:15."
_CALCULATE = "State the load from a calculation instead (load_method: optional, or standard)."


@dataclass(frozen=True, slots=True)
class Reading:
    """The average demand (kVA) of one interval, its beginning or end, and where it stands."""

    time: datetime
    demand: Fraction
    at: Position


def readings_of(content: bytes, file: str) -> tuple[Entry, ...]:
    """What a table of readings says of its paper: the greatest demand, and the time and the interval that it covers.

    A table has a heading with ``time`` and ``kVA`` or ``kW``; other columns are not read. Times are as ISO 8601 has
    them and rise by one interval; a gap is let stand, and the time that is covered is that of the readings that are
    there. Raises Unreadable.
    """
    table = _table(content, file)
    if not table:
        raise refusal(f"The record of demand {file} is empty.", Position(file, 1, 1), _SHAPE)
    heading = [name.strip() for name in table[0]]
    time, demand = _columns(heading, file)
    rows = [(number, row) for number, row in enumerate(table[1:], start=2) if any(cell.strip() for cell in row)]
    readings = [_reading(row, time, demand, Position(file, number, 1)) for number, row in rows]
    if len(readings) < 2:
        sentence = f"The record of demand {file} has {_count(readings)}; its interval shows only from two on."
        raise refusal(sentence, Position(file, 1, 1), _SHAPE)
    return tuple(_facts(readings, _interval(readings), _DEMANDS[heading[demand]]))


def _count(readings: Sequence[Reading]) -> str:
    return "one reading" if readings else "a heading and no reading"


def _table(content: bytes, file: str) -> list[list[str]]:
    try:
        return list(csv.reader(_text(content, file).splitlines()))
    except csv.Error as error:
        sentence = f"The record of demand {file} cannot be read as a table of comma-separated values."
        raise refusal(sentence, Position(file, 1, 1), _SHAPE) from error


def _text(content: bytes, file: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        sentence = (
            f"The record of demand {file} is not plain text in UTF-8; a workbook or another encoding is not read."
        )
        remedy = "Save the sheet as comma-separated values (.csv) in UTF-8."
        raise refusal(sentence, Position(file, 1, 1), remedy) from error


def _columns(heading: Sequence[str], file: str) -> tuple[int, int]:
    at = Position(file, 1, 1)
    if _TIME not in heading:
        raise _no_column("time", (_TIME,), heading, at)
    demand = next((name for name in _DEMANDS if name in heading), None)
    if demand is None:
        raise _no_column("kVA or kW", tuple(_DEMANDS), heading, at)
    return heading.index(_TIME), heading.index(demand)


def _no_column(what: str, names: Sequence[str], heading: Sequence[str], at: Position) -> Unreadable:
    """That a column is missing, with the name that the nearest of the columns should have."""
    near = next((found for each in heading if (found := nearest(each, names))), None)
    shown = quoted(", ".join(heading))
    return refusal(f"No column of the record is headed {what}; its first line reads: {shown}.", at, _SHAPE, near)


def _reading(row: Sequence[str], time: int, demand: int, at: Position) -> Reading:
    if len(row) <= max(time, demand):
        raise refusal("This line of the record has no value under time or under the demand.", at, _SHAPE)
    return Reading(_time(row[time].strip(), at), _number(row[demand].strip(), at), at)


def _time(text: str, at: Position) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise refusal(f"The time of this reading, {quoted(text)}, cannot be read.", at, _TIME_SHAPE) from error


def _number(text: str, at: Position) -> Fraction:
    try:
        number = Decimal(text)
    except InvalidOperation:
        number = Decimal("NaN")
    if not number.is_finite() or abs(number.adjusted()) > _MOST_DIGITS:
        remedy = (
            "Write a number alone, in the unit of the heading, as 12.4; leave the line out where nothing was recorded."
        )
        raise refusal(f"The demand of this reading, {quoted(text)}, is not one number.", at, remedy)
    return Fraction(number)


def _interval(readings: Sequence[Reading]) -> timedelta:
    """The interval of the record; refuses readings that go back, or that do not stand on one grid."""
    steps = [_step(earlier, later) for earlier, later in pairwise(readings)]
    interval = min(steps)
    for reading, step in zip(readings[1:], steps, strict=True):
        if step % interval:
            comes = f"This reading comes {_minutes(step)} after the one before"
            remedy = "Export the whole record with one interval; whole intervals may be missing."
            raise refusal(f"{comes}; the interval of the record is {_minutes(interval)}.", reading.at, remedy)
    return interval


def _minutes(time: timedelta) -> str:
    return f"{float(time / timedelta(minutes=1)):g} min"


def _step(earlier: Reading, later: Reading) -> timedelta:
    if (earlier.time.tzinfo is None) != (later.time.tzinfo is None):
        sentence = "This reading and the one before differ in that one of them names its offset from UTC."
        raise refusal(sentence, later.at, "Write every time with its offset, as 01:30-05:00, or every time without.")
    if later.time <= earlier.time:
        sentence = "This reading is not later than the one before."
        remedy = "Sort the record, with nothing twice; where clocks were put back, write offsets, as 01:30-05:00."
        raise refusal(sentence, later.at, remedy)
    return later.time - earlier.time


def _facts(readings: Sequence[Reading], interval: timedelta, per: str) -> Iterator[Entry]:
    greatest = max(readings, key=lambda reading: reading.demand)
    lowest = min(readings, key=lambda reading: reading.demand)
    if lowest.demand < 0:
        sentence = (
            "The demand of this reading is below zero: something on the site feeds back and hides what the loads take."
        )
        raise refusal(sentence, lowest.at, _CALCULATE)
    first, minutes = readings[0].at, Fraction(interval // timedelta(seconds=1), 60)
    yield _entry(GREATEST, f"{_plain(greatest.demand)} kVA", per, greatest.at)
    yield _entry(LENGTH, f"{_plain(minutes * len(readings))} min", per, first)
    yield _entry(INTERVAL, f"{_plain(minutes)} min", per, first)


def _entry(name: str, text: str, per: str, at: Position) -> Entry:
    parts = (Entry("value", at, Scalar(text, at)), Entry("per", at, Scalar(per, at)))
    return Entry(name, at, Mapping(parts, at))


def _plain(number: Fraction) -> str:
    """The number as people write it, without an exponent."""
    return format(Decimal(number.numerator) / Decimal(number.denominator), "f")
