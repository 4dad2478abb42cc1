"""The calculated load of a service that feeds one dwelling."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, Work
from checker.facts.loads.house import READS as OF_HOUSES
from checker.facts.loads.house import end, house, standing_in
from checker.facts.loads.methods import Terms, load_by
from checker.facts.loads.of_source import ONE_DWELLING
from checker.facts.loads.sheet import VOLTAGE, load_sheet
from checker.site.model import SITE, Subject
from checker.values.arithmetic import rounded
from checker.values.possible import between, exactly, undefined
from checker.values.relations import relate

READS = (*OF_HOUSES, "occupancy", "load_method", "heating_or_cooling_added", "rated_current", "system")

_NOTHING = Fraction(0)


def calculated_load(*, vehicles_outside: bool) -> Work:
    """The work of one reading: vehicle supply inside the demand of the optional calculation, or in full beside it."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        reason = _why_not(context, subject)
        if reason:
            return Derived(undefined(reason), reasons=(reason,))
        voltage = context.known(subject, VOLTAGE)
        boards = frozenset(context.drawing.fed_in_any_way(subject.id))
        found = house(context, standing_in(context, boards))
        added = relate("is", context.read(SITE, "heating_or_cooling_added"), exactly(True))
        terms = Terms(_least_rating(context, subject), added, vehicles_outside)
        try:
            ends = load_by(context.read(SITE, "load_method"), found, context.numbers, terms)
        except OutsideLimits as limit:
            return Derived(undefined(str(limit)), reasons=(str(limit),))
        volts = voltage.value.number
        if volts is None or volts <= 0:
            return Derived(between(_NOTHING, None))
        most = None if ends.most is None else rounded(ends.most.value / volts)
        sheet = load_sheet(context, subject, name, found, ends, voltage)
        return Derived(between(rounded(ends.least.value / volts), most), worksheet=sheet)

    return work


def _why_not(context: Context, subject: Subject) -> str:
    if context.read(SITE, "occupancy") != ONE_DWELLING:
        return "the load is worked out for one dwelling only; elsewhere it has to be stated"
    if len(context.drawing.of("utility_supply")) > 1:
        return "the load is worked out for one service only; with several it has to be stated for each"
    return ""


def _least_rating(context: Context, subject: Subject) -> Fraction:
    """The smallest rating that the first disconnects of the service have for sure, together, in amperes."""
    pieces = context.drawing.pieces
    ends = [
        end(context.read(pieces[tag], "rated_current"), upper=False)
        for tag in context.drawing.first_disconnecting(subject.id)
    ]
    return sum((each or _NOTHING for each in ends), _NOTHING)
