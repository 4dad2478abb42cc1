"""The calculated load of a building that is no dwelling, at both ends of what is known."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.demand import ByCount, CountRow, Tier, Tiers
from checker.engineering.loads.other_buildings import BUILDING_LOAD, Building, BuildingCase, BuildingNumbers
from checker.facts.loads.ends import dwelling_at, has_end
from checker.facts.loads.methods import Ends
from checker.facts.loads.numbers import MOTOR, by_count
from checker.facts.loads.premises import AREA, NOTHING, Premises, end
from checker.facts.numbers import cited, number_in_force, rows_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.values.possible import Possible
from checker.values.truth import Truth

FIGURES = (AREA,)

LIGHTING = "lighting-of-a-square-foot-by-occupancy"
RECEPTACLES, OTHER_RECEPTACLES = "receptacles-counted-in-full", "factor-of-the-other-receptacles"
SIGN, KITCHEN = "least-load-of-a-sign-circuit", "factor-of-kitchen-equipment"
NUMBERS = (LIGHTING, RECEPTACLES, OTHER_RECEPTACLES, SIGN, KITCHEN)

_OF_THEIR_OWN = ("lighting", "receptacles", "kitchen", "sign")
_NOTHING_RAISED = Fraction(1)


def building_load(occupancy: Possible, found: Premises, numbers: NumbersInForce) -> Ends:
    """Lighting by area or as connected, receptacles and kitchen at their demand, everything else in full.

    It rises with the area and every rating, not with the number of kitchen units: while one can come to those that are
    known, the least takes the smallest factor, and there is a most only with all of them known. Of a part of a building
    no area is known, so that its lighting counts as it is listed. Raises OutsideLimits where the table has none.
    """
    by_area = NOTHING if found.is_part else _lighting(numbers, occupancy)
    least, most = building_cases(found, by_area, numbers)
    worked = None if most is None else BUILDING_LOAD(most)
    return Ends(BUILDING_LOAD.title, BUILDING_LOAD.limits, BUILDING_LOAD(least), worked)


def building_cases(
    found: Premises, by_area: Fraction, numbers: NumbersInForce
) -> tuple[BuildingCase, BuildingCase | None]:
    """The building at its least and at its most; no most where a kitchen unit can come to those that are known, or
    where something has no end.
    """
    set_by = _numbers(numbers)
    least_by = set_by if found.is_settled else replace(set_by, kitchen=_smallest(set_by.kitchen))
    least = BuildingCase(_building(found, by_area, upper=False), least_by)
    if not (found.is_settled and has_end(found)):
        return least, None
    return least, BuildingCase(_building(found, by_area, upper=True), set_by)


def _building(found: Premises, by_area: Fraction, *, upper: bool) -> Building:
    counting = (Truth.YES, Truth.UNKNOWN) if upper else (Truth.YES,)
    own = [each for each in found.loads if each.counts in counting and each.kind in _OF_THEIR_OWN]
    rest = tuple(each for each in found.loads if each not in own)
    others = dwelling_at(Premises({}, rest, found.complete, is_part=True), upper=upper)
    area = found.figures.get(AREA)

    def of(kind: str) -> tuple[Fraction, ...]:
        return tuple(end(each.power.value, upper=upper) or NOTHING for each in own if each.kind == kind)

    appliances = sum((each.rating for each in others.appliances), NOTHING)
    return Building(
        area=NOTHING if area is None else end(area.value, upper=upper) or NOTHING,
        lighting_by_area=by_area,
        connected_lighting=sum(of("lighting"), NOTHING),
        receptacles=sum(of("receptacles"), NOTHING),
        sign_circuits=of("sign"),
        kitchen=of("kitchen"),
        other=sum(
            (*others.ranges, *others.dryers, *others.vehicles, others.outlets, others.other_buildings), appliances
        ),
        largest_motor=others.largest_motor,
        heating_or_cooling=others.heating.largest_at_once,
    )


def _lighting(numbers: NumbersInForce, occupancy: Possible) -> Fraction:
    for row in rows_in_force(numbers, LIGHTING):
        if row.keys["occupancy"] == occupancy and row.value.number is not None:
            return row.value.number
    raise OutsideLimits(
        "The lighting of this kind of building is not one number in the table; state the load, or name measured demand "
        "or every rating in full as the method."
    )


def _numbers(numbers: NumbersInForce) -> BuildingNumbers:
    receptacles = (
        Tier(number_in_force(numbers, RECEPTACLES), Fraction(1)),
        Tier(None, number_in_force(numbers, OTHER_RECEPTACLES)),
    )
    return BuildingNumbers(
        # Show windows are listed as lighting that is connected.
        show_window_by_foot=NOTHING,
        sign_least=number_in_force(numbers, SIGN),
        receptacles=Tiers(receptacles, cited(numbers, RECEPTACLES)),
        kitchen=by_count(numbers, KITCHEN),
        motor_share=number_in_force(numbers, MOTOR),
        continuous_factor=_NOTHING_RAISED,
        sources=(cited(numbers, LIGHTING), cited(numbers, SIGN), cited(numbers, KITCHEN), cited(numbers, MOTOR)),
    )


def _smallest(kitchen: ByCount) -> ByCount:
    """The factor of the most units for any number of them."""
    return ByCount((CountRow(None, min(row.value for row in kitchen.rows)),), kitchen.source)
