"""Numbers of the documents in force, as the calculations of load take them."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.loads.demand import Tier, Tiers
from checker.engineering.loads.dwelling import OptionalNumbers
from checker.facts.numbers import cited, number_in_force
from checker.rules.model import NumbersInForce

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
    in_full, rest = number_in_force(numbers, IN_FULL), number_in_force(numbers, REST)
    return OptionalNumbers(
        lighting_by_area=number_in_force(numbers, LIGHTING),
        circuit=number_in_force(numbers, CIRCUIT),
        tiers=Tiers((Tier(in_full, WHOLE), Tier(None, rest)), cited(numbers, IN_FULL)),
        cooling=WHOLE,
        heat_pump=WHOLE,
        supplementary=number_in_force(numbers, SUPPLEMENTARY),
        storage_heat=WHOLE,
        few_heaters=number_in_force(numbers, FEW_HEATERS),
        many_heaters=number_in_force(numbers, MANY_HEATERS),
        many_from=int(number_in_force(numbers, MANY_FROM)),
        least_rating=number_in_force(numbers, LEAST_RATING),
        vehicle_least=number_in_force(numbers, VEHICLE),
        vehicles_in_full=False,
        source=cited(numbers, LEAST_RATING),
    )
