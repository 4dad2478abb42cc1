"""The calculated load of a service that feeds one dwelling."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, Work
from checker.facts.loads.house import READS as OF_HOUSES
from checker.facts.loads.house import end, house, standing_in
from checker.facts.loads.methods import Terms, counts_motors, load_by
from checker.facts.loads.of_source import ONE_DWELLING, heating_added
from checker.facts.loads.sheet import VOLTAGE, load_sheet
from checker.site.model import SITE, Subject
from checker.values.arithmetic import rounded, total
from checker.values.possible import Possible, between, undefined

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
        rating = _rating(context, subject)
        least, most = end(rating, upper=False) or _NOTHING, end(rating, upper=True)
        terms, method = Terms(least, most, heating_added(context), vehicles_outside), context.read(SITE, "load_method")
        try:
            reads_motors = counts_motors(method, context.numbers, terms)
            found = house(context, standing_in(context, boards), reads_motors=reads_motors)
            ends = load_by(method, found, context.numbers, terms)
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


def _rating(context: Context, subject: Subject) -> Possible:
    """The rating of the first disconnects of the service together, in amperes."""
    pieces = context.drawing.pieces
    first = context.drawing.first_disconnecting(subject.id)
    return total([context.read(pieces[tag], "rated_current") for tag in first])
