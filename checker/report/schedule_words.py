"""What a schedule says in sentences, whatever sets them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.report.paragraphs import dated_words
from checker.report.words import authority_text, counted, joined
from checker.tasks.scheduling.model import Bound, Cell, Column, Combination, Note, Schedule, Together

HOW_TO_READ = (
    "Each cell says what the rules in force leave of one property while all else stays as shown; the numbers are "
    "those of the notes. Not told of: a rule neither turns it down nor is met yet. Practice: better, and not asked "
    "for. Open: rules that may still bound it, once what they wait for is shown. May bring: a correction of "
    "something else, as of a sign. Where nothing is said, no rule bounds it."
)
TOGETHER = "What hangs together"
MORE_MAY_BE_WANTED = "and what is not told yet may want more"
HOW_TO_READ_TOGETHER = "Where two of these are changed at once, these lines count and not the cells above."


def title_of(schedule: Schedule) -> str:
    """Site, event, date and jurisdiction."""
    return f"{schedule.site_name}: what each piece must be, {dated_words(schedule.in_force)}"


def column_words(column: Column) -> str:
    """The head of a column: the tag and what it is; of a run its ends alone."""
    return column.tag if column.title == "run" else f"{column.tag}, {column.title}"


def rows_of(columns: Sequence[Column]) -> Iterator[tuple[str, list[Cell | None]]]:
    """Each property with its cell in each column. Properties of one name stand in one row, a way has its own."""
    for row in dict.fromkeys(_row(cell) for column in columns for cell in column.cells):
        yield row[1], [next((each for each in column.cells if _row(each) == row), None) for column in columns]


def _row(cell: Cell) -> tuple[str, str]:
    return (cell.fact, cell.title)


def bound_words(bound: Bound) -> Iterator[tuple[str, tuple[int, ...]]]:
    """What is left, each line with the numbers of the notes that say so."""
    if bound.must:
        yield bound.must, bound.must_notes
    if bound.undecided:
        yield f"not told of {bound.undecided}", bound.undecided_notes
    if bound.better:
        yield f"practice: {bound.better}", bound.better_notes
    if bound.open:
        yield MORE_MAY_BE_WANTED if bound.must else "open", bound.open
    if bound.brings:
        yield "may bring", bound.brings


def shown_words(cell: Cell) -> str:
    """What is shown; that nothing is, where something is wanted."""
    if not cell.shown:
        return "not shown" if cell.bound.must else ""
    # Where no choice of it is left, what is shown is no worse than the others: the findings of the notes stand.
    aside = ", which is not among them" if cell.kept is False and not cell.bound.nothing_left else ""
    return f"shown {cell.shown}{aside}{', and follows from what else is drawn' if cell.follows else ''}"


def combination_words(together: Together, combination: Combination) -> str:
    """The values that are given, and the name of the fact that is told for them."""
    *first, last = together.titles
    given = ", ".join(f"{title} {value}" for title, value in zip(first, combination.given, strict=True))
    return f"{given}{' (as shown)' if combination.as_shown else ''}: {last}"


def left_out_words(together: Together) -> str:
    """How many combinations were not tried; empty where all were."""
    return f"{counted(together.left_out, 'combination')} more not tried." if together.left_out else ""


def note_words(note: Note) -> tuple[str, str]:
    """What the rule asks of what, and on whose authority, with its id."""
    found = note.finding
    return f"{found.subject.words}: {found.title}.", f"{authority_text(found)}; {found.rule}"


def closing(schedule: Schedule) -> Iterator[str]:
    """What is shown and falls away, what was not tried, and what no schedule says."""
    cells = (cell for table in schedule.tables for column in table.columns for cell in column.cells)
    outside = [cell for cell in cells if cell.kept is False and not cell.bound.nothing_left]
    if outside:
        names = joined(f"{cell.subject} {cell.title}" for cell in outside)
        yield f"Shown and not among what is left: {names}."
    else:
        yield "Nothing that is shown is outside what the rules leave, as far as they could be judged."
    if schedule.not_told:
        yield f"Not or not wholly tried: {'; '.join(schedule.not_told)}."
    yield from schedule.limits
    yield "What no rule in force compares is not in it: size, make and features are chosen by who designs and signs."
