"""A schedule for the terminal: a column for each piece, a row for each property, and the rules in notes below."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from checker.report.paragraphs import rules_words
from checker.report.safe import harmless
from checker.report.schedule.words import (
    HOW_TO_READ,
    HOW_TO_READ_TOGETHER,
    MORE_MAY_BE_WANTED,
    NOT_SETTLED_HERE,
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
from checker.report.text import PLAIN, WIDTH, Style, wrapped
from checker.report.words import DISCLAIMER
from checker.tasks.scheduling.model import Bound, Cell, Column, Note, Schedule, Table, Together

NAME_WIDTH, CELL_WIDTH, MOST_BESIDE = 26, 28, 2
"""Columns of a property and of a piece, and how many pieces stand side by side in one band."""

GAP = "  "

NOTE_INDENT = 4
"""Column at which a note begins after its number."""

WITH_COLON = ("open", MORE_MAY_BE_WANTED, "may bring", NOT_SETTLED_HERE)
"""Said of notes alone, which then follow a colon."""


def schedule_text(schedule: Schedule, style: Style = PLAIN) -> str:
    """The whole schedule, ending in a line feed."""
    sections = (
        _opening(schedule, style),
        *(_table(each, style) for each in schedule.tables),
        _all_together(schedule.together, style),
        _notes(schedule.notes, style),
        (line for sentence in closing(schedule) for line in wrapped(sentence)),
    )
    blocks = ("\n".join(lines) for lines in map(list, sections) if lines)
    return "\n\n".join(blocks) + "\n"


def _opening(schedule: Schedule, style: Style) -> Iterator[str]:
    yield from (style.underline(line) for line in wrapped(title_of(schedule)))
    for sentence in rules_words(schedule.in_force):
        yield from wrapped(sentence)
    yield from wrapped(HOW_TO_READ)
    yield from wrapped(DISCLAIMER)


# --- tables ----------------------------------------------------------------------------------------------------------


def _table(table: Table, style: Style) -> Iterator[str]:
    yield style.underline(table.title)
    columns = [column for column in table.columns if column.cells]
    for start in range(0, len(columns), MOST_BESIDE):
        if start:
            yield ""
        yield from _band(columns[start : start + MOST_BESIDE], style)


def _band(columns: Sequence[Column], style: Style) -> Iterator[str]:
    heads = [_wrapped(column_words(column), CELL_WIDTH) for column in columns]
    yield from (style.bold(line) for line in _laid([""], heads))
    for title, cells in rows_of(columns):
        yield from _laid(_wrapped(title, NAME_WIDTH), [_cell_lines(each) for each in cells])


def _laid(name: list[str], cells: list[list[str]]) -> Iterator[str]:
    for line in range(max(len(name), *(len(cell) for cell in cells))):
        texts = [_at(name, line).ljust(NAME_WIDTH), *(_at(cell, line).ljust(CELL_WIDTH) for cell in cells)]
        yield GAP.join(texts).rstrip()


def _at(lines: list[str], place: int) -> str:
    return lines[place] if place < len(lines) else ""


def _cell_lines(cell: Cell | None) -> list[str]:
    if cell is None:
        return [""]
    lines = [line for text in _bound_texts(cell.bound) for line in _wrapped(text, CELL_WIDTH)]
    shown = shown_words(cell)
    return [*lines, *(_wrapped(shown, CELL_WIDTH) if shown else [])]


def _bound_texts(bound: Bound) -> Iterator[str]:
    yield from map(_line_text, bound_words(bound))


def _line_text(line: Line) -> str:
    words, notes = line
    numbers = ", ".join(map(str, notes))
    return f"{words}: {numbers}" if words in WITH_COLON else f"{words} ({numbers})" if numbers else words


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(harmless(text), width, break_on_hyphens=False) or [""]


# --- facts that hang together ----------------------------------------------------------------------------------------


def _all_together(found: Sequence[Together], style: Style) -> Iterator[str]:
    if not found:
        return
    yield style.underline(TOGETHER)
    yield from wrapped(HOW_TO_READ_TOGETHER)
    for each in found:
        yield ""
        yield from _together(each, style)


def _together(together: Together, style: Style) -> Iterator[str]:
    yield style.bold(together.title)
    for given, lines in combinations_told(together):
        yield from wrapped(f"{given} {'; '.join(map(_line_text, lines))}", indent=2)
    for line in turned_down_told(together):
        yield from wrapped(_line_text(line), indent=2)
    for aside in asides_told(together):
        yield from wrapped(aside, indent=2)


# --- notes -----------------------------------------------------------------------------------------------------------


def _notes(notes: Sequence[Note], style: Style) -> Iterator[str]:
    if not notes:
        return
    yield style.underline("Notes")
    for note in notes:
        sentence, told = note_words(note)
        first, *rest = _wrapped(sentence, WIDTH - NOTE_INDENT)
        yield f"{note.number:<{NOTE_INDENT}}{first}"
        yield from (" " * NOTE_INDENT + line for line in rest)
        yield from (style.dim(line) for line in wrapped(told, indent=NOTE_INDENT))
