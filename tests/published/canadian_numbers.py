"""The numbers of the Canadian rule 8-200 for a single dwelling as the pack has them."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from functools import cache

from checker.engineering.loads.canadian_dwelling import CanadianNumbers
from checker.facts.loads.canadian import canadian_numbers
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing

SQUARE_FEET = 1 / Fraction("0.3048") ** 2
"""Square feet in a square metre."""


@cache
def canadian() -> CanadianNumbers:
    library = Library.shipped()
    found = standing("csa-c22-1-2021", library.profiles, library)
    return canadian_numbers(found.on(date(2026, 3, 14)).numbers)
