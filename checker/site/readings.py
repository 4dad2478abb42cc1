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
from checker.files.tree import Entry, Mapping, Scalar
from checker.values.positions import Position
from checker.values.refusals import quoted

GREATEST, LENGTH, INTERVAL = "greatest_demand", "record_length", "record_interval"

_TIME = "time"
_DEMANDS = {"kVA": "demand record", "kW": "demand record in kW, counted as kVA"}
_MOST_DIGITS = 12
"""More before or behind the decimal sign than any demand has; a limit of effort."""

_SHAPE = "Write one reading in a line, under the heading time,kVA or time,kW, as 2025-01-31 18:15,12.4."


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
        raise refusal(f"{file} holds no reading.", Position(file, 1, 1), _SHAPE)
    heading = [name.strip() for name in table[0]]
    time, demand = _columns(heading, file)
    rows = [(number, row) for number, row in enumerate(table[1:], start=2) if any(cell.strip() for cell in row)]
    readings = [_reading(row, time, demand, Position(file, number, 1)) for number, row in rows]
    if len(readings) < 2:
        raise refusal(f"{file} holds fewer than two readings.", Position(file, 1, 1), _SHAPE)
    return tuple(_facts(readings, _interval(readings), _DEMANDS[heading[demand]]))


def _table(content: bytes, file: str) -> list[list[str]]:
    try:
        return list(csv.reader(_text(content, file).splitlines()))
    except csv.Error as error:
        raise refusal(f"{file} is no table of readings.", Position(file, 1, 1), _SHAPE) from error


def _text(content: bytes, file: str) -> str:
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        sentence = f"{file} is no text in UTF-8."
        raise refusal(sentence, Position(file, 1, 1), "Export the readings as comma-separated text.") from error


def _columns(heading: Sequence[str], file: str) -> tuple[int, int]:
    at = Position(file, 1, 1)
    demand = next((name for name in _DEMANDS if name in heading), None)
    if _TIME not in heading or demand is None:
        shown = ", ".join(heading)
        raise refusal(f"The heading of the readings is {quoted(shown)}.", at, _SHAPE)
    return heading.index(_TIME), heading.index(demand)


def _reading(row: Sequence[str], time: int, demand: int, at: Position) -> Reading:
    if len(row) <= max(time, demand):
        raise refusal("The line of readings is too short.", at, _SHAPE)
    return Reading(_time(row[time].strip(), at), _number(row[demand].strip(), at), at)


def _time(text: str, at: Position) -> datetime:
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise refusal(f"{quoted(text)} is no time.", at, "Write it as 2025-01-31 18:15.") from error


def _number(text: str, at: Position) -> Fraction:
    try:
        number = Decimal(text)
    except InvalidOperation:
        number = Decimal("NaN")
    if not number.is_finite() or abs(number.adjusted()) > _MOST_DIGITS:
        raise refusal(f"{quoted(text)} is no demand.", at, "Write a number in the unit of the heading, as 12.4.")
    return Fraction(number)


def _interval(readings: Sequence[Reading]) -> timedelta:
    """The interval of the record; refuses readings that go back, or that do not stand on one grid."""
    steps = [_step(earlier, later) for earlier, later in pairwise(readings)]
    interval = min(steps)
    for reading, step in zip(readings[1:], steps, strict=True):
        if step % interval:
            sentence = f"This reading does not come a whole number of intervals of {interval} after the one before."
            raise refusal(sentence, reading.at, "Export the readings with one interval.")
    return interval


def _step(earlier: Reading, later: Reading) -> timedelta:
    if (earlier.time.tzinfo is None) != (later.time.tzinfo is None):
        raise refusal("Some times have an offset and some have none.", later.at, "Write all of them in one way.")
    if later.time <= earlier.time:
        sentence = "This reading does not come after the one before."
        raise refusal(sentence, later.at, "Where the clocks were put back, write the offset, as 01:30-05:00.")
    return later.time - earlier.time


def _facts(readings: Sequence[Reading], interval: timedelta, per: str) -> Iterator[Entry]:
    greatest = max(readings, key=lambda reading: reading.demand)
    lowest = min(readings, key=lambda reading: reading.demand)
    if lowest.demand < 0:
        sentence = "The demand goes below zero, so that something on the site feeds back."
        raise refusal(sentence, lowest.at, "Such a record does not tell the load; calculate it.")
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
