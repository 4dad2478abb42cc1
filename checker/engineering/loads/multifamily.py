"""Load of several dwellings on one service or feeder by the optional method (NFPA 70, 220.84; 120.84 in 2026)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.loads.demand import ByCount, together
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class MultifamilyCase:
    """How many units, the connected load of all of them together (VA), the house load by the standard method (VA), and
    the factors by number of units.
    """

    units: int
    connected: Fraction
    house_load: Fraction
    factors: ByCount
    least_units: int
    electric_cooking: bool
    electric_heating_or_cooling: bool


def multifamily_load(case: MultifamilyCase) -> Worked:
    """The calculated load, in VA: connected load of the units x factor + house load, which is not lowered.

    It rises with the connected and the house load, not with the number of units alone, as the factor falls with it.
    Limits: at least three units, each with electric cooking and with electric heating or cooling or both, none fed by
    more than one feeder.
    """
    if case.units < case.least_units:
        raise OutsideLimits(f"{case.factors.source} begins at {case.least_units} units.")
    if not (case.electric_cooking and case.electric_heating_or_cooling):
        raise OutsideLimits(
            f"{case.factors.source} wants electric cooking, and electric heating or cooling, in each unit."
        )
    paper, factor = Paper(), case.factors.of(case.units)
    connected = paper.write("connected load of the units", "nameplates", case.connected, "VA")
    percent = f"{float(factor * 100):g} %"
    demand = paper.write(
        f"demand of {case.units} units",
        f"{percent} of {connected.letter}",
        factor * case.connected,
        "VA",
        case.factors.source,
    )
    house = paper.write("house load", "standard method, not lowered", case.house_load, "VA")
    together(paper, "calculated load", (demand, house))
    return paper.result()


MULTIFAMILY_LOAD: Method[MultifamilyCase] = Method(
    "multifamily_load",
    "Load of several dwellings, optional method",
    "connected load x factor by number of units + house load",
    "NFPA 70, 220.84 (120.84 in the 2026 edition)",
    "At least three units with electric cooking and electric heating or cooling.",
    {"connected": Direction.RISES, "house_load": Direction.RISES},
    multifamily_load,
)
