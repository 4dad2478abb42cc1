"""Calculated load of a single dwelling by the Canadian Electrical Code, Part I, rule 8-200."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.loads.demand import Tiers, together
from checker.engineering.worked import Method, Paper, Step, Worked

NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class CanadianNumbers:
    """What an edition sets, in W and ft2 (the base units; the rule prints m2).

    ``first``/``each`` are the basic loads for the first ``step`` of area and for each further one or part of it;
    ``heating`` tiers of electric heating; ``range_load`` for a range up to ``range_up_to``, ``range_over`` the share
    above; ``large_from`` the rating above which a further load counts, ``large_share`` its share; ``floors`` the least
    load by area, from the largest area down.
    """

    first: Fraction
    each: Fraction
    step: Fraction
    heating: Tiers
    range_load: Fraction
    range_up_to: Fraction
    range_over: Fraction
    large_from: Fraction
    large_share: Fraction
    without_range_up_to: Fraction
    floors: tuple[tuple[Fraction, Fraction], ...]
    source: str


@dataclass(frozen=True, slots=True)
class CanadianDwelling:
    """Living area as rule 8-110 counts it, and the floor area without a basement, by which the least load goes (ft2);
    loads in W. ``heating`` is electric heat but for the strip heat of a heat pump (``supplementary``), which runs with
    its compressor or does not; a heat pump runs in both seasons. ``in_full`` holds what counts whole: tankless and pool
    heaters, hot tubs, vehicle supply equipment; ``others`` all further loads, one by one.
    """

    area: Fraction
    heating: Fraction
    cooling: Fraction
    range_rating: Fraction | None
    in_full: tuple[Fraction, ...]
    others: tuple[Fraction, ...]
    heating_and_cooling_together: bool
    numbers: CanadianNumbers
    area_without_basement: Fraction
    heat_pump: Fraction = NOTHING
    supplementary: Fraction = NOTHING
    with_compressor: bool = True


def canadian_dwelling_load(case: CanadianDwelling) -> Worked:
    """The calculated load in W: basic load by area + heating and cooling + range + loads in full + share of the large
    ones, not below the least load for the area.

    Rises with the area and every rating, but for a load that becomes large enough to count. Limits: one dwelling;
    loads that cannot run together are the caller's to leave out but for heating and cooling. CE Code Part I, 8-200.
    """
    if case.area <= 0:
        raise OutsideLimits("A dwelling needs an area above zero.")
    numbers, paper = case.numbers, Paper()
    further = max(0, ceil((case.area - numbers.step) / numbers.step))
    how = f"{float(numbers.first):g} W and {further} x {float(numbers.each):g} W"
    parts = [paper.write("basic load", how, numbers.first + further * numbers.each, "W", numbers.source)]
    parts.append(_climate(paper, case))
    if case.range_rating is not None:
        over = max(NOTHING, case.range_rating - numbers.range_up_to)
        load = numbers.range_load + numbers.range_over * over
        parts.append(paper.write("range", f"rated {float(case.range_rating):g} W", load, "W", numbers.source))
    parts.append(paper.write("loads in full", "nameplates", sum(case.in_full, NOTHING), "W", numbers.source))
    parts.append(_others(paper, case))
    sum_of_parts = together(paper, "sum", parts, "W")
    least = next((load for area, load in numbers.floors if case.area_without_basement >= area), NOTHING)
    floor = paper.write("least load", "by the floor area without a basement", least, "W", numbers.source)
    paper.write(
        "calculated load",
        f"the greater of {sum_of_parts.letter} and {floor.letter}",
        max(sum_of_parts.value, least),
        "W",
        numbers.source,
    )
    return paper.result()


def _climate(paper: Paper, case: CanadianDwelling) -> Step:
    """Heat with the factor of its tiers, cooling in full; a heat pump counts once where both run."""
    heating = case.numbers.heating.of(case.heating + case.supplementary)
    without_strip = case.numbers.heating.of(case.heating)
    source = f"{case.numbers.source}; {case.numbers.heating.source}"
    with_pump = heating if case.with_compressor else without_strip
    winter = max(heating, with_pump + case.heat_pump)
    if case.heating_and_cooling_together:
        return paper.write("heating and cooling", "both can run at once", winter + case.cooling, "W", source)
    how = "the greater of the two, counted as not running at once"
    summer = case.cooling + case.heat_pump
    return paper.write("heating or cooling", how, max(winter, summer), "W", source)


def _others(paper: Paper, case: CanadianDwelling) -> Step:
    numbers = case.numbers
    large = sum((rating for rating in case.others if rating > numbers.large_from), NOTHING)
    whole = NOTHING if case.range_rating is not None else min(large, numbers.without_range_up_to)
    how = f"each over {float(numbers.large_from):g} W, {float(large):g} W, {float(numbers.large_share * 100):g} %"
    if whole:
        how += f" past the first {float(numbers.without_range_up_to):g} W, as there is no range"
    return paper.write("further loads", how, whole + (large - whole) * numbers.large_share, "W", numbers.source)


CANADIAN_DWELLING_LOAD: Method[CanadianDwelling] = Method(
    "canadian_dwelling_load",
    "Calculated load of a single dwelling, Canadian rule",
    "basic load + heating and cooling + range + loads in full + share of further loads",
    "Canadian Electrical Code, Part I, 8-200",
    "One dwelling.",
    {"area": Direction.RISES, "heating": Direction.RISES, "cooling": Direction.RISES, "rating": Direction.RISES},
    canadian_dwelling_load,
)
