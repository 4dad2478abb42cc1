"""Which calculation of load counts for a building, and the loads that it counts."""

from __future__ import annotations

from dataclasses import replace

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context
from checker.facts.loads import measured as by_measure
from checker.facts.loads import premises as whole
from checker.facts.loads.buildings import FIGURES, building_load
from checker.facts.loads.canadian import METHOD as CANADIAN
from checker.facts.loads.canadian import READS as OF_CANADIAN
from checker.facts.loads.canadian import is_canadian, load_of_canadian
from checker.facts.loads.ends import CIRCUITS, OTHER_BUILDING
from checker.facts.loads.methods import (
    CONNECTED,
    EXISTING,
    MEASURED,
    OPTIONAL,
    Ends,
    Terms,
    asks_of,
    connected,
    either,
    load_by,
)
from checker.facts.loads.premises import LARGEST_MOTOR, Counts, Premises, premises
from checker.facts.loads.several_dwellings import READS as OF_SEVERAL
from checker.facts.loads.several_dwellings import load_of_several
from checker.facts.loads.two_dwellings import load_of_two
from checker.site.model import SITE
from checker.values.possible import Possible, exactly
from checker.values.relations import relate
from checker.values.truth import Truth

FARM = "agricultural_building"
READS = (*whole.READS, *by_measure.READS, *OF_SEVERAL, *OF_CANADIAN, "occupancy", "load_method", FARM)

_ONE_DWELLING = exactly("one_family_dwelling")
_SEVERAL_UNITS = exactly("multifamily_dwelling")
_TWO_UNITS = exactly("two_family_dwelling")
_A_LIST_OF_CIRCUITS = 2
_SLEEPING_ROOMS = "dormitory"
_MOTORS = frozenset({LARGEST_MOTOR})
_FOR_DWELLINGS = frozenset({OPTIONAL, EXISTING, CANADIAN})


def load_of(context: Context, counts: Counts, terms: Terms) -> tuple[Premises, Ends]:
    """What counts and its load, by the calculation that the drawing names. Raises OutsideLimits where none holds."""
    method = context.read(SITE, "load_method")
    if method.atom == MEASURED:
        if terms.is_part:
            raise OutsideLimits("A record of demand tells of the whole service, and only a part of it is fed.")
        return by_measure.measured(context, counts)
    occupancy = context.read(SITE, "occupancy")
    if occupancy == _ONE_DWELLING:
        return _load_of_one(context, counts, terms, method)
    if occupancy == _SEVERAL_UNITS:
        return load_of_several(context, counts, terms, method)
    if occupancy == _TWO_UNITS:
        return load_of_two(context, counts, terms)
    if occupancy.atom is None or occupancy.atom == _SLEEPING_ROOMS:
        raise OutsideLimits("The load of a dormitory, or of a building whose use is not shown, has to be stated.")
    if method.atom in _FOR_DWELLINGS:
        raise OutsideLimits("The calculation that is named is for a dwelling; this building is none.")
    found = premises(context, counts, asks=_MOTORS, is_part=terms.is_part, figures_read=FIGURES)
    if method.atom == CONNECTED:
        return found, connected(replace(found, figures={}, is_part=True), context.numbers, terms)
    return found, building_load(occupancy, found, context.numbers)


def _load_of_one(context: Context, counts: Counts, terms: Terms, method: Possible) -> tuple[Premises, Ends]:
    if is_canadian(method, context.numbers):
        return load_of_canadian(context, counts, terms)
    asks = asks_of(method, context.numbers, terms)
    if method.atom == CONNECTED and not terms.is_part:
        return _every_rating(context, counts, terms, asks)
    found = premises(context, counts, asks=asks, is_part=terms.is_part)
    refuse_a_farm(context, found, method)
    return found, load_by(method, found, context.numbers, terms)


def on_a_farm(context: Context, method: Possible) -> Truth:
    """Whether farm buildings are there and the calculation has demand factors, which are not those of a farm."""
    if method.atom == CONNECTED:
        return Truth.NO
    return relate("is", context.read(SITE, FARM), exactly(True))


def refuse_a_farm(context: Context, found: Premises, method: Possible) -> None:
    """Raises OutsideLimits where the loads of a farm building would count as those of a dwelling.

    They have factors of their own, the dwelling's come beside them, and no list tells which loads are whose. Of a part
    that is fed only where a load of another building is, or may be, among its loads.
    """
    if on_a_farm(context, method) is Truth.NO:
        return
    if not found.is_part or not found.complete or any(each.kind in (None, OTHER_BUILDING) for each in found.loads):
        raise OutsideLimits(
            "Farm loads are not computed here: what the farm buildings take has demand factors of its own, and the "
            "load of the dwelling comes beside it. State the load, or name every rating in full as the method."
        )


def _every_rating(context: Context, counts: Counts, terms: Terms, asks: frozenset[str]) -> tuple[Premises, Ends]:
    """Every rating of a dwelling in full. Where circuits for lighting and receptacles are among those that are listed,
    they are what there is, and nobody is asked for the floor area. One circuit alone may be all that is listed of a
    dwelling or one of many for which its area stands: then, and while some may yet be listed, either can hold.
    """
    listed = premises(context, counts, asks=asks, is_part=True)
    by_the_list = connected(listed, context.numbers, terms)
    if sum(each.kind in CIRCUITS and each.counts is Truth.YES for each in listed.loads) >= _A_LIST_OF_CIRCUITS:
        return listed, by_the_list
    found = premises(context, counts, asks=asks)
    by_area = connected(found, context.numbers, terms)
    if found.complete and not any(each.kind is None or each.kind in CIRCUITS for each in found.loads):
        return found, by_area
    return found, either(by_area.title, by_area, by_the_list)
