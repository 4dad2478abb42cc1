"""What a transfer switch sees."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import NORMAL
from checker.facts.overcurrent import no_line
from checker.facts.pairs import fault_source
from checker.site.model import Subject


def normal_fault_current(context: Context, subject: Subject, name: str) -> Derived:
    """The fault current that the source of the normal side makes available at the switch."""
    source = context.drawing.source_of(subject.id, NORMAL)
    if source is None:
        return no_line(subject)
    known = context.known(fault_source(subject.id, source), "available_fault_current")
    return Derived(known.value, unit=known.unit, reasons=known.reasons)
