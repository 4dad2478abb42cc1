"""The worksheet of a load: what was given with its place, the steps at the least and at the most, and the current."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from checker.catalog.wording import value_text
from checker.engineering.worked import letters
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.facts.loads.current import PHASES, VOLTAGE, amperes
from checker.facts.loads.ends import CIRCUITS
from checker.facts.loads.methods import Ends
from checker.facts.loads.premises import SMALL_APPLIANCES, Load, Premises
from checker.facts.two_ends import TwoEnds, amount, step_lines
from checker.site.model import Subject

OPEN = "The list of loads is not said to be complete, so that there is no upper end."
BY_THE_AREA = (
    "The floor area stands for circuits for lighting and receptacles, so that those that are listed add nothing."
)
_WHAT = "calculated load"
_THREE = 3


def load_sheet(
    context: Context,
    subject: Subject,
    name: str,
    found: Premises,
    ends: Ends,
    more: Sequence[Line] = (),
    of: Subject | None = None,
) -> Worksheet:
    """Given lines are numbered, steps lettered; where least and most differ, both are there. ``more`` comes last.

    ``of`` is what it is the load of, where that is not the source at whose voltage it is told.
    """
    owner = subject if of is None else of
    voltage = context.known(subject, VOLTAGE)
    given = given_lines(context, found, ("voltage", "", VOLTAGE, voltage))
    lines = [*given, *step_lines(TwoEnds(ends.least, ends.most))]
    lines.append(_current(context, subject, ends, voltage))
    first = len(ends.least.steps) + 1
    lettered = (replace(line, letter=letters(place)) for place, line in enumerate(more, start=first))
    assumptions = (*(() if found.complete else (OPEN,)), *((BY_THE_AREA,) if _lists_what_the_area_holds(found) else ()))
    return Worksheet(f"{owner.id}.{name}", ends.title, owner.id, (*lines, *lettered), ends.limits, assumptions)


def _lists_what_the_area_holds(found: Premises) -> bool:
    """Whether circuits are listed of a whole dwelling, whose floor area stands for them."""
    return SMALL_APPLIANCES in found.figures and any(each.kind in CIRCUITS for each in found.loads)


Given = tuple[str, str, str, Known]
"""A line of what was given: what it is, what kind of thing, by which fact, and what is known of it."""


def given_lines(context: Context, found: Premises, *more: Given) -> Iterator[Line]:
    """What was given, numbered: figures of the building, its loads, and what comes after them."""
    facts = context.catalog.facts
    rows = [
        *((facts[name].title, "", name, figure) for name, figure in found.figures.items()),
        *((*_words_of(context, each), "load_power", each.power) for each in found.loads),
        *more,
    ]
    for place, (title, kind, name, known) in enumerate(rows, start=1):
        yield Line(str(place), title, kind, value_text(facts[name], known.value, known.unit), "", source_text(known))


def _words_of(context: Context, load: Load) -> tuple[str, str]:
    """The name of a load and its kind; the kind alone where it has no name."""
    kind = context.catalog.facts["load_kind"].choices.get(load.kind or "", "kind not shown")
    return (load.name, kind) if load.name else (kind, "")


def _current(context: Context, subject: Subject, ends: Ends, voltage: Known) -> Line:
    known = [ends.least] if ends.most is None or ends.most.value == ends.least.value else [ends.least, ends.most]
    found = [amperes(context, subject, each.value) for each in known]
    shown = " to ".join(amount(each) for each in found if each is not None) or "not known"
    at_least = "at least " if ends.most is None else ""
    root = "square root of 3 x " if context.read(subject, PHASES).number == _THREE else ""
    volts = value_text(context.catalog.facts[VOLTAGE], voltage.value, voltage.unit)
    how = f"{_WHAT} / ({root}{volts})" if root else f"{_WHAT} / {volts}"
    return Line(letters(len(ends.least.steps)), "current", how, f"{at_least}{shown}", "A", "")
