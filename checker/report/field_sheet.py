"""The sheet that is taken along: what to read at each stop, with a line to write on; as text and as one page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from textwrap import wrap

from checker.catalog.model import Stage
from checker.facts.known import Ask
from checker.findings.finding import Finding
from checker.report.paragraphs import rules_words, title_of
from checker.report.safe import harmless
from checker.report.words import DISCLAIMER, STAGE_WORDS, authority_text, counted
from checker.tasks.questions.asked import ADD, NONE, Question
from checker.tasks.questions.sheet import FieldSheet, Line, StopOfWalk
from checker.tasks.questions.where import TAPE, Stop

WIDTH = 88
_INDENT = "     "
BOX = "\u25a1"
"""To be ticked: the same empty square that stands for what is not shown."""
_UNITS = {"F": "\u00b0F", "C": "\u00b0C, as marked"}
"""Degrees as they are written; what is marked in degrees Celsius, as terminals are everywhere, is asked in them."""
_SHORT_BLANK, _LONG_BLANK = "_" * 12, "_" * 24


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the sheet as any layout sets it: what is asked, how many findings wait for it, what may be ticked, and
    what is written on a line where that is not all; ``unit`` stands behind the line.
    """

    number: int
    asked: str
    means: str
    waits: int
    boxes: tuple[str, ...]
    is_written: bool
    unit: str


@dataclass(frozen=True, slots=True)
class Piece:
    """What is read at one piece, run or paper."""

    name: str
    rows: tuple[Row, ...]


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
    pieces: tuple[Piece, ...]
    looks: tuple[Look, ...]
    later: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    is_new_sheet: bool = False

    @property
    def rows(self) -> tuple[Row, ...]:
        """The lines of all pieces."""
        return tuple(row for piece in self.pieces for row in piece.rows)


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
    yield (
        "Tick a box or write on the line; leave free what cannot be read. In brackets: how many findings wait for the "
        "answer. A star: explained at the end."
    )
    yield DISCLAIMER


def parts(sheet: FieldSheet) -> tuple[Part, ...]:
    """The stops in walking order."""
    return tuple(_part(each, sheet.found.stage) for each in sheet.stops)


def _part(stop: StopOfWalk, stage: Stage) -> Part:
    lines: dict[str, list[Line]] = {}
    for each in stop.lines:
        lines.setdefault(each.question.subject, []).append(each)
    pieces = tuple(Piece(name, tuple(map(_row, found))) for name, found in lines.items())
    looks = tuple(_look(each) for each in stop.looks if each.due.order <= stage.order)
    later = tuple(_later(each) for each in stop.looks if each.due.order > stage.order)
    tables = tuple(_tables(stop)) if stop.stop is Stop.PANEL else ()
    return Part(HEADINGS[stop.stop], pieces, looks, later, tables, stop.stop is Stop.PAPERS)


def _tables(stop: StopOfWalk) -> Iterator[Table]:
    """Tables for what is listed, where the file does not say that all of it is: the loads, and with them the breakers
    that feed them.
    """
    if any(line.question.leaf.ask is Ask.MORE and line.question.leaf.name == "loads" for line in stop.lines):
        yield Table("Breakers", ("panel", "space", "rating in A", "poles", "feeds"), 8)
        yield Table("Loads, as their nameplates say", ("name", "kind", "VA, or A and V", "panel", "motor?"), 8)


def meanings(found: Sequence[Part]) -> tuple[tuple[str, str], ...]:
    """What is asked with what it means, each once, in the order in which it is first asked."""
    return tuple({row.asked: row.means for part in found for row in part.rows if row.means}.items())


def _row(line: Line) -> Row:
    question = line.question
    written = bool(question.kind_of_answer) or (question.fact is None and question.paper == TAPE)
    return Row(
        line.number,
        question.asked,
        question.means,
        len(line.waits),
        tuple(_boxes(question)),
        written,
        _UNITS.get(question.unit, question.unit) or _as_written(question.kind_of_answer),
    )


def _boxes(question: Question) -> Iterator[str]:
    """The words of the choices; of those that stand beside a line only that there is none."""
    for choice in question.choices:
        if question.fact is None and choice.word == ADD:
            continue
        yield _word(choice.word, choice.title)


def _as_written(kind: str) -> str:
    """How an answer without a unit is written: only the example of it."""
    example = kind.partition(", as ")[2]
    return f"as {example}" if example else ""


def _word(word: str, title: str) -> str:
    plain = word.replace("_", " ")
    if not title or word == NONE:
        return plain
    return title if plain in title else f"{plain} ({title})"


def _look(finding: Finding) -> Look:
    return Look(finding.number, finding.subject.words, finding.look, finding.cautions, authority_text(finding))


def _later(finding: Finding) -> str:
    """What is looked at once the work is that far, in short: a sheet of that stage tells it with its cautions."""
    return f"{finding.number}  {finding.subject.words}: {finding.title}, at {STAGE_WORDS[finding.due]}."


LOOKS = "To look at here, as numbered in the report"
LATER = "To look at here later, told in full on a sheet of that stage (--stage)"


def field_sheet_text(sheet: FieldSheet) -> str:
    """The sheet for a printer of plain text, ending in a line feed."""
    lines = [*_set(title(sheet), ""), ""]
    lines += [line for sentence in opening(sheet) for line in _set(sentence, "")]
    found = parts(sheet)
    for part in found:
        lines += ["\f" if part.is_new_sheet else "", part.heading]
        lines += [line for piece in part.pieces for line in _piece_lines(piece)]
        lines += [line for table in part.tables for line in _table_lines(table)]
        if part.looks:
            lines += ["", f"  {LOOKS}"]
            lines += [line for look in part.looks for line in _look_lines(look)]
        if part.later:
            lines += ["", f"  {LATER}"]
            lines += [line for text in part.later for line in _set(text, "  ")]
    if not sheet.stops:
        lines += ["", "Nothing is left to read on site."]
    lines += _meaning_lines(meanings(found))
    return "\n".join(lines).rstrip() + "\n"


def _piece_lines(piece: Piece) -> Iterable[str]:
    yield ""
    yield from _set(piece.name, "  ")
    for row in piece.rows:
        yield from _row_lines(row)


def _row_lines(row: Row) -> Iterable[str]:
    """What is asked, with boxes and line behind it where there is room, otherwise below."""
    head = f"{row.number:>3}  "
    asked = f"{row.asked}{'*' if row.means else ''} ({row.waits})"
    answers = "   ".join(_answers(row))
    together = f"{head}{harmless(asked)}: {harmless(answers)}"
    if len(together) <= WIDTH:
        yield together
        return
    yield from _set(f"{asked}:", head)
    yield from _set(answers.replace(f"{BOX} ", f"{BOX}{_HARD}"), _INDENT, _HARD)


_HARD = "\u00a0"
"""Keeps a box and the beginning of its word on one line while a text is wrapped."""


def _answers(row: Row) -> Iterator[str]:
    if row.is_written:
        blank = _SHORT_BLANK if row.unit and not row.unit.startswith("as ") else _LONG_BLANK
        yield f"{blank} {row.unit}".rstrip()
    yield from (f"{BOX} {each}" for each in row.boxes)


def _table_lines(table: Table) -> Iterable[str]:
    """A heading, the columns side by side, and free lines below them."""
    width = (WIDTH - len(_INDENT)) // len(table.columns)
    yield from ("", f"  {table.heading}")
    yield f"{_INDENT}{''.join(column.ljust(width) for column in table.columns)}".rstrip()
    free = f"{_INDENT}{''.join(('_' * (width - 2)).ljust(width) for _ in table.columns)}".rstrip()
    yield from (line for _ in range(table.lines) for line in ("", free))


def _look_lines(look: Look) -> Iterable[str]:
    yield from _set(f"{look.subject}: {look.sentence} ({look.authority})", f"{look.number:>3}  ")
    for caution in look.cautions:
        yield from _set(f"Caution: {caution}", _INDENT)
    yield f"{_INDENT}{BOX} as it should be   {BOX} not: {_LONG_BLANK}"


def _meaning_lines(found: Sequence[tuple[str, str]]) -> Iterator[str]:
    if found:
        yield from ("", MEANINGS)
    for asked, means in found:
        yield from _set(f"{asked}: {means}", "  ")


MEANINGS = "What is meant"


def _set(text: str, first: str, hard: str = "") -> list[str]:
    plain = harmless(text).replace("\n", " ")
    lines = wrap(plain, WIDTH, initial_indent=first, subsequent_indent=" " * len(first), break_on_hyphens=False)
    return [line.replace(hard, " ") for line in lines] if hard else lines


def field_sheet_html(sheet: FieldSheet) -> str:
    """The sheet as one page that holds everything in itself, for the printer: the same bytes for the same sheet."""
    from checker.report.setting import environment

    found = parts(sheet)
    page = environment("page").get_template("field_sheet.html")
    return page.render(
        title=title(sheet),
        opening=tuple(opening(sheet)),
        parts=found,
        meanings=meanings(found),
        looks=LOOKS,
        later=LATER,
    )
