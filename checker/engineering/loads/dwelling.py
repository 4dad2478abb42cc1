"""Load of one dwelling: standard and optional method, and the method for an existing dwelling."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.loads.cooking import CookingTable, write_ranges
from checker.engineering.loads.demand import ByCount, Tiers, together
from checker.engineering.worked import Method, Paper, Step, Worked

NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class Appliance:
    """An appliance fastened in place with its rating in VA. ``to_neutral`` says whether it loads the neutral."""

    name: str
    rating: Fraction
    to_neutral: bool = False


@dataclass(frozen=True, slots=True)
class Heating:
    """Heating and cooling, in VA: what runs with the compressor, and what does not run together with cooling.

    ``separately_controlled`` counts electric room heaters with controls of their own. ``supplementary`` is the strip
    heat of a heat pump, ``with_compressor`` whether it can run while the compressor does.
    """

    cooling: Fraction = NOTHING
    heat_pump: Fraction = NOTHING
    supplementary: Fraction = NOTHING
    with_compressor: bool = True
    heat: Fraction = NOTHING
    separately_controlled: int = 0
    storage_heat: Fraction = NOTHING

    @property
    def largest_at_once(self) -> Fraction:
        """The greater of heating and cooling, which do not run together (220.60)."""
        pump = self.heat_pump + (self.supplementary if self.with_compressor else NOTHING)
        heating = max(pump, self.supplementary) + self.heat + self.storage_heat
        return max(self.cooling, heating)


@dataclass(frozen=True, slots=True)
class Dwelling:
    """What a dwelling unit, or a part of one, holds. Area in square feet; ratings in VA; the largest motor with its
    load in VA. ``outlets`` is the load of circuits for lighting and receptacles that no area stands for,
    ``other_buildings`` that of lights and receptacles outside of the dwelling.
    """

    area: Fraction
    small_appliance_circuits: int
    laundry_circuits: int
    appliances: tuple[Appliance, ...]
    ranges: tuple[Fraction, ...]
    dryers: tuple[Fraction, ...]
    vehicles: tuple[Fraction, ...]
    heating: Heating
    largest_motor: Fraction = NOTHING
    outlets: Fraction = NOTHING
    other_buildings: Fraction = NOTHING


@dataclass(frozen=True, slots=True)
class StandardNumbers:
    """What an edition sets for the standard method, with the section of each group."""

    lighting_by_area: Fraction
    circuit: Fraction
    lighting_tiers: Tiers
    appliances_from: int
    appliances_factor: Fraction
    dryer_least: Fraction
    dryers: ByCount
    cooking: CookingTable
    vehicle_least: Fraction | None
    motor_share: Fraction
    sources: tuple[str, str, str, str, str]
    """Sections of lighting and circuits, appliances, dryers, vehicles, motors."""


@dataclass(frozen=True, slots=True)
class StandardCase:
    """A dwelling and the numbers of an edition."""

    dwelling: Dwelling
    numbers: StandardNumbers


def write_lighting(paper: Paper, home: Dwelling, by_area: Fraction, circuit: Fraction, source: str) -> Step:
    """General lighting by area, and the circuits for small appliances and laundry, before any demand factor."""
    lighting = paper.write("general lighting", f"{home.area} ft2 x {by_area} VA/ft2", home.area * by_area, "VA", source)
    count = home.small_appliance_circuits + home.laundry_circuits
    circuits = paper.write(
        "small-appliance and laundry circuits", f"{count} x {circuit} VA", count * circuit, "VA", source
    )
    parts = [lighting, circuits]
    if home.outlets:
        parts.append(paper.write("circuits for lighting and receptacles", "as listed", home.outlets, "VA"))
    return together(paper, "lighting and these circuits", parts)


def standard_load(case: StandardCase) -> Worked:
    """The calculated load of a dwelling unit by the standard method, in VA (NFPA 70, article 220 part III; 2026: 120).

    Tiers of lighting and circuits + fastened appliances (75 % from four on) + dryers (by count, 5,000 VA or nameplate)
    + cooking + the greater of heating and cooling + vehicles + a quarter of the largest motor.

    It rises with the area, with each rating and with the motor. It does **not** rise with the number of appliances:
    four can count less than three. Limits: ratings above 27 kW have no row in the table of ranges.
    """
    home, numbers, paper = case.dwelling, case.numbers, Paper()
    of_lighting, of_appliances, _, of_vehicles, of_motors = numbers.sources
    general = write_lighting(paper, home, numbers.lighting_by_area, numbers.circuit, of_lighting)
    parts = [numbers.lighting_tiers.write(paper, "demand of lighting and these circuits", general)]
    parts.append(_appliances(paper, home, numbers, of_appliances))
    parts.append(write_dryers(paper, home.dryers, numbers))
    parts.append(write_ranges(paper, home.ranges, numbers.cooking))
    parts.append(write_heating_or_cooling(paper, home))
    parts.append(write_vehicles(paper, home.vehicles, numbers.vehicle_least, of_vehicles))
    share = numbers.motor_share * home.largest_motor
    how = f"{float(numbers.motor_share * 100):g} % of {home.largest_motor} VA"
    parts.append(paper.write("largest motor", how, share, "VA", of_motors))
    together(paper, "calculated load", (*parts, *write_other_buildings(paper, home)))
    return paper.result()


def _appliances(paper: Paper, home: Dwelling, numbers: StandardNumbers, source: str) -> Step:
    total = sum((each.rating for each in home.appliances), NOTHING)
    many = len(home.appliances) >= numbers.appliances_from
    factor = numbers.appliances_factor if many else Fraction(1)
    how = f"{len(home.appliances)} appliances, {total} VA, at {float(factor * 100):g} %"
    return paper.write("appliances fastened in place", how, total * factor, "VA", source)


def write_dryers(paper: Paper, dryers: Sequence[Fraction], numbers: StandardNumbers) -> Step:
    """The demand of dryers, in VA: each at its nameplate or the least that counts, by how many there are (220.54)."""
    source = numbers.sources[2]
    if not dryers:
        return paper.write("dryers", "none counts", NOTHING, "VA")
    total = sum((max(each, numbers.dryer_least) for each in dryers), NOTHING)
    factor = numbers.dryers.of(len(dryers))
    how = f"each at least {numbers.dryer_least} VA, {total} VA, at {float(factor * 100):g} %"
    return paper.write("dryers", how, total * factor, "VA", source)


def write_heating_or_cooling(paper: Paper, home: Dwelling) -> Step:
    """The greater of heating and cooling, in VA, which do not run together (220.60)."""
    how = "the greater of heating and cooling, which do not run together"
    return paper.write("heating or cooling", how, home.heating.largest_at_once, "VA")


def write_vehicles(paper: Paper, vehicles: Sequence[Fraction], least: Fraction | None, source: str) -> Step:
    """Vehicle supply equipment at its nameplates, in VA, each at the least that counts."""
    total = sum((each if least is None else max(each, least) for each in vehicles), NOTHING)
    how = "nameplates" if least is None else f"nameplates, each at least {least} VA"
    return paper.write("vehicle supply equipment", how, total, "VA", source)


def write_other_buildings(paper: Paper, home: Dwelling) -> tuple[Step, ...]:
    """Lights and receptacles of other buildings in full, in VA: the demand factors of dwellings are not for them."""
    if not home.other_buildings:
        return ()
    how = "in full, the factors of a dwelling are not for them"
    return (paper.write("lights and receptacles of other buildings", how, home.other_buildings, "VA"),)


STANDARD_LOAD: Method[StandardCase] = Method(
    "dwelling_standard_load",
    "Calculated load of a dwelling unit, standard method",
    "tiers(lighting + circuits) + appliances + dryers + cooking + heating or cooling + vehicles + motor share",
    "NFPA 70, article 220 part III (120 in the 2026 edition)",
    "One dwelling unit; ranges up to 27 kW each.",
    {"area": Direction.RISES, "rating": Direction.RISES, "largest_motor": Direction.RISES},
    standard_load,
)


# --- optional method -------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class OptionalNumbers:
    """What an edition sets for the optional method of one dwelling (220.82; 120.82)."""

    lighting_by_area: Fraction
    circuit: Fraction
    tiers: Tiers
    cooling: Fraction
    heat_pump: Fraction
    supplementary: Fraction
    storage_heat: Fraction
    few_heaters: Fraction
    many_heaters: Fraction
    many_from: int
    least_rating: Fraction
    vehicle_least: Fraction | None
    vehicles_in_full: bool
    source: str
    heating_source: str
    """Sections of the least rating, and of heating and cooling; the tiers bring that of the general load."""


@dataclass(frozen=True, slots=True)
class OptionalCase:
    """A dwelling, the rating of its service or feeder in amperes, and the numbers of an edition."""

    dwelling: Dwelling
    rating: Fraction
    numbers: OptionalNumbers


def optional_load(case: OptionalCase) -> Worked:
    """The calculated load of one dwelling by the optional method, in VA.

    First tier in full and 40 % of the rest of all general loads at nameplate, plus the greatest of the choices for
    heating and cooling, each with its own share. It rises with the area and every rating.
    Limits: one dwelling with a service or feeder of 100 A or more, single phase with three wires, or two phases of a
    208Y/120 V system; the caller sees to the latter. NFPA 70, 220.82 (120.82 in the 2026 edition).
    """
    home, numbers, paper = case.dwelling, case.numbers, Paper()
    if case.rating < numbers.least_rating:
        raise OutsideLimits(f"{numbers.source} is for services and feeders of {numbers.least_rating} A or more.")
    general = general_load(paper, home, numbers)
    parts = [numbers.tiers.write(paper, "demand of the general load", general)]
    parts.append(_heating_choice(paper, home.heating, numbers))
    if numbers.vehicles_in_full:
        parts.append(write_vehicles(paper, home.vehicles, numbers.vehicle_least, numbers.tiers.source))
    together(paper, "calculated load", (*parts, *write_other_buildings(paper, home)))
    return paper.result()


def general_load(paper: Paper, home: Dwelling, numbers: OptionalNumbers) -> Step:
    """Everything but heating and cooling at nameplate, in VA."""
    parts = [write_lighting(paper, home, numbers.lighting_by_area, numbers.circuit, numbers.tiers.source)]
    for quantity, ratings in (
        ("appliances fastened in place", [each.rating for each in home.appliances]),
        ("cooking at nameplate", home.ranges),
        ("dryers at nameplate", home.dryers),
    ):
        if ratings:
            parts.append(paper.write(quantity, "nameplates", sum(ratings, NOTHING), "VA", numbers.tiers.source))
    if home.vehicles and not numbers.vehicles_in_full:
        parts.append(write_vehicles(paper, home.vehicles, numbers.vehicle_least, numbers.tiers.source))
    return together(paper, "general load", parts)


def _heating_choice(paper: Paper, heating: Heating, numbers: OptionalNumbers) -> Step:
    """The greatest of the choices, each at its share; the compressor drops out where it cannot run with strip heat."""
    strip = numbers.supplementary * heating.supplementary
    pump = numbers.heat_pump * heating.heat_pump
    many = heating.separately_controlled >= numbers.many_from
    room_heat = (numbers.many_heaters if many else numbers.few_heaters) * heating.heat
    share = numbers.many_heaters if many else numbers.few_heaters
    of_pump = _part("heat pump", numbers.heat_pump, heating.heat_pump)
    of_strip = _part("strip heat", numbers.supplementary, heating.supplementary)
    between = " + " if heating.with_compressor else " or "
    choices = {
        _part("cooling", numbers.cooling, heating.cooling): numbers.cooling * heating.cooling,
        between.join(each for each in (of_pump, of_strip) if each): (
            pump + strip if heating.with_compressor else max(pump, strip)
        ),
        _part("room heaters" if heating.separately_controlled else "heat", share, heating.heat): room_heat,
        _part("storage heat", numbers.storage_heat, heating.storage_heat): numbers.storage_heat * heating.storage_heat,
    }
    how, value = max(choices.items(), key=lambda each: each[1])
    words = f"the greatest choice: {how}" if value else "none"
    return paper.write("heating or cooling", words, value, "VA", numbers.heating_source)


def _part(name: str, share: Fraction, rating: Fraction) -> str:
    return f"{name} {float(share * 100):g} % of {float(rating):g} VA" if rating else ""


OPTIONAL_LOAD: Method[OptionalCase] = Method(
    "dwelling_optional_load",
    "Calculated load of one dwelling, optional method",
    "first tier + 40 % of the rest + the greatest choice of heating and cooling",
    "NFPA 70, 220.82 (120.82 in the 2026 edition)",
    "One dwelling with a service or feeder of 100 A or more, 120/240 V three-wire or 208Y/120 V.",
    {"area": Direction.RISES, "rating": Direction.RISES},
    optional_load,
)
