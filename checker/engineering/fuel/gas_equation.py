"""Flow and loss of pressure in gas pipe by the two equations of the fuel gas codes (NFPA 54, 6.4; IFGC, 402.4).

    low pressure, below 1.5 psi:    D = Q^0.381 / (19.17 (dH / (Cr L))^0.206)
    from 1.5 psi on:                D = Q^0.381 / (18.93 ((P1^2 - P2^2) Y / (Cr L))^0.206)

D inside diameter in inches, Q flow in ft3/h, dH loss in inches of water, P absolute pressure in psi, L length with
fittings in feet. Cr and Y belong to the gas and come in as inputs. The printed tables lie up to about one percent below
the first equation; those for 2 psi and 5 psi lie up to 14 % below the second, so a table goes before its equation.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.powers import power
from checker.values.kinds import kind

_LOW, _HIGH = Fraction("19.17"), Fraction("18.93")
_OF_DROP, _OF_FLOW = Fraction("0.206"), Fraction("0.381")
"""Numbers of the two equations as published; no limits of a code."""

_INCHES = 12
_ATMOSPHERE = Fraction("14.7")
"""Pounds per square inch that the equation adds to the gauge pressure."""

_PSI = kind("pressure").units["psi"].factor


def _positive(point: Mapping[str, Fraction], *names: str) -> None:
    for name in names:
        if point[name] <= 0:
            raise OutsideLimits(f"The gas equation needs a number above zero for the {name.replace('_', ' ')}.")


def _flow(coefficient: Fraction, diameter: Fraction, term: Fraction) -> Fraction:
    return power(coefficient * diameter * _INCHES * power(term, _OF_DROP), 1 / _OF_FLOW)


def _low_flow(point: Mapping[str, Fraction]) -> Fraction:
    _positive(point, "inside_diameter", "length", "pressure_drop", "gas_factor")
    return _flow(_LOW, point["inside_diameter"], point["pressure_drop"] / (point["gas_factor"] * point["length"]))


def _low_drop(point: Mapping[str, Fraction]) -> Fraction:
    _positive(point, "flow", "inside_diameter", "length", "gas_factor")
    term = power(point["flow"], _OF_FLOW) / (_LOW * point["inside_diameter"] * _INCHES)
    return point["gas_factor"] * point["length"] * power(term, 1 / _OF_DROP)


def _high_flow(point: Mapping[str, Fraction]) -> Fraction:
    _positive(point, "inside_diameter", "length", "gas_factor", "gas_deviation")
    inlet, outlet = (point[name] / _PSI + _ATMOSPHERE for name in ("inlet_pressure", "outlet_pressure"))
    if not 0 < outlet < inlet:
        raise OutsideLimits("The gas equation needs an outlet pressure below the inlet pressure and not below vacuum.")
    term = (inlet**2 - outlet**2) * point["gas_deviation"] / (point["gas_factor"] * point["length"])
    return _flow(_HIGH, point["inside_diameter"], term)


_DIAMETER = Input("inside_diameter", "inside diameter of the pipe", "length", Direction.RISES)
_LENGTH = Input("length", "length of the pipe with its fittings", "length", Direction.FALLS)
_FACTOR = Input("gas_factor", "factor Cr of the gas", "plain_number", Direction.FALLS)
_SOURCE = "NFPA 54, 6.4; International Fuel Gas Code, 402.4"

LOW_PRESSURE_FLOW = Calculation(
    name="low_pressure_gas_flow",
    title="Gas flow at low pressure",
    inputs=(_DIAMETER, _LENGTH, Input("pressure_drop", "loss of pressure", "pressure", Direction.RISES), _FACTOR),
    gives="gas_flow",
    unit="ft3/h",
    formula="Q = (19.17 D (dH / (Cr L))^0.206)^(1/0.381)",
    source=_SOURCE,
    limits="Gas below 1.5 psi; a printed table goes before it where both are there.",
    function=_low_flow,
)
"""Flow in ft3/h for a loss of pressure, in wc, over a length and diameter in ft (the base unit of lengths)."""

LOW_PRESSURE_DROP = Calculation(
    name="low_pressure_gas_drop",
    title="Loss of pressure in gas pipe at low pressure",
    inputs=(
        Input("flow", "gas flow", "gas_flow", Direction.RISES),
        Input("inside_diameter", "inside diameter of the pipe", "length", Direction.FALLS),
        Input("length", "length of the pipe with its fittings", "length", Direction.RISES),
        Input("gas_factor", "factor Cr of the gas", "plain_number", Direction.RISES),
    ),
    gives="pressure",
    unit="in wc",
    formula="dH = Cr L (Q^0.381 / (19.17 D))^(1/0.206)",
    source=_SOURCE,
    limits="Gas below 1.5 psi.",
    function=_low_drop,
)
"""Loss of pressure in inches of water for a flow in ft3/h: the same equation, solved for the loss."""

HIGH_PRESSURE_FLOW = Calculation(
    name="high_pressure_gas_flow",
    title="Gas flow at higher pressure",
    inputs=(
        _DIAMETER,
        _LENGTH,
        Input("inlet_pressure", "inlet pressure", "pressure", Direction.RISES),
        Input("outlet_pressure", "outlet pressure", "pressure", Direction.FALLS),
        _FACTOR,
        Input("gas_deviation", "factor Y of the gas", "plain_number", Direction.RISES),
    ),
    gives="gas_flow",
    unit="ft3/h",
    formula="Q = (18.93 D ((P1^2 - P2^2) Y / (Cr L))^0.206)^(1/0.381)",
    source=_SOURCE,
    limits="Gas at 1.5 psi or more; the printed tables for 2 psi and 5 psi lie up to 14 % below it and go before it.",
    function=_high_flow,
)
"""Flow in ft3/h between two gauge pressures in inches of water, at 1.5 psi or more."""
