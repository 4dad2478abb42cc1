"""A schedule for the terminal: a column for each piece, a row for each property, and the rules in notes below."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

from checker.report.paragraphs import dated_words, rules_words
from checker.report.safe import harmless
from checker.report.text import PLAIN, WIDTH, Style, wrapped
from checker.report.words import DISCLAIMER, authority_text, counted, joined
from checker.tasks.scheduling.model import Bound, Cell, Column, Combination, Note, Schedule, Table, Together

NAME_WIDTH, CELL_WIDTH, MOST_BESIDE = 26, 28, 2
"""Columns of a property and of a piece, and how many pieces stand side by side in one band."""

GAP = "  "

NOTE_INDENT = 4
"""Column at which a note begins after its number."""


def schedule_text(schedule: Schedule, style: Style = PLAIN) -> str:
    """The whole schedule, ending in a line feed."""
    sections = (
        _opening(schedule, style),
        *(_table(each, style) for each in schedule.tables),
        _all_together(schedule.together, style),
        _notes(schedule.notes, style),
        _closing(schedule),
    )
    blocks = ("\n".join(lines) for lines in map(list, sections) if lines)
    return "\n\n".join(blocks) + "\n"


def _opening(schedule: Schedule, style: Style) -> Iterator[str]:
    title = f"{schedule.site_name}: what each piece must be, {dated_words(schedule.in_force)}"
    yield from (style.underline(line) for line in wrapped(title))
    for sentence in rules_words(schedule.in_force):
        yield from wrapped(sentence)
    yield from wrapped(
        "Each cell says what the rules in force leave of one property while all else stays as shown; the numbers are "
        "those of the notes. Not told of: a rule neither turns it down nor is met yet. Practice: better, and not asked "
        "for. Open: rules that may still bound it, once what they wait for is shown. May bring: a correction of "
        "something else, as of a sign. Where nothing is said, no rule bounds it."
    )
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
    names = [f"{column.tag}, {column.title}" if column.title != "run" else column.tag for column in columns]
    heads = [_wrapped(name, CELL_WIDTH) for name in names]
    yield from (style.bold(line) for line in _laid([""], heads))
    for fact in dict.fromkeys(_row(cell) for column in columns for cell in column.cells):
        cells = [next((each for each in column.cells if _row(each) == fact), None) for column in columns]
        title = next(each.title for each in cells if each is not None)
        yield from _laid(_wrapped(title, NAME_WIDTH), [_cell_lines(each) for each in cells])


def _row(cell: Cell) -> tuple[str, str]:
    """Properties of one name stand in one row; a way has a row of its own."""
    return (cell.fact, cell.title)


def _laid(name: list[str], cells: list[list[str]]) -> Iterator[str]:
    for line in range(max(len(name), *(len(cell) for cell in cells))):
        texts = [_at(name, line).ljust(NAME_WIDTH), *(_at(cell, line).ljust(CELL_WIDTH) for cell in cells)]
        yield GAP.join(texts).rstrip()


def _at(lines: list[str], place: int) -> str:
    return lines[place] if place < len(lines) else ""


def _cell_lines(cell: Cell | None) -> list[str]:
    if cell is None:
        return [""]
    lines = [line for text in _bound_words(cell.bound) for line in _wrapped(text, CELL_WIDTH)]
    shown = _shown_words(cell)
    return [*lines, *(_wrapped(shown, CELL_WIDTH) if shown else [])]


def _shown_words(cell: Cell) -> str:
    if not cell.shown:
        return "not shown" if cell.bound.must else ""
    aside = ", which is not among them" if cell.kept is False else ""
    return f"shown {cell.shown}{aside}{', and follows from what else is drawn' if cell.follows else ''}"


def _bound_words(bound: Bound) -> Iterator[str]:
    if bound.must:
        notes = f" ({_numbers(bound.must_notes)})" if bound.must_notes else ""
        yield f"{bound.must}{notes}"
    if bound.undecided:
        yield f"not told of {bound.undecided} ({_numbers(bound.undecided_notes)})"
    if bound.better:
        yield f"practice: {bound.better} ({_numbers(bound.better_notes)})"
    if bound.open:
        yield f"open: {_numbers(bound.open)}"
    if bound.brings:
        yield f"may bring: {_numbers(bound.brings)}"


def _numbers(notes: Sequence[int]) -> str:
    return ", ".join(map(str, notes))


def _wrapped(text: str, width: int) -> list[str]:
    return textwrap.wrap(harmless(text), width, break_on_hyphens=False) or [""]


# --- facts that hang together ----------------------------------------------------------------------------------------


def _all_together(found: Sequence[Together], style: Style) -> Iterator[str]:
    if not found:
        return
    yield style.underline("What hangs together")
    yield from wrapped("Where two of these are changed at once, these lines count and not the cells above.")
    for each in found:
        yield ""
        yield from _together(each, style)


def _together(together: Together, style: Style) -> Iterator[str]:
    yield style.bold(together.title)
    *first, last = (f"{title}" for title in together.titles)
    for combination in together.combinations:
        yield from wrapped(_combination(first, last, combination), indent=2)
    if together.left_out:
        yield from wrapped(f"{counted(together.left_out, 'combination')} more not tried.", indent=2)


def _combination(first: Sequence[str], last: str, combination: Combination) -> str:
    given = ", ".join(f"{title} {value}" for title, value in zip(first, combination.given, strict=True))
    told = "; ".join(_bound_words(combination.bound)) or "not bounded"
    return f"{given}{' (as shown)' if combination.as_shown else ''}: {last} {told}"


# --- notes and closing -----------------------------------------------------------------------------------------------


def _notes(notes: Sequence[Note], style: Style) -> Iterator[str]:
    if not notes:
        return
    yield style.underline("Notes")
    for note in notes:
        first, *rest = _wrapped(f"{note.finding.subject.words}: {note.finding.title}.", WIDTH - NOTE_INDENT)
        yield f"{note.number:<{NOTE_INDENT}}{first}"
        yield from (" " * NOTE_INDENT + line for line in rest)
        told = f"{authority_text(note.finding)}; {note.finding.rule}"
        yield from (style.dim(line) for line in wrapped(told, indent=NOTE_INDENT))


def _closing(schedule: Schedule) -> Iterator[str]:
    outside = [
        cell for table in schedule.tables for column in table.columns for cell in column.cells if cell.kept is False
    ]
    if outside:
        names = joined(f"{cell.subject} {cell.title}" for cell in outside)
        yield from wrapped(f"Shown and not among what is left: {names}.")
    else:
        yield from wrapped("Nothing that is shown is outside what the rules leave, as far as they could be judged.")
    if schedule.not_told:
        yield from wrapped(f"Not or not wholly tried: {'; '.join(schedule.not_told)}.")
    for limit in schedule.limits:
        yield from wrapped(limit)
    yield from wrapped(
        "What no rule in force compares is not in it: size, make and features are chosen by who designs and signs."
    )
