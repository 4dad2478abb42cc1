"""Which calculation of load counts for a building, and the loads that it counts."""

from __future__ import annotations

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context
from checker.facts.loads import house as houses
from checker.facts.loads import measured as by_measure
from checker.facts.loads.house import Counts, House, house
from checker.facts.loads.methods import MEASURED, Ends, Terms, counts_motors, load_by
from checker.site.model import SITE
from checker.values.possible import exactly

READS = (*houses.READS, *by_measure.READS, "occupancy", "load_method")

_ONE_DWELLING = exactly("one_family_dwelling")


def load_of(context: Context, counts: Counts, terms: Terms) -> tuple[House, Ends]:
    """What counts and its load, by the calculation that the drawing names. Raises OutsideLimits where none holds."""
    method = context.read(SITE, "load_method")
    if method.atom == MEASURED:
        if terms.is_part:
            raise OutsideLimits("A record of demand tells of the whole service, and only a part of it is fed.")
        return by_measure.measured(context, counts)
    if context.read(SITE, "occupancy") != _ONE_DWELLING:
        raise OutsideLimits(
            "The load is worked out for one dwelling, or from measured demand; here it has to be stated."
        )
    reads_motors = counts_motors(method, context.numbers, terms)
    found = house(context, counts, reads_motors=reads_motors, is_part=terms.is_part)
    return found, load_by(method, found, context.numbers, terms)
