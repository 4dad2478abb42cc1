"""The worksheet of a load: what was given with its place, the steps at the least and at the most, and the current."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.worked import Step, letters
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.facts.loads.current import PHASES, VOLTAGE, amperes
from checker.facts.loads.methods import Ends
from checker.facts.loads.premises import Load, Premises
from checker.site.model import Subject

OPEN = "The list of loads is not said to be complete, so that there is no upper end."
_WHAT = "calculated load"
_THREE = 3


def load_sheet(
    context: Context, subject: Subject, name: str, found: Premises, ends: Ends, more: Sequence[Line] = ()
) -> Worksheet:
    """Given lines are numbered, steps lettered; where least and most differ, both are there. ``more`` comes last."""
    voltage = context.known(subject, VOLTAGE)
    lines = [*_given(context, found, voltage), *_steps(ends)]
    lines.append(_current(context, subject, ends, voltage))
    first = len(ends.least.steps) + 1
    lettered = (replace(line, letter=letters(place)) for place, line in enumerate(more, start=first))
    assumptions = () if found.complete else (OPEN,)
    return Worksheet(f"{subject.id}.{name}", ends.title, subject.id, (*lines, *lettered), ends.limits, assumptions)


def _given(context: Context, found: Premises, voltage: Known) -> Iterator[Line]:
    facts = context.catalog.facts
    rows = [
        *((facts[name].title, "", name, figure) for name, figure in found.figures.items()),
        *((*_words_of(context, each), "load_power", each.power) for each in found.loads),
        ("voltage", "", VOLTAGE, voltage),
    ]
    for place, (title, kind, name, known) in enumerate(rows, start=1):
        yield Line(str(place), title, kind, value_text(facts[name], known.value, known.unit), "", source_text(known))


def _words_of(context: Context, load: Load) -> tuple[str, str]:
    """The name of a load and its kind; the kind alone where it has no name."""
    kind = context.catalog.facts["load_kind"].choices.get(load.kind or "", "kind not shown")
    return (load.name, kind) if load.name else (kind, "")


def _steps(ends: Ends) -> Iterator[Line]:
    if ends.most is None or ends.most.steps == ends.least.steps:
        yield from (_step("", each, "") for each in ends.least.steps)
        return
    yield from (_step("least: ", each, "") for each in ends.least.steps)
    yield from (_step("most: ", each, "m") for each in ends.most.steps)


def _step(before: str, step: Step, mark: str) -> Line:
    quantity = f"{before}{step.quantity}"
    return Line(f"{step.letter}{mark}", quantity, step.how, amount(step.value), step.unit, step.source)


def _current(context: Context, subject: Subject, ends: Ends, voltage: Known) -> Line:
    known = [ends.least] if ends.most is None or ends.most.value == ends.least.value else [ends.least, ends.most]
    found = [amperes(context, subject, each.value) for each in known]
    shown = " to ".join(amount(each) for each in found if each is not None) or "not known"
    at_least = "at least " if ends.most is None else ""
    root = "square root of 3 x " if context.read(subject, PHASES).number == _THREE else ""
    volts = value_text(context.catalog.facts[VOLTAGE], voltage.value, voltage.unit)
    how = f"{_WHAT} / ({root}{volts})" if root else f"{_WHAT} / {volts}"
    return Line(letters(len(ends.least.steps)), "current", how, f"{at_least}{shown}", "A", "")


def amount(value: Fraction) -> str:
    """A number as on calculation paper: thousands set off, two decimals at most."""
    return f"{float(value):,.2f}".rstrip("0").rstrip(".")
