"""A schedule as one HTML page that holds everything in itself: one column for each piece, one row for each property,
and in each cell links to the notes that name the rules.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.report.paragraphs import rules_words
from checker.report.schedule.words import (
    HOW_TO_READ,
    HOW_TO_READ_TOGETHER,
    TOGETHER,
    Line,
    asides_told,
    bound_words,
    closing,
    column_words,
    combinations_told,
    note_words,
    rows_of,
    shown_words,
    title_of,
    turned_down_told,
)
from checker.report.setting import environment
from checker.report.words import DISCLAIMER
from checker.tasks.scheduling.model import Bound, Cell, Note, Schedule, Table, Together


@dataclass(frozen=True, slots=True)
class SetCell:
    """What is left of a property, line by line, and what is shown."""

    lines: tuple[Line, ...]
    shown: str
    is_outside: bool


@dataclass(frozen=True, slots=True)
class SetTable:
    """A table as it is set: the heads of the columns, and each row with its cells."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[SetCell, ...]], ...]


@dataclass(frozen=True, slots=True)
class SetTogether:
    """Facts that hang together: each combination with what is left, those turned down, and what else is told."""

    title: str
    combinations: tuple[tuple[str, tuple[Line, ...]], ...]
    turned_down: tuple[Line, ...]
    asides: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SetNote:
    """A note: what the rule asks of what, and on whose authority."""

    number: int
    sentence: str
    told: str


def schedule_html(schedule: Schedule) -> str:
    """The whole page, ending in a line feed: the same bytes for the same schedule."""
    return (
        environment("page")
        .get_template("schedule.html")
        .render(
            title=title_of(schedule),
            opening=(*rules_words(schedule.in_force), HOW_TO_READ, DISCLAIMER),
            tables=tuple(_table(each) for each in schedule.tables),
            together_heading=TOGETHER,
            together_opening=HOW_TO_READ_TOGETHER,
            together=tuple(_together(each) for each in schedule.together),
            notes=tuple(_note(each) for each in schedule.notes),
            closing=tuple(closing(schedule)),
        )
    )


def _table(table: Table) -> SetTable:
    columns = [column for column in table.columns if column.cells]
    rows = ((title, tuple(_cell(each) for each in cells)) for title, cells in rows_of(columns))
    return SetTable(table.title, tuple(column_words(each) for each in columns), tuple(rows))


def _cell(cell: Cell | None) -> SetCell:
    if cell is None:
        return SetCell((), "", is_outside=False)
    return SetCell(tuple(_lines(cell.bound)), shown_words(cell), is_outside=cell.kept is False)


def _lines(bound: Bound) -> Iterator[Line]:
    yield from bound_words(bound)


def _together(together: Together) -> SetTogether:
    return SetTogether(
        together.title,
        tuple(combinations_told(together)),
        tuple(turned_down_told(together)),
        tuple(asides_told(together)),
    )


def _note(note: Note) -> SetNote:
    return SetNote(note.number, *note_words(note))
