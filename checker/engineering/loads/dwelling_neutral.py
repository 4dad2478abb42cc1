"""Load of the neutral of a dwelling's feeder or service (NFPA 70, 220.61; 120.61 in the 2026 edition)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.loads.cooking import write_column_c, write_ranges
from checker.engineering.loads.demand import together
from checker.engineering.loads.dwelling import (
    NOTHING,
    StandardCase,
    StandardNumbers,
    write_dryers,
    write_heating_or_cooling,
    write_lighting,
    write_other_buildings,
    write_vehicles,
)
from checker.engineering.loads.neutral import NeutralNumbers, write_reduced
from checker.engineering.worked import Method, Paper, Step, Worked

_WHOLE = Fraction(1)
_LEGS = 2


class Demand(Enum):
    """How the loads count: together by the factors of the standard method; each as if it were alone, which is never
    less; or every rating in full, lighting and circuits too.
    """

    TOGETHER = "together"
    EACH_ALONE = "each alone"
    IN_FULL = "in full"


@dataclass(frozen=True, slots=True)
class NeutralCase:
    """A dwelling with the numbers of the standard method and of the neutral.

    Of the dwelling count ranges, dryers, heating, cooling, vehicles and the largest motor as far as they have a
    neutral; of the appliances those that say so, while all of them make up their number. ``reduces`` is no where the
    shares of the code may not be taken: on two legs of a wye.
    """

    standard: StandardCase
    numbers: NeutralNumbers
    reduces: bool = True
    demand: Demand = Demand.TOGETHER


@dataclass(frozen=True, slots=True)
class NeutralOnLegs:
    """The case, and the voltage from each of its two legs to the neutral (V)."""

    case: NeutralCase
    to_neutral: Fraction


def dwelling_neutral_load(case: NeutralCase) -> Worked:
    """The greatest unbalanced load between the neutral and both phase conductors, in VA, before the share above 200 A.

    Lighting and circuits at their demand + appliances that load the neutral + 70 % of cooking and of dryers + what else
    has a neutral. The method stays this one where the line load was found by the optional method. It rises with the
    area and every rating, not with the number of appliances. Limits: one dwelling or a part of it.
    """
    paper = Paper()
    _write_load(paper, case)
    return paper.result()


def dwelling_neutral_current(given: NeutralOnLegs) -> Worked:
    """The current (A) for which the neutral of a dwelling is sized: its load over both legs, S / (2 x V to neutral),
    and 70 % of what is over 200 A.

    Loads count as shared evenly by the two legs, as in the examples of the code (annex D) and as 210.11(B) asks of
    circuits. Limits: three wires of one phase, or two legs of a wye, where nothing is reduced.
    """
    if given.to_neutral <= 0:
        raise OutsideLimits("The load of a neutral needs a voltage to the neutral above zero.")
    paper, case = Paper(), given.case
    load = _write_load(paper, case)
    how = f"{load.letter} / ({_LEGS} x {float(given.to_neutral):g} V)"
    current = paper.write("unbalanced load", how, load.value / (_LEGS * given.to_neutral), "A", case.numbers.source)
    write_reduced(paper, current, NOTHING if case.reduces else current.value, case.numbers)
    return paper.result()


DWELLING_NEUTRAL: Method[NeutralOnLegs] = Method(
    "dwelling_neutral_current",
    "Load of the neutral of a dwelling",
    "(lighting + appliances with a neutral + 70 % of cooking and drying) / (2 x V), 70 % of what is over 200 A",
    "NFPA 70, 220.61 (120.61 in the 2026 edition)",
    "One dwelling or a part of it, three-wire single phase or two legs of a wye, loads shared evenly by the legs.",
    {"area": Direction.RISES, "rating": Direction.RISES, "largest_motor": Direction.RISES},
    dwelling_neutral_current,
)


def _write_load(paper: Paper, case: NeutralCase) -> Step:
    home, numbers, source = case.standard.dwelling, case.standard.numbers, case.numbers.source_of_share
    general = write_lighting(paper, home, numbers.lighting_by_area, numbers.circuit, numbers.sources[0])
    if case.demand is not Demand.IN_FULL:
        general = numbers.lighting_tiers.write(paper, "demand of lighting and these circuits", general)
    parts = [general, _write_appliances(paper, case)]
    share = case.numbers.cooking_and_drying if case.reduces else _WHOLE
    for quantity, demand in (("cooking", _cooking(paper, case)), ("dryers", _dryers(paper, case))):
        how = f"{float(share * 100):g} % of {demand.letter}"
        parts.append(paper.write(f"{quantity} on the neutral", how, share * demand.value, "VA", source))
    if home.heating.largest_at_once:
        parts.append(write_heating_or_cooling(paper, home))
    if home.vehicles:
        parts.append(write_vehicles(paper, home.vehicles, numbers.vehicle_least, numbers.sources[3]))
    parts += write_other_buildings(paper, home)
    if home.largest_motor:
        motor = numbers.motor_share * home.largest_motor
        how = f"{float(numbers.motor_share * 100):g} % of {float(home.largest_motor):g} VA"
        parts.append(paper.write("largest motor", how, motor, "VA", numbers.sources[4]))
    return together(paper, "load on the neutral", parts)


def _write_appliances(paper: Paper, case: NeutralCase) -> Step:
    home, numbers = case.standard.dwelling, case.standard.numbers
    on_neutral = sum((each.rating for each in home.appliances if each.to_neutral), NOTHING)
    many = case.demand is Demand.TOGETHER and len(home.appliances) >= numbers.appliances_from
    factor = numbers.appliances_factor if many else _WHOLE
    how = f"nameplates, {float(on_neutral):g} VA, at {float(factor * 100):g} %"
    return paper.write("appliances on the neutral", how, on_neutral * factor, "VA", case.numbers.source)


def _cooking(paper: Paper, case: NeutralCase) -> Step:
    ranges, numbers = case.standard.dwelling.ranges, case.standard.numbers
    if case.demand is Demand.IN_FULL:
        return paper.write("cooking", "nameplates", sum(ranges, NOTHING), "VA")
    if case.demand is Demand.TOGETHER:
        return write_ranges(paper, ranges, numbers.cooking)
    alone = _each_alone(paper, "cooking", [write_column_c(paper, (each,), numbers.cooking) for each in ranges])
    nameplates = sum(ranges, NOTHING)
    if nameplates >= alone.value:
        return alone
    return paper.write("cooking at nameplate", f"nameplates, less than {alone.letter}", nameplates, "VA")


def _dryers(paper: Paper, case: NeutralCase) -> Step:
    dryers, numbers = case.standard.dwelling.dryers, case.standard.numbers
    if case.demand is Demand.TOGETHER:
        return write_dryers(paper, dryers, numbers)
    return _each_alone(paper, "dryers", [_alone(paper, each, numbers) for each in dryers])


def _alone(paper: Paper, dryer: Fraction, numbers: StandardNumbers) -> Step:
    return write_dryers(paper, (dryer,), numbers)


def _each_alone(paper: Paper, quantity: str, steps: Sequence[Step]) -> Step:
    how = " + ".join(each.letter for each in steps) or "none"
    return paper.write(quantity, how, sum((each.value for each in steps), NOTHING), "VA")
