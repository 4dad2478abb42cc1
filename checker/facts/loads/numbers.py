"""Numbers of the documents in force, as the calculations of load take them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.cooking import CookingTable
from checker.engineering.loads.demand import ByCount, CountRow, Tier, Tiers
from checker.engineering.loads.dwelling import OptionalNumbers, StandardNumbers
from checker.facts.numbers import cited, made_once, number_in_force, rows_in_force
from checker.rules.model.in_force import NumbersInForce

LIGHTING = "general-lighting-of-a-square-foot"
CIRCUIT = "circuit-for-small-appliances-or-laundry"
VEHICLE = "least-load-of-vehicle-supply"
VEHICLE_OUTSIDE = "share-of-vehicle-supply-outside-the-demand"

OPTIONAL_IN_FULL = "optional-load-counted-in-full"
OPTIONAL_REST = "factor-of-the-other-optional-load"
SUPPLEMENTARY = "factor-of-supplementary-heat"
FEW_HEATERS = "factor-of-few-room-heaters"
MANY_HEATERS = "factor-of-many-room-heaters"
MANY_FROM = "controls-from-which-heaters-are-many"
LEAST_RATING = "least-rating-for-the-optional-calculation"

LIGHTING_IN_FULL = "lighting-counted-in-full"
LIGHTING_IN_THE_MIDDLE = "lighting-counted-in-the-middle"
MIDDLE = "factor-of-lighting-in-the-middle"
ABOVE = "factor-of-lighting-above"
APPLIANCES_FROM = "appliances-from-which-a-factor-counts"
APPLIANCES = "factor-of-many-appliances"
DRYER = "least-load-of-a-dryer"
MOTOR = "share-of-the-largest-motor"
RANGE = "range-that-the-demand-is-for"
RANGE_STEP = "step-of-larger-ranges"
RANGE_RISE = "rise-for-each-step-of-larger-ranges"
LARGEST_RANGE = "largest-range-of-the-table"

EXISTING_IN_FULL = "existing-load-counted-in-full"
EXISTING_REST = "factor-of-the-other-existing-load"

RANGES = "demand-of-ranges"
DRYERS = "factor-of-dryers"

READ = (
    *(LIGHTING, CIRCUIT, VEHICLE, VEHICLE_OUTSIDE),
    *(OPTIONAL_IN_FULL, OPTIONAL_REST, SUPPLEMENTARY, FEW_HEATERS, MANY_HEATERS, MANY_FROM, LEAST_RATING),
    *(LIGHTING_IN_FULL, LIGHTING_IN_THE_MIDDLE, MIDDLE, ABOVE, APPLIANCES_FROM, APPLIANCES, DRYER, MOTOR),
    *(RANGE, RANGE_STEP, RANGE_RISE, LARGEST_RANGE, EXISTING_IN_FULL, EXISTING_REST, RANGES, DRYERS),
)
"""Every parameter and table that is read here."""

_WHOLE = Fraction(1)


def optional_numbers(numbers: NumbersInForce, *, vehicles_outside: bool | None = None) -> OptionalNumbers:
    """The numbers of the optional calculation; OutsideLimits where the documents in force have none.

    ``vehicles_outside`` says that vehicle supply counts in full beside the demand, whatever the edition says of it.
    """
    outside = number_in_force(numbers, VEHICLE_OUTSIDE) == _WHOLE if vehicles_outside is None else vehicles_outside
    return OptionalNumbers(
        lighting_by_area=number_in_force(numbers, LIGHTING),
        circuit=number_in_force(numbers, CIRCUIT),
        tiers=_two_tiers(numbers, OPTIONAL_IN_FULL, OPTIONAL_REST),
        cooling=_WHOLE,
        heat_pump=_WHOLE,
        supplementary=number_in_force(numbers, SUPPLEMENTARY),
        storage_heat=_WHOLE,
        few_heaters=number_in_force(numbers, FEW_HEATERS),
        many_heaters=number_in_force(numbers, MANY_HEATERS),
        many_from=int(number_in_force(numbers, MANY_FROM)),
        least_rating=number_in_force(numbers, LEAST_RATING),
        vehicle_least=number_in_force(numbers, VEHICLE),
        vehicles_in_full=outside,
        source=cited(numbers, LEAST_RATING),
        heating_source=cited(numbers, SUPPLEMENTARY),
    )


@dataclass(frozen=True, slots=True)
class ConnectedNumbers:
    """What a sum of all ratings takes from the documents in force."""

    lighting_by_area: Fraction
    circuit: Fraction
    motor_share: Fraction
    motor_source: str


def connected_numbers(numbers: NumbersInForce) -> ConnectedNumbers:
    """The numbers of a sum of all ratings; OutsideLimits where the documents in force have none."""
    return ConnectedNumbers(
        number_in_force(numbers, LIGHTING),
        number_in_force(numbers, CIRCUIT),
        number_in_force(numbers, MOTOR),
        cited(numbers, MOTOR),
    )


def existing_tiers(numbers: NumbersInForce) -> Tiers:
    """The tiers of an existing dwelling."""
    return _two_tiers(numbers, EXISTING_IN_FULL, EXISTING_REST)


@made_once
def standard_numbers(numbers: NumbersInForce) -> StandardNumbers:
    """The numbers of the standard calculation; OutsideLimits where the documents in force have none."""
    tiers = (
        Tier(number_in_force(numbers, LIGHTING_IN_FULL), _WHOLE),
        Tier(number_in_force(numbers, LIGHTING_IN_THE_MIDDLE), number_in_force(numbers, MIDDLE)),
        Tier(None, number_in_force(numbers, ABOVE)),
    )
    return StandardNumbers(
        lighting_by_area=number_in_force(numbers, LIGHTING),
        circuit=number_in_force(numbers, CIRCUIT),
        lighting_tiers=Tiers(tiers, cited(numbers, LIGHTING_IN_FULL)),
        appliances_from=int(number_in_force(numbers, APPLIANCES_FROM)),
        appliances_factor=number_in_force(numbers, APPLIANCES),
        dryer_least=number_in_force(numbers, DRYER),
        dryers=by_count(numbers, DRYERS),
        cooking=_cooking(numbers),
        vehicle_least=number_in_force(numbers, VEHICLE),
        motor_share=number_in_force(numbers, MOTOR),
        sources=(
            cited(numbers, LIGHTING),
            cited(numbers, APPLIANCES),
            cited(numbers, DRYER),
            cited(numbers, VEHICLE),
            cited(numbers, MOTOR),
        ),
    )


def _cooking(numbers: NumbersInForce) -> CookingTable:
    """Column C alone: that of ranges by count; the other columns serve where a person chooses them."""
    none = ByCount((), cited(numbers, RANGES))
    limit = number_in_force(numbers, RANGE)
    return CookingTable(
        column_c=by_count(numbers, RANGES),
        lines=(),
        column_c_up_to=limit,
        raise_step=number_in_force(numbers, RANGE_STEP),
        raise_each=number_in_force(numbers, RANGE_RISE),
        greatest=number_in_force(numbers, LARGEST_RANGE),
        least_that_counts=Fraction(0),
        column_a=none,
        column_b=none,
        column_b_from=limit,
        column_b_up_to=limit,
        source=cited(numbers, RANGES),
    )


def _two_tiers(numbers: NumbersInForce, in_full: str, rest: str) -> Tiers:
    tiers = (Tier(number_in_force(numbers, in_full), _WHOLE), Tier(None, number_in_force(numbers, rest)))
    return Tiers(tiers, cited(numbers, in_full))


def by_count(numbers: NumbersInForce, name: str) -> ByCount:
    """A table by count; OutsideLimits where the documents in force have none."""
    return ByCount(tuple(_count_rows(numbers, name)), cited(numbers, name))


def _count_rows(numbers: NumbersInForce, name: str) -> Iterable[CountRow]:
    for row in rows_in_force(numbers, name):
        up_to = row.keys["count"].hull
        if up_to is None or up_to.high is None or row.value.number is None:
            raise OutsideLimits(f"A row of the {name.replace('-', ' ')} is no one number.")
        yield CountRow(int(up_to.high), row.value.number)
