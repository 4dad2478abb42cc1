"""Worksheets on calculation paper: each quantity with how it was found, its value, and where that comes from."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from checker.engineering.worksheet import Line, Worksheet
from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report.safe import harmless
from checker.report.text import PLAIN, WIDTH, Style, wrapped
from checker.report.words import counted, joined

VALUE_COLUMN = 56
"""Column at which a value begins; quantities stand before it."""

_INDENT = 5


def worksheets_text(review: Review, sheets: Sequence[Worksheet], style: Style = PLAIN) -> str:
    """The sheets one after another, each with the findings that rest on it, ending in a line feed."""
    blocks = ["\n".join(_sheet(each, review, style)) for each in sheets]
    shown = counted(len(sheets), "worksheet")
    blocks.append(f"{shown} of {review.site_name}. Who signs for a calculation checks it.")
    return "\n\n".join(blocks) + "\n"


def _sheet(sheet: Worksheet, review: Review, style: Style) -> Iterator[str]:
    yield from (style.underline(line) for line in wrapped(f"{sheet.id}: {sheet.title}"))
    for heading, lines in parts_of(sheet):
        yield from (style.dim(each) for each in (wrapped(heading) if heading else ()))
        for line in lines:
            yield from _line(line, style)
    yield from wrapped(f"Holds for: {sheet.limits}", indent=0)
    for each in sheet.assumptions:
        yield from wrapped(f"Taken, not given: {each}", indent=0)
    yield from wrapped(_used_in(sheet, review.findings), indent=0)


def parts_of(sheet: Worksheet) -> Iterator[tuple[str, tuple[Line, ...]]]:
    """What is given, by numbers, and the steps that are worked out, by letters, each under its heading; no headings
    where all lines have letters.
    """
    found = [
        (is_given, tuple(lines)) for is_given, lines in groupby(sheet.lines, key=lambda each: each.letter.isdigit())
    ]
    for is_given, lines in found:
        yield "" if len(found) == 1 else GIVEN if is_given else STEPS, lines


GIVEN, STEPS = "Given:", "Worked out:"


def _line(line: Line, style: Style) -> Iterator[str]:
    """The quantity with its value, then quietly how it was found and from what."""
    head = f"({line.letter}) {harmless(line.quantity)}"
    value = harmless(" ".join(part for part in (line.value, line.unit) if part))
    if len(head) < VALUE_COLUMN and VALUE_COLUMN + len(value) <= WIDTH:
        yield f"{head:<{VALUE_COLUMN}}{value}"
    else:
        yield from wrapped(f"{head}: {value}")
    told = "; ".join(part for part in (line.how, line.source) if part)
    yield from (style.dim(each) for each in wrapped(told, indent=_INDENT))


def _used_in(sheet: Worksheet, findings: Sequence[Finding]) -> str:
    resting = [each for each in findings if _rests_on(each, sheet.id)]
    printed = [each for each in resting if each.outcome not in SETTLED_OUTCOMES or each.assumed]
    met = [each for each in resting if each.outcome is Outcome.MET and not each.assumed]
    told = [_numbered(printed)] if printed else []
    if met:
        told.append(f"{_numbered(met)} (meeting as shown; `review --all` prints {'it' if len(met) == 1 else 'them'})")
    return f"Compared in {' and in '.join(told)}." if told else "No finding of the report compares it."


def _numbered(findings: Sequence[Finding]) -> str:
    return f"{'finding' if len(findings) == 1 else 'findings'} {joined(str(each.number) for each in findings)}"


def _rests_on(finding: Finding, sheet: str) -> bool:
    figures = (figure for check in finding.checks for figure in (check.found, check.wanted) if figure is not None)
    return any(figure.worksheet == sheet for figure in figures)
