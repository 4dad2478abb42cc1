"""Numbers of the documents in force, as the calculations of load take them."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.demand import Tier, Tiers
from checker.engineering.loads.dwelling import OptionalNumbers
from checker.rules.model import NumbersInForce, ParameterValue

NOTHING = Fraction(0)
WHOLE = Fraction(1)

LIGHTING = "general-lighting-of-a-square-foot"
CIRCUIT = "circuit-for-small-appliances-or-laundry"
VEHICLE = "least-load-of-vehicle-supply"
IN_FULL = "optional-load-counted-in-full"
REST = "factor-of-the-other-optional-load"
SUPPLEMENTARY = "factor-of-supplementary-heat"
FEW_HEATERS = "factor-of-few-room-heaters"
MANY_HEATERS = "factor-of-many-room-heaters"
MANY_FROM = "controls-from-which-heaters-are-many"
LEAST_RATING = "least-rating-for-the-optional-calculation"

READ = (LIGHTING, CIRCUIT, VEHICLE, IN_FULL, REST, SUPPLEMENTARY, FEW_HEATERS, MANY_HEATERS, MANY_FROM, LEAST_RATING)
"""Every number that is read here."""


def optional_numbers(numbers: NumbersInForce) -> OptionalNumbers:
    """The numbers of the optional calculation of one dwelling; OutsideLimits where the documents in force have none."""
    in_full, rest = _number(numbers, IN_FULL), _number(numbers, REST)
    return OptionalNumbers(
        lighting_by_area=_number(numbers, LIGHTING),
        circuit=_number(numbers, CIRCUIT),
        tiers=Tiers((Tier(in_full, WHOLE), Tier(None, rest)), cited(numbers, IN_FULL)),
        cooling=WHOLE,
        heat_pump=WHOLE,
        supplementary=_number(numbers, SUPPLEMENTARY),
        storage_heat=WHOLE,
        few_heaters=_number(numbers, FEW_HEATERS),
        many_heaters=_number(numbers, MANY_HEATERS),
        many_from=int(_number(numbers, MANY_FROM)),
        least_rating=_number(numbers, LEAST_RATING),
        vehicle_least=_number(numbers, VEHICLE),
        vehicles_in_full=False,
        source=cited(numbers, LEAST_RATING),
    )


def cited(numbers: NumbersInForce, name: str) -> str:
    """The section that sets a number, with its edition."""
    value = _value(numbers, name)
    return "; ".join(f"{each.document} {each.edition} {each.section}" for each in value.cites)


def _number(numbers: NumbersInForce, name: str) -> Fraction:
    value = _value(numbers, name).value
    found = getattr(value, "number", None)
    if found is None:
        raise OutsideLimits(f"The {name.replace('-', ' ')} is no one number in the documents in force.")
    return Fraction(found)


def _value(numbers: NumbersInForce, name: str) -> ParameterValue:
    value = numbers.parameters.get(name)
    if value is None:
        raise OutsideLimits(f"No document in force sets the {name.replace('-', ' ')}.")
    return value
