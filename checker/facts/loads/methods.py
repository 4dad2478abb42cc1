"""The calculations of load, each at both ends of what is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.demand import ByCount, CountRow
from checker.engineering.loads.dwelling import (
    OPTIONAL_LOAD,
    STANDARD_LOAD,
    OptionalCase,
    OptionalNumbers,
    StandardCase,
    StandardNumbers,
)
from checker.engineering.loads.existing import EXISTING_DWELLING_LOAD, ExistingCase
from checker.engineering.worked import Worked
from checker.facts.loads.ends import dwelling_at, has_end
from checker.facts.loads.house import House
from checker.facts.loads.numbers import existing_tiers, optional_numbers, standard_numbers
from checker.rules.model import NumbersInForce
from checker.values.possible import Possible
from checker.values.truth import Truth

STANDARD, OPTIONAL, EXISTING, MEASURED = "standard", "optional", "existing_dwelling", "measured_demand"


@dataclass(frozen=True, slots=True)
class Ends:
    """The load at its least and at its most in VA; no most where something has no end."""

    title: str
    limits: str
    least: Worked
    most: Worked | None


@dataclass(frozen=True, slots=True)
class Terms:
    """What a calculation needs beside the dwelling: the smallest rating on the way (A), whether heating or cooling is
    added, and whether vehicle supply counts outside of the demand (None: as the edition says).
    """

    rating: Fraction
    heating_added: Truth
    vehicles_outside: bool | None = None


def load_by(method: Possible, found: House, numbers: NumbersInForce, terms: Terms) -> Ends:
    """The load by the calculation that the drawing names; by the optional one, which the documents allow in its place,
    where it names none. Raises OutsideLimits where the calculation does not hold.
    """
    name = method.atom
    if name == MEASURED:
        raise OutsideLimits("A load from measured demand has to be stated.")
    work = {STANDARD: _standard, EXISTING: _existing}.get(str(name), _optional)
    return work(found, numbers, terms)


def _optional(found: House, numbers: NumbersInForce, terms: Terms) -> Ends:
    """It rises with area, circuits and ratings; more heaters can count less, to which the ends see."""
    set_by = optional_numbers(numbers, vehicles_outside=terms.vehicles_outside)

    def at(upper: bool) -> Worked:
        return OPTIONAL_LOAD(OptionalCase(dwelling_at(found, upper=upper), terms.rating, set_by))

    return _ends(OPTIONAL_LOAD.title, OPTIONAL_LOAD.limits, found, at)


def _existing(found: House, numbers: NumbersInForce, terms: Terms) -> Ends:
    """It rises with all ratings; heating that is added counts more than heating that was there."""
    set_by: OptionalNumbers = optional_numbers(numbers, vehicles_outside=False)
    tiers = existing_tiers(numbers)

    def at(upper: bool) -> Worked:
        added = terms.heating_added is Truth.YES or (upper and terms.heating_added is Truth.UNKNOWN)
        home = dwelling_at(found, upper=upper)
        return EXISTING_DWELLING_LOAD(ExistingCase(home, added, tiers, set_by, tiers.source))

    return _ends(EXISTING_DWELLING_LOAD.title, EXISTING_DWELLING_LOAD.limits, found, at)


def _standard(found: House, numbers: NumbersInForce, terms: Terms) -> Ends:
    """Four appliances can count less than three, and a smaller range less than the average: while a load can come to
    those that are known, the least takes the smallest factors, and there is a most only with all of them known.
    """
    set_by = standard_numbers(numbers)
    least_by = set_by if found.is_settled else _smallest(set_by)

    def at(upper: bool) -> Worked:
        home = dwelling_at(found, upper=upper)
        return STANDARD_LOAD(StandardCase(home, set_by if upper else least_by))

    ends = _ends(STANDARD_LOAD.title, STANDARD_LOAD.limits, found, at)
    return ends if found.is_settled else replace(ends, most=None)


def _smallest(numbers: StandardNumbers) -> StandardNumbers:
    """The numbers with the smallest factors that more loads could bring."""
    factors = [row.value for row in numbers.dryers.rows]
    return replace(
        numbers,
        appliances_from=0,
        dryers=ByCount((CountRow(None, min(factors)),), numbers.dryers.source),
        cooking=replace(numbers.cooking, raise_each=Fraction(0)),
    )


def _ends(title: str, limits: str, found: House, at: Callable[[bool], Worked]) -> Ends:
    return Ends(title, limits, at(False), at(True) if has_end(found) else None)
