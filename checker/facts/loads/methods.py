"""The calculations of load, each at both ends of what is known."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.connected import CONNECTED_LOAD, ConnectedCase
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
from checker.facts.loads.numbers import (
    LEAST_RATING,
    connected_numbers,
    existing_tiers,
    optional_numbers,
    standard_numbers,
)
from checker.facts.loads.premises import LARGEST_MOTOR, OWN_CONTROLS, Premises
from checker.facts.numbers import number_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.values.possible import Possible
from checker.values.truth import Truth

STANDARD, OPTIONAL, EXISTING, MEASURED = "standard", "optional", "existing_dwelling", "measured_demand"
CONNECTED = "connected"
FOR_THE_WHOLE = (OPTIONAL, EXISTING)
_WHOLE = "Load of one dwelling, by the optional calculation or, below its least rating, the standard one"
_PART = "Load of a part of a dwelling, by the standard calculation or with every rating in full"


@dataclass(frozen=True, slots=True)
class Ends:
    """The load at its least and at its most in VA; no most where something has no end."""

    title: str
    limits: str
    least: Worked
    most: Worked | None


@dataclass(frozen=True, slots=True)
class Terms:
    """What a calculation needs beside the dwelling: the rating on the way (A), at the least and at the most (None: no
    end), whether heating or cooling is added, whether vehicle supply counts outside of the demand (None: as the edition
    says), and whether it is a part of the dwelling that is fed.
    """

    rating: Fraction
    most_rating: Fraction | None
    heating_added: Truth
    vehicles_outside: bool | None = None
    is_part: bool = False


def asks_of(method: Possible, numbers: NumbersInForce, terms: Terms) -> frozenset[str]:
    """What of a load the calculation that ``load_by`` takes counts, or may, besides its kind and rating."""
    controls = frozenset() if terms.is_part or method.atom not in (None, OPTIONAL) else frozenset({OWN_CONTROLS})
    return controls | (frozenset({LARGEST_MOTOR}) if _counts_motors(method, numbers, terms) else frozenset())


def _counts_motors(method: Possible, numbers: NumbersInForce, terms: Terms) -> bool:
    """Whether a share of the largest motor counts besides, or may."""
    if method.atom is None and not terms.is_part:
        return terms.rating < number_in_force(numbers, LEAST_RATING)
    return terms.is_part or method.atom not in FOR_THE_WHOLE


def load_by(method: Possible, found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """The load by the calculation that the drawing names.

    Where it names none: by the optional one, which the documents allow in place of the standard one, as far as the
    rating on the way allows it. Raises OutsideLimits where the calculation does not hold.
    """
    name = method.atom
    if terms.is_part:
        return _of_a_part(name, found, numbers, terms)
    named = {STANDARD: _standard, OPTIONAL: _optional, EXISTING: _existing, CONNECTED: connected}
    return named.get(str(name), _by_the_rating)(found, numbers, terms)


def _by_the_rating(found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """The optional calculation where the rating on the way allows it, and the standard one where it does not."""
    wanted = number_in_force(numbers, LEAST_RATING)
    if terms.rating >= wanted:
        return _optional(found, numbers, terms)
    standard = _standard(found, numbers, terms)
    if terms.most_rating is not None and terms.most_rating < wanted:
        return standard
    return either(_WHOLE, standard, _optional(found, numbers, replace(terms, rating=wanted)))


def _of_a_part(name: object, found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """The load of a part. Where no calculation is named it lies between the standard one and every rating in full;
    which of them is the greater depends on the least that some loads count.
    """
    if name in FOR_THE_WHOLE:
        raise OutsideLimits(
            "The calculation that is named is for the whole load of a dwelling; "
            "write load_method: standard, or connected, for a part of it."
        )
    standard, in_full = _standard(found, numbers, terms), connected(found, numbers, terms)
    named = {STANDARD: standard, CONNECTED: in_full}.get(str(name))
    return named or either(_PART, standard, in_full)


def either(title: str, one: Ends, other: Ends) -> Ends:
    """The smaller of both at the least, and the larger at the most."""
    least = min(one.least, other.least, key=_value)
    most = None if one.most is None or other.most is None else max(one.most, other.most, key=_value)
    return Ends(title, f"{one.limits} {other.limits}", least, most)


def _value(worked: Worked) -> Fraction:
    return worked.value


def connected(found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """Every rating in full; it rises with all of them."""
    of = connected_numbers(numbers)

    def at(upper: bool) -> Worked:
        home = dwelling_at(found, upper=upper)
        return CONNECTED_LOAD(ConnectedCase(home, of.lighting_by_area, of.circuit, of.motor_share, of.motor_source))

    return _ends(CONNECTED_LOAD.title, CONNECTED_LOAD.limits, found, at)


def _optional(found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """It rises with area, circuits and ratings; more heaters can count less, to which the ends see."""
    set_by = optional_numbers(numbers, vehicles_outside=terms.vehicles_outside)

    def at(upper: bool) -> Worked:
        return OPTIONAL_LOAD(OptionalCase(dwelling_at(found, upper=upper), terms.rating, set_by))

    return _ends(OPTIONAL_LOAD.title, OPTIONAL_LOAD.limits, found, at)


def _existing(found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """It rises with all ratings; heating that is added counts more than heating that was there."""
    set_by: OptionalNumbers = optional_numbers(numbers, vehicles_outside=False)
    tiers = existing_tiers(numbers)

    def at(upper: bool) -> Worked:
        added = terms.heating_added is Truth.YES or (upper and terms.heating_added is Truth.UNKNOWN)
        home = dwelling_at(found, upper=upper)
        return EXISTING_DWELLING_LOAD(ExistingCase(home, added, tiers, set_by, tiers.source))

    return _ends(EXISTING_DWELLING_LOAD.title, EXISTING_DWELLING_LOAD.limits, found, at)


def _standard(found: Premises, numbers: NumbersInForce, terms: Terms) -> Ends:
    """Four appliances can count less than three, and a smaller range less than the average: while a load can come to
    those that are known, the least takes the smallest factors, and there is a most only with all of them known.
    """
    set_by = standard_numbers(numbers)
    least_by = set_by if found.is_settled else smallest_factors(set_by)

    def at(upper: bool) -> Worked:
        home = dwelling_at(found, upper=upper)
        return STANDARD_LOAD(StandardCase(home, set_by if upper else least_by))

    ends = _ends(STANDARD_LOAD.title, STANDARD_LOAD.limits, found, at)
    return ends if found.is_settled else replace(ends, most=None)


def smallest_factors(numbers: StandardNumbers) -> StandardNumbers:
    """The numbers with the smallest factors that more loads could bring."""
    factors = [row.value for row in numbers.dryers.rows]
    return replace(
        numbers,
        appliances_from=0,
        dryers=ByCount((CountRow(None, min(factors)),), numbers.dryers.source),
        cooking=replace(numbers.cooking, raise_each=Fraction(0)),
    )


def _ends(title: str, limits: str, found: Premises, at: Callable[[bool], Worked]) -> Ends:
    return Ends(title, limits, at(False), at(True) if has_end(found) else None)
