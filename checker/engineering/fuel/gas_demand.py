"""Gas flow from heat and heat content."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits


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
