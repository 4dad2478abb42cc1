"""The calculated load of a service."""

from __future__ import annotations

from fractions import Fraction

from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.facts.loads.methods import Terms
from checker.facts.loads.of_source import derived_load, heating_added, reached
from checker.facts.loads.premises import end, standing_in
from checker.facts.loads.work import READS as OF_LOADS
from checker.site.model import Subject
from checker.values.arithmetic import total
from checker.values.possible import Possible

READS = (*OF_LOADS, "heating_or_cooling_added", "rated_current", "system")

_NOTHING = Fraction(0)


def calculated_load(*, vehicles_outside: bool) -> Work:
    """The work of one reading: vehicle supply inside the demand of the optional calculation, or in full beside it."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        reason = _why_not(context)
        if reason:
            return no_answer(reason)
        rating = _rating(context, subject)
        least, most = end(rating, upper=False) or _NOTHING, end(rating, upper=True)
        terms = Terms(least, most, heating_added(context), vehicles_outside)
        here = standing_in(context, reached(context, subject))
        return derived_load(context, subject, name, here, terms)

    return work


def _why_not(context: Context) -> str:
    if len(context.drawing.of("utility_supply")) > 1:
        return "the load is worked out for one service only; with several it has to be stated for each"
    return ""


def _rating(context: Context, subject: Subject) -> Possible:
    """The rating of the first disconnects of the service together, in amperes."""
    pieces = context.drawing.pieces
    first = context.drawing.first_disconnecting(subject.id)
    return total([context.read(pieces[tag], "rated_current") for tag in first])
