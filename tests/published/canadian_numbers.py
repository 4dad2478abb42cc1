"""The numbers of the Canadian rule 8-200 for a single dwelling, from memory; the published example follows them."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.loads.canadian_dwelling import CanadianNumbers
from checker.engineering.loads.demand import Tier, Tiers

SQUARE_FEET = 1 / Fraction("0.3048") ** 2
"""Square feet in a square metre."""


def canadian() -> CanadianNumbers:
    return CanadianNumbers(
        first=Fraction(5000),
        each=Fraction(1000),
        step=90 * SQUARE_FEET,
        heating=Tiers((Tier(Fraction(10_000), Fraction(1)), Tier(None, Fraction(3, 4))), "62-118"),
        range_load=Fraction(6000),
        range_up_to=Fraction(12_000),
        range_over=Fraction(2, 5),
        large_from=Fraction(1500),
        large_share=Fraction(1, 4),
        without_range_up_to=Fraction(6000),
        floors=((80 * SQUARE_FEET, Fraction(24_000)), (Fraction(0), Fraction(14_400))),
        source="8-200",
    )
