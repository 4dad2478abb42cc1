"""The load of a single dwelling by the Canadian code, at both ends of what is known."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.canadian_dwelling import CANADIAN_DWELLING_LOAD, CanadianDwelling, CanadianNumbers
from checker.engineering.loads.demand import Tier, Tiers
from checker.engineering.loads.dwelling import Dwelling
from checker.facts.derivation import Context
from checker.facts.loads.ends import OTHER_BUILDING, dwelling_at, has_end
from checker.facts.loads.methods import Ends, Terms
from checker.facts.loads.numbers import LEAST_RATING
from checker.facts.loads.premises import NOTHING, Counts, Premises, end, premises
from checker.facts.numbers import cited, number_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import SITE
from checker.values.possible import Possible, exactly
from checker.values.relations import relate
from checker.values.truth import Truth

METHOD = "canadian_dwelling"
LIVING_AREA, WITHOUT_BASEMENT, APART = "living_area", "area_without_basement", "heating_and_cooling_apart"
READS = (LIVING_AREA, WITHOUT_BASEMENT, APART)

FIRST, FURTHER = "basic-load-of-the-first-part-of-a-dwelling", "basic-load-of-each-further-part-of-a-dwelling"
PART = "part-of-a-dwelling-by-which-the-basic-load-grows"
HEAT_IN_FULL, OTHER_HEAT = "heating-of-a-dwelling-counted-in-full", "factor-of-the-other-heating-of-a-dwelling"
RANGE, RANGE_UP_TO, RANGE_ABOVE = (
    *("load-of-the-range-of-a-dwelling", "range-that-this-load-is-for"),
    "factor-of-what-a-range-has-above",
)
LARGE_FROM, LARGE = "rating-above-which-a-further-load-counts", "factor-of-large-further-loads"
WITHOUT_RANGE = "large-further-loads-counted-in-full-without-a-range"
LARGER_AREA = "area-from-which-the-larger-least-load-counts"
LARGER_LEAST, SMALLER_LEAST = "least-load-of-a-larger-dwelling", "least-load-of-a-smaller-dwelling"
NUMBERS = (
    *(FIRST, FURTHER, PART, HEAT_IN_FULL, OTHER_HEAT, RANGE, RANGE_UP_TO, RANGE_ABOVE),
    *(LARGE_FROM, LARGE, WITHOUT_RANGE, LARGER_AREA, LARGER_LEAST, SMALLER_LEAST),
)

_HEATS_IN_FULL = "tankless_or_pool_heater"
_WHOLE = Fraction(1)


def is_canadian(method: Possible, numbers: NumbersInForce) -> bool:
    """Whether this calculation is named, or none is and the documents in force have this one alone."""
    if method.atom is not None:
        return method.atom == METHOD
    return FIRST in numbers.parameters and LEAST_RATING not in numbers.parameters


def load_of_canadian(context: Context, counts: Counts, terms: Terms) -> tuple[Premises, Ends]:
    """What counts and its load. Raises OutsideLimits for a part of a dwelling, and where no area is shown."""
    if terms.is_part:
        raise OutsideLimits(
            "The load of a part of a dwelling is not worked out by the Canadian code; it has to be stated."
        )
    found = premises(context, counts, asks=frozenset(), figures_read=(LIVING_AREA,))
    apart = relate("is", context.read(SITE, APART), exactly(True))
    without = context.known(SITE, WITHOUT_BASEMENT)
    ends = canadian_load(found, without.value, apart, context.numbers)
    return Premises({**found.figures, WITHOUT_BASEMENT: without}, found.loads, found.complete), ends


def canadian_load(found: Premises, without_basement: Possible, apart: Truth, numbers: NumbersInForce) -> Ends:
    """It rises with both areas and every rating: a range that comes to the loads adds more than it takes off others."""
    set_by = canadian_numbers(numbers)
    if not end(found.figures[LIVING_AREA].value, upper=False):
        raise OutsideLimits("The living area of the dwelling is not shown, by which its basic load counts.")
    if any(each.kind == OTHER_BUILDING for each in found.loads):
        raise OutsideLimits("The calculation of a single dwelling has no place for another building; state the load.")
    least = _case(found, without_basement, set_by, upper=False, together=apart is Truth.NO)
    worked = CANADIAN_DWELLING_LOAD(least)
    title, limits = CANADIAN_DWELLING_LOAD.title, CANADIAN_DWELLING_LOAD.limits
    if not has_end(found):
        return Ends(title, limits, worked, None)
    most = _case(found, without_basement, set_by, upper=True, together=apart is not Truth.YES)
    return Ends(title, limits, worked, CANADIAN_DWELLING_LOAD(most))


def _case(
    found: Premises, without_basement: Possible, numbers: CanadianNumbers, *, upper: bool, together: bool
) -> CanadianDwelling:
    home = dwelling_at(found, upper=upper)
    area = end(found.figures[LIVING_AREA].value, upper=upper) or NOTHING
    return CanadianDwelling(
        area=area,
        heating=home.heating.heat + home.heating.storage_heat,
        cooling=home.heating.cooling,
        range_rating=sum(home.ranges, NOTHING) if home.ranges else None,
        in_full=(*(each.rating for each in home.appliances if each.name == _HEATS_IN_FULL), *home.vehicles),
        others=_others(home),
        heating_and_cooling_together=together,
        numbers=numbers,
        area_without_basement=_without_basement(without_basement, area, upper=upper),
        heat_pump=home.heating.heat_pump,
        supplementary=home.heating.supplementary,
        with_compressor=home.heating.with_compressor,
    )


def _others(home: Dwelling) -> tuple[Fraction, ...]:
    return (*(each.rating for each in home.appliances if each.name != _HEATS_IN_FULL), *home.dryers)


def _without_basement(said: Possible, living_area: Fraction, *, upper: bool) -> Fraction:
    """The area without a basement, which is no larger than the living area."""
    found = end(said, upper=upper)
    if upper:
        return living_area if found is None else min(found, living_area)
    return found or NOTHING


def canadian_numbers(numbers: NumbersInForce) -> CanadianNumbers:
    """What the edition in force sets; OutsideLimits where the documents in force have none."""

    def of(name: str) -> Fraction:
        return number_in_force(numbers, name)

    tiers = (Tier(of(HEAT_IN_FULL), _WHOLE), Tier(None, of(OTHER_HEAT)))
    return CanadianNumbers(
        first=of(FIRST),
        each=of(FURTHER),
        step=of(PART),
        heating=Tiers(tiers, cited(numbers, HEAT_IN_FULL)),
        range_load=of(RANGE),
        range_up_to=of(RANGE_UP_TO),
        range_over=of(RANGE_ABOVE),
        large_from=of(LARGE_FROM),
        large_share=of(LARGE),
        without_range_up_to=of(WITHOUT_RANGE),
        floors=((of(LARGER_AREA), of(LARGER_LEAST)), (NOTHING, of(SMALLER_LEAST))),
        source=cited(numbers, FIRST),
    )
