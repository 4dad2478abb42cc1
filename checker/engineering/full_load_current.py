"""Full-load current of a source from its power, voltage, phases and power factor."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import isqrt

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits

_ROOT_DIGITS = 30
"""Digits after the decimal sign to which the square root of three is taken before the one rounding of the result."""


def _square_root(value: int) -> Fraction:
    scale = 10**_ROOT_DIGITS
    return Fraction(isqrt(value * scale * scale), scale)


_LINE_FACTOR = {Fraction(1): Fraction(1), Fraction(3): _square_root(3)}


def _current(point: Mapping[str, Fraction]) -> Fraction:
    factor = _LINE_FACTOR.get(point["phases"])
    if factor is None:
        raise OutsideLimits("Full-load current is worked out for one or three phases.")
    if point["power"] < 0:
        # Below zero the current would rise with the voltage, and the directions declared below would be wrong.
        raise OutsideLimits("Full-load current needs a power of zero or more.")
    if point["voltage"] <= 0:
        raise OutsideLimits("Full-load current needs a voltage above zero.")
    if not 0 < point["power_factor"] <= 1:
        raise OutsideLimits("Full-load current needs a power factor above zero and not above one.")
    return point["power"] / (factor * point["voltage"] * point["power_factor"])


FULL_LOAD_CURRENT = Calculation(
    name="full_load_current",
    title="Full-load current",
    inputs=(
        Input("power", "power", "active_power", Direction.RISES),
        Input("voltage", "voltage between phase conductors", "voltage", Direction.FALLS),
        Input("power_factor", "power factor", "ratio", Direction.FALLS),
        Input("phases", "phases", "count", Direction.NEITHER),
    ),
    gives="load_current",
    unit="A",
    formula="I = P / (k x V x pf), k = 1 for one phase, square root of 3 for three phases",
    source="definition of power in a balanced circuit",
    limits="One or three phases, balanced, at rated voltage.",
    function=_current,
)
"""Current in each phase conductor at full power: I = P / (k V pf), in amperes.

P is active power in watts, V the voltage between phase conductors in volts, pf the power factor, k one for a
single-phase and the square root of three for a three-phase set. From the definition of power in a balanced circuit; an
unbalanced load or a voltage other than the rated one is outside its limits.
"""
