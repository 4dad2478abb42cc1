"""The worksheet of an ampacity: what was given with its place, and the steps at the least and at the most."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from checker.catalog.wording import value_text
from checker.engineering.conductors.ampacity import AMPACITY
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.conductors.run import (
    AMBIENT,
    DEVICE,
    HOTTEST,
    INSULATION,
    LENGTH,
    MATERIAL,
    OUTDOORS,
    ROOF,
    SETS,
    SIZE,
    TERMINALS,
    TOGETHER,
    WET,
    of_wire,
)
from checker.facts.derivation import Context
from checker.facts.known import Known, Origin
from checker.facts.two_ends import TwoEnds, step_lines
from checker.site.model import Subject

_ORDER = (SIZE, MATERIAL, SETS, INSULATION, WET, TERMINALS, DEVICE, AMBIENT, OUTDOORS, HOTTEST, ROOF, TOGETHER, LENGTH)
_IF_SHOWN = (AMBIENT, INSULATION, LENGTH, OUTDOORS, ROOF, WET)
"""Left out where the drawing says nothing of them and the result does not depend on them."""


def ampacity_sheet(
    context: Context, subject: Subject, name: str, facts: Mapping[str, Known], ends: TwoEnds, wire: str
) -> Worksheet | None:
    """Given lines are numbered, steps lettered; where least and most differ, both are there. None for a run of which
    not even the size is shown.
    """
    if not facts[SIZE].value.is_exact:
        return None
    lines = (*_given(context, facts, wire, settled=ends.agree), *step_lines(ends))
    return Worksheet(f"{subject.id}.{name}", AMPACITY.title, subject.id, lines, AMPACITY.limits)


def _given(context: Context, facts: Mapping[str, Known], wire: str, *, settled: bool) -> Iterator[Line]:
    names = (name for name in _ORDER if name in facts)
    shown = (name for name in names if not _is_left_out(name, facts[name], settled=settled))
    for place, name in enumerate(shown, start=1):
        fact, known = context.catalog.facts[of_wire(name, wire)], facts[name]
        yield Line(str(place), fact.title, "", value_text(fact, known.value, known.unit), "", source_text(known))


def _is_left_out(name: str, known: Known, *, settled: bool) -> bool:
    return settled and name in _IF_SHOWN and known.origin is Origin.NOT_SHOWN
