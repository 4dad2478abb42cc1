"""Load of buildings other than dwellings (NFPA 70, article 220 part III; 120 in the 2026 edition)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction
from checker.engineering.loads.demand import ByCount, Tiers, together
from checker.engineering.worked import Method, Paper, Step, Worked

NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class Building:
    """What a building holds: area (ft2) with the unit load of its kind (VA/ft2), lighting that is connected (VA),
    receptacle outlets (VA together), show windows (ft), signs, kitchen units, motors and other loads (VA).
    """

    area: Fraction
    lighting_by_area: Fraction
    connected_lighting: Fraction
    receptacles: Fraction
    show_window: Fraction = NOTHING
    sign_circuits: tuple[Fraction, ...] = ()
    kitchen: tuple[Fraction, ...] = ()
    other: Fraction = NOTHING
    largest_motor: Fraction = NOTHING
    heating_or_cooling: Fraction = NOTHING


@dataclass(frozen=True, slots=True)
class BuildingNumbers:
    """What an edition sets: the load of a foot of show window, the least of a sign circuit, the demand of receptacles
    and of kitchens, the share of the largest motor, and the factor of what runs for hours.
    """

    show_window_by_foot: Fraction
    sign_least: Fraction
    receptacles: Tiers
    kitchen: ByCount
    motor_share: Fraction
    continuous_factor: Fraction
    sources: tuple[str, str, str, str]
    """Sections of lighting, show windows and signs, kitchens, motors."""


@dataclass(frozen=True, slots=True)
class BuildingCase:
    """A building and the numbers of an edition."""

    building: Building
    numbers: BuildingNumbers


def building_load(case: BuildingCase) -> Worked:
    """The calculated load of a building that is no dwelling, in VA, nothing raised for running on for hours.

    The greater of lighting by area and lighting connected + receptacles at their demand + show windows + signs +
    kitchen at its demand + heating or cooling + other loads + a quarter of the largest motor. It rises with each of
    them, not with the number of kitchen units, whose factor falls. Limits: buildings of one kind; mixed ones in parts.
    """
    paper = Paper()
    write_building(paper, case, "calculated load")
    return paper.result()


def write_building(paper: Paper, case: BuildingCase, quantity: str) -> Step:
    """The steps of the load of a building, on paper that may hold others before them."""
    return together(paper, quantity, _parts(paper, case))


def conductor_load(case: BuildingCase, continuous: Fraction) -> Worked:
    """The load by which conductors and overcurrent devices are sized: what runs on for three hours or more at 125 %.

    ``continuous`` is that part of the calculated load, in VA. A source is compared with the load that is not raised.
    """
    paper = Paper()
    whole = together(paper, "calculated load", _parts(paper, case))
    factor = case.numbers.continuous_factor
    long = paper.write("of which runs on for hours", "given", continuous, "VA")
    paper.write(
        "load for conductors",
        f"{whole.letter} + ({float(factor):g} - 1) x {long.letter}",
        whole.value + (factor - 1) * long.value,
        "VA",
    )
    return paper.result()


def _parts(paper: Paper, case: BuildingCase) -> tuple[Step, ...]:
    """Lighting, and a step for each other part that the building has."""
    building, numbers = case.building, case.numbers
    of_lighting, of_shows, of_kitchens, of_motors = numbers.sources
    by_area = building.area * building.lighting_by_area
    how = f"the greater of {building.area} ft2 x {float(building.lighting_by_area):g} VA/ft2 and what is connected"
    parts = [paper.write("lighting", how, max(by_area, building.connected_lighting), "VA", of_lighting)]
    if building.receptacles:
        outlets = paper.write("receptacle outlets", "given", building.receptacles, "VA")
        parts.append(numbers.receptacles.write(paper, "demand of receptacles", outlets))
    if building.show_window:
        shows = building.show_window * numbers.show_window_by_foot
        parts.append(paper.write("show windows", f"{building.show_window} ft", shows, "VA", of_shows))
    if building.sign_circuits:
        lit = sum((max(each, numbers.sign_least) for each in building.sign_circuits), NOTHING)
        parts.append(paper.write("signs", f"each at least {numbers.sign_least} VA", lit, "VA", of_shows))
    if building.kitchen:
        parts.append(_kitchen(paper, building, numbers, of_kitchens))
    parts.extend(_as_given(paper, building))
    if building.largest_motor:
        how = f"{float(numbers.motor_share * 100):g} % of {building.largest_motor} VA"
        share = numbers.motor_share * building.largest_motor
        parts.append(paper.write("largest motor", how, share, "VA", of_motors))
    return tuple(parts)


def _as_given(paper: Paper, building: Building) -> Iterator[Step]:
    if building.heating_or_cooling:
        yield paper.write("heating or cooling", "the greater of the two", building.heating_or_cooling, "VA")
    if building.other:
        yield paper.write("other loads", "given", building.other, "VA")


def _kitchen(paper: Paper, building: Building, numbers: BuildingNumbers, source: str) -> Step:
    """Kitchen equipment at the factor for its number, and never less than the two largest units."""
    factor = numbers.kitchen.of(len(building.kitchen))
    total = sum(building.kitchen, NOTHING)
    two_largest = sum(sorted(building.kitchen)[-2:], NOTHING)
    how = f"{float(factor * 100):g} % of {total} VA, not less than the two largest, {two_largest} VA"
    return paper.write("kitchen", how, max(factor * total, two_largest), "VA", source)


BUILDING_LOAD: Method[BuildingCase] = Method(
    "building_load",
    "Load of a building other than a dwelling",
    "lighting + receptacles + show windows + signs + kitchen + heating or cooling + other + motor share",
    "NFPA 70, article 220 part III (120 in the 2026 edition)",
    "One kind of occupancy.",
    {"area": Direction.RISES, "receptacles": Direction.RISES, "other": Direction.RISES},
    building_load,
)
