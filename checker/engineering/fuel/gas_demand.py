"""Gas flow from heat and heat content, and the comparison of what is asked with what meter and regulator give."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked


def _flow(point: Mapping[str, Fraction]) -> Fraction:
    if point["heating_value"] <= 0:
        raise OutsideLimits("Gas flow needs a heat content above zero.")
    if point["heat_rate"] < 0:
        raise OutsideLimits("Gas flow needs a heat input of zero or more.")
    return point["heat_rate"] / point["heating_value"]


GAS_FLOW = Calculation(
    name="gas_flow",
    title="Gas flow",
    inputs=(
        Input("heat_rate", "heat input", "heat_rate", Direction.RISES),
        Input("heating_value", "heat content of the gas", "heating_value", Direction.FALLS),
    ),
    gives="gas_flow",
    unit="ft3/h",
    formula="Q = H / h",
    source="definition of heat content; the gas utility states h",
    limits="Heat content at the conditions at which the flow is counted (60 °F, 30 in Hg).",
    function=_flow,
)
"""Gas flow in cubic feet per hour: Q = H / h, with the heat input H in BTU/h and the heat content h in BTU/ft3."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """Something that burns gas, with its full input in the unit in which the capacity is stated."""

    name: str
    demand: Fraction


@dataclass(frozen=True, slots=True)
class Service:
    """All that hangs on one meter or regulator, and the capacity that the utility or its maker states, in one unit."""

    loads: tuple[Drawn, ...]
    stated_capacity: Fraction
    unit: str
    stated_by: str


def service_margin(case: Service) -> Worked:
    """What is left of the stated capacity of a meter or regulator: capacity - sum of all inputs, without diversity.

    In the unit given; below zero where more is asked than is stated. Falls with each load, rises with the capacity.
    Limits: only a comparison. The size of meter and service regulator is the gas utility's to say, and so is whether
    loads may be taken as not running together.
    """
    if any(load.demand < 0 for load in case.loads) or case.stated_capacity < 0:
        raise OutsideLimits("Inputs and the stated capacity must not be below zero.")
    paper = Paper()
    asked = paper.write(
        "sum of all inputs",
        " + ".join(f"{load.name} {float(load.demand):g}" for load in case.loads) or "nothing connected",
        sum((load.demand for load in case.loads), Fraction(0)),
        case.unit,
    )
    stated = paper.write("stated capacity", "given", case.stated_capacity, case.unit, case.stated_by)
    paper.assume("Everything runs at its full input at once; only the gas utility can allow less.")
    paper.write("left of the capacity", f"{stated.letter} - {asked.letter}", stated.value - asked.value, case.unit)
    return paper.result()


SERVICE_MARGIN: Method[Service] = Method(
    "gas_service_margin",
    "Capacity left at the gas meter or regulator",
    "stated capacity - sum of all inputs",
    "definition; the capacity is stated by the gas utility",
    "A comparison only; meter and service regulator are the gas utility's.",
    {"demand": Direction.FALLS, "stated_capacity": Direction.RISES},
    service_margin,
)


@dataclass(frozen=True, slots=True)
class InletPressure:
    """The pressure at the engine's inlet with everything on and with nothing on, and the maker's band, all in in wc."""

    under_full_load: Fraction
    without_load: Fraction
    least: Fraction
    greatest: Fraction

    @property
    def too_low(self) -> bool:
        """Whether the pressure falls below the band while everything runs."""
        return self.under_full_load < self.least

    @property
    def too_high(self) -> bool:
        """Whether the pressure rises above the band while nothing runs."""
        return self.without_load > self.greatest
