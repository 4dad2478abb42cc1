"""Load of several dwellings on one service or feeder by the optional method (NFPA 70, 220.84; 120.84 in 2026)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.loads.demand import ByCount, together
from checker.engineering.loads.other_buildings import BuildingCase, write_building
from checker.engineering.worked import Method, Paper, Step, Worked


@dataclass(frozen=True, slots=True)
class Part:
    """A part of what is connected in all units together: what it is, how it is found, and its load in VA."""

    quantity: str
    how: str
    load: Fraction
    source: str = ""


@dataclass(frozen=True, slots=True)
class MultifamilyCase:
    """How many units, what is connected in all of them together, what counts in full beside the factor, the building
    without its units where that has loads, and the factors by number of units.
    """

    units: int
    connected: tuple[Part, ...]
    house: BuildingCase | None
    factors: ByCount
    least_units: int
    electric_cooking: bool
    electric_heating_or_cooling: bool
    in_full: tuple[Part, ...] = ()


def multifamily_load(case: MultifamilyCase) -> Worked:
    """The calculated load, in VA: connected load of the units x factor + house load, which is not lowered.

    It rises with the connected and the house load, not with the number of units alone, as the factor falls with it.
    Limits: at least three units, each with electric cooking and with electric heating or cooling or both, none fed by
    more than one feeder. The house load is by the standard method of other buildings.
    """
    if case.units < case.least_units:
        raise OutsideLimits(f"{case.factors.source} begins at {case.least_units} units.")
    if not (case.electric_cooking and case.electric_heating_or_cooling):
        raise OutsideLimits(
            f"{case.factors.source} wants electric cooking, and electric heating or cooling, in each unit."
        )
    paper, factor = Paper(), case.factors.of(case.units)
    connected = together(paper, "connected load of the units", _written(paper, case.connected))
    percent = f"{float(factor * 100):g} %"
    demand = paper.write(
        f"demand of {case.units} units",
        f"{percent} of {connected.letter}",
        factor * connected.value,
        "VA",
        case.factors.source,
    )
    parts = [demand, *_written(paper, case.in_full)]
    if case.house is not None:
        parts.append(write_building(paper, case.house, "house load, not lowered"))
    together(paper, "calculated load", parts)
    return paper.result()


def _written(paper: Paper, parts: Sequence[Part]) -> tuple[Step, ...]:
    return tuple(paper.write(each.quantity, each.how, each.load, "VA", each.source) for each in parts)


MULTIFAMILY_LOAD: Method[MultifamilyCase] = Method(
    "multifamily_load",
    "Load of several dwelling units, optional calculation",
    "connected load x factor by number of units + house load",
    "NFPA 70, 220.84 (120.84 in the 2026 edition)",
    "At least three units with electric cooking and electric heating or cooling, each fed by one feeder.",
    {"connected": Direction.RISES, "house": Direction.RISES},
    multifamily_load,
)
