"""The worksheet of a load: what was given with its place, the steps at the least and at the most, and the current."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.worked import letters
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.facts.loads.house import House, Load
from checker.facts.loads.methods import Ends
from checker.facts.two_ends import TwoEnds, amount, step_lines
from checker.site.model import Subject

OPEN = "The list of loads is not said to be complete, so that there is no upper end."
VOLTAGE = "system.voltage"


def load_sheet(
    context: Context, subject: Subject, name: str, found: House, ends: Ends, voltage: Known, more: Sequence[Line] = ()
) -> Worksheet:
    """Given lines are numbered, steps lettered; where least and most differ, both are there. ``more`` comes last."""
    lines = [*_given(context, found, voltage), *step_lines(TwoEnds(ends.least, ends.most))]
    lines.append(_current(context, ends, voltage))
    assumptions = () if found.complete else (OPEN,)
    return Worksheet(f"{subject.id}.{name}", ends.title, subject.id, (*lines, *more), ends.limits, assumptions)


def _given(context: Context, found: House, voltage: Known) -> Iterator[Line]:
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


def _current(context: Context, ends: Ends, voltage: Known) -> Line:
    volts = voltage.value.number or Fraction(1)
    known = [ends.least] if ends.most is None or ends.most.value == ends.least.value else [ends.least, ends.most]
    amperes = " to ".join(amount(each.value / volts) for each in known)
    at_least = "at least " if ends.most is None else ""
    how = f"calculated load / {value_text(context.catalog.facts[VOLTAGE], voltage.value, voltage.unit)}"
    return Line(letters(len(ends.least.steps)), "current", how, f"{at_least}{amperes}", "A", "")
