"""The sheet that is taken along: what to read at each stop, with a line to write on; as text and as one page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from textwrap import wrap

from checker.catalog.model import Stage
from checker.findings.finding import Finding
from checker.report.asked import found_on_words
from checker.report.paragraphs import rules_words, title_of
from checker.report.safe import harmless
from checker.report.words import DISCLAIMER, STAGE_WORDS, authority_text, counted
from checker.tasks.questions.asked import NONE, Question
from checker.tasks.questions.sheet import FieldSheet, Line, StopOfWalk
from checker.tasks.questions.where import TAPE, Stop

WIDTH = 88
_INDENT = "     "
_BLANK = "_" * 60


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the sheet as any layout sets it."""

    number: int
    subject: str
    asked: str
    means: str
    found_on: str
    answers: str
    waits: str


@dataclass(frozen=True, slots=True)
class Look:
    """Something to look at."""

    number: int
    subject: str
    sentence: str
    cautions: tuple[str, ...]
    authority: str


@dataclass(frozen=True, slots=True)
class Table:
    """A table to write in: its heading, its columns, and how many lines are left free."""

    heading: str
    columns: tuple[str, ...]
    lines: int


@dataclass(frozen=True, slots=True)
class Part:
    """A stop with its heading."""

    heading: str
    rows: tuple[Row, ...]
    looks: tuple[Look, ...]
    tables: tuple[Table, ...] = ()
    is_new_sheet: bool = False


HEADINGS = {
    Stop.METER: "At the meter and the service",
    Stop.SWITCH: "At the transfer switch",
    Stop.PANEL: "At the panels",
    Stop.SET: "At the set and its fuel",
    Stop.GAS_METER: "At the gas meter",
    Stop.SITE: "Round the building",
    Stop.TAPE: "With the tape",
    Stop.PAPERS: "Second sheet, for the desk. Not found on site: look it up or ask for it",
}


def title(sheet: FieldSheet) -> str:
    """The name of the site with the date that fixes its rules."""
    return f"Field sheet: {title_of(sheet.found)}"


def opening(sheet: FieldSheet) -> Iterator[str]:
    """What the sheet is for, and how answers get into the site file."""
    stage = STAGE_WORDS[sheet.found.stage]
    wait = "waits" if sheet.waiting == 1 else "wait"
    yield f"{counted(sheet.waiting, 'finding')} {wait} for answers, read for {stage} from {sheet.found.file}."
    yield from rules_words(sheet.found.in_force)
    yield "Read with covers on: what asks for an open cabinet is for a qualified person, with every source locked out."
    yield DISCLAIMER


def parts(sheet: FieldSheet) -> tuple[Part, ...]:
    """The stops in walking order."""
    return tuple(_part(each, sheet.found.stage) for each in sheet.stops)


def _part(stop: StopOfWalk, stage: Stage) -> Part:
    rows = tuple(_row(each, stage) for each in stop.lines)
    tables = _TABLES if stop.stop is Stop.PANEL else ()
    looks = tuple(_look(each) for each in stop.looks)
    return Part(HEADINGS[stop.stop], rows, looks, tables, stop.stop is Stop.PAPERS)


_TABLES = (
    Table("Breakers", ("panel", "space", "rating in A", "poles", "feeds"), 12),
    Table("Loads, as their nameplates say", ("name", "kind", "VA, or A and V", "panel", "motor?"), 12),
)


def _row(line: Line, stage: Stage) -> Row:
    question = line.question
    return Row(
        line.number,
        question.subject,
        question.asked,
        question.means,
        found_on_words(question),
        answers_words(question),
        _waits(line, stage),
    )


def _waits(line: Line, stage: Stage) -> str:
    wait = "waits" if len(line.waits) == 1 else "wait"
    later = line.due_later(stage)
    return f"{counted(len(line.waits), 'finding')} {wait}{_could(line)}{f'; {later} due later' if later else ''}"


def _could(line: Line) -> str:
    if not line.corrections:
        return ""
    if len(line.waits) == 1:
        return ", which could be a correction"
    return f", {line.corrections} of them could be {'a correction' if line.corrections == 1 else 'corrections'}"


def answers_words(question: Question) -> str:
    """The choices to ring, or what kind of answer is written."""
    words = [_word(choice.word, choice.title) for choice in question.choices]
    if question.kind_of_answer:
        return f"{question.kind_of_answer}{', or none' if words else ''}"
    write = "write each down, then " if question.fact is None and question.paper == TAPE else ""
    many = question.fact is not None and question.fact.several
    return f"{write}ring {'what holds' if many else 'one'}: {'; '.join(words)}"


def _word(word: str, title: str) -> str:
    plain = word.replace("_", " ")
    if not title or word == NONE:
        return plain
    return title if plain in title else f"{plain} ({title})"


def _look(finding: Finding) -> Look:
    return Look(finding.number, finding.subject.words, finding.look, finding.cautions, authority_text(finding))


def field_sheet_text(sheet: FieldSheet) -> str:
    """The sheet for a printer of plain text, ending in a line feed."""
    lines = [*_set(title(sheet), ""), ""]
    lines += [line for sentence in opening(sheet) for line in _set(sentence, "")]
    for part in parts(sheet):
        lines += ["\f" if part.is_new_sheet else "", part.heading, ""]
        lines += [line for row in part.rows for line in _row_lines(row)]
        lines += [line for table in part.tables for line in _table_lines(table)]
        if part.looks:
            lines += ["To look at here, as numbered in the report", ""]
            lines += [line for look in part.looks for line in _look_lines(look)]
    if not sheet.stops:
        lines += ["", "Nothing is left to read on site."]
    return "\n".join(lines).rstrip() + "\n"


def _row_lines(row: Row) -> Iterable[str]:
    head = f"{row.number:>3}  "
    yield from _set(f"{row.subject}: {row.asked}", head)
    if row.means:
        yield from _set(row.means, _INDENT)
    yield from _set(f"{row.found_on}; {row.waits}", _INDENT)
    yield from _set(row.answers, _INDENT)
    yield ""
    yield f"{_INDENT}{_BLANK}"
    yield ""


def _table_lines(table: Table) -> Iterable[str]:
    """A heading, the columns side by side, and free lines below them."""
    width = (WIDTH - len(_INDENT)) // len(table.columns)
    yield from (f"{_INDENT}{table.heading}", "")
    yield f"{_INDENT}{''.join(column.ljust(width) for column in table.columns)}".rstrip()
    free = f"{_INDENT}{''.join(('_' * (width - 2)).ljust(width) for _ in table.columns)}".rstrip()
    yield from (line for _ in range(table.lines) for line in (free, ""))


def _look_lines(look: Look) -> Iterable[str]:
    yield from _set(f"{look.subject}: {look.sentence}", f"{look.number:>3}  ")
    for caution in look.cautions:
        yield from _set(f"Caution: {caution}", _INDENT)
    yield from _set(look.authority, _INDENT)
    yield f"{_INDENT}{_BLANK}"
    yield ""


def _set(text: str, first: str) -> list[str]:
    return wrap(harmless(text).replace("\n", " "), WIDTH, initial_indent=first, subsequent_indent=" " * len(first))


def field_sheet_html(sheet: FieldSheet) -> str:
    """The sheet as one page that holds everything in itself, for the printer: the same bytes for the same sheet."""
    from checker.report.setting import environment

    page = environment("page").get_template("field_sheet.html")
    return page.render(title=title(sheet), opening=tuple(opening(sheet)), parts=parts(sheet))
