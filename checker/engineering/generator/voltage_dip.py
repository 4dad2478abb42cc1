"""How far the voltage of a set dips when a motor starts, from reactances or from the maker's starting figure.

Set and motor are a divider of two reactances: the set's X behind its terminals, the motor's at rated voltage. Published
variants differ in X (transient, or the mean of subtransient and transient) and in whether the motor's own fall of
current with the voltage is left out. First order: regulator, resistance and loads that run already are not in it; they
move the result by some points. From the definition of per-unit reactance; common practice.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits


def _check(point: Mapping[str, Fraction]) -> None:
    for name in ("set", "reactance", "rated_start"):
        if name in point and point[name] <= 0:
            raise OutsideLimits("A voltage dip needs reactances and powers of the set above zero.")
    if point.get("starting", Fraction(0)) < 0:
        raise OutsideLimits("A voltage dip needs a starting power of zero or more.")


def _divided(reactance: Fraction, set_power: Fraction, starting: Fraction) -> Fraction:
    return reactance * starting / (set_power + reactance * starting)


def _dip(point: Mapping[str, Fraction]) -> Fraction:
    _check(point)
    return _divided(point["reactance"], point["set"], point["starting"])


def _from_rated(point: Mapping[str, Fraction]) -> Fraction:
    _check(point)
    dip = _share(point["rated_dip"])
    return _divided(dip / (1 - dip), point["rated_start"], point["starting"])


def _greatest(point: Mapping[str, Fraction]) -> Fraction:
    _check(point)
    dip = _share(point["dip"])
    return point["set"] * dip / (point["reactance"] * (1 - dip))


def _share(dip: Fraction) -> Fraction:
    if not 0 < dip < 1:
        raise OutsideLimits("A voltage dip lies between nothing and the whole voltage.")
    return dip


_SET = Input("set", "rating of the set", "apparent_power", Direction.FALLS)
_STARTING = Input("starting", "apparent power while the motor starts", "apparent_power", Direction.RISES)
_REACTANCE = Input("reactance", "reactance of the set", "ratio", Direction.RISES)
_SOURCE = "definition of per-unit reactance; common practice"
_LIMITS = "First order: without regulator, resistance and loads that run already."

VOLTAGE_DIP = Calculation(
    name="voltage_dip",
    title="Voltage dip",
    inputs=(_REACTANCE, _SET, _STARTING),
    gives="ratio",
    unit="pu",
    formula="dip = X / (X + S set / S start)",
    source=_SOURCE,
    limits=_LIMITS,
    function=_dip,
)
"""Share of the voltage that is lost as the motor is put on; X per unit of the set's rating, powers in VA."""

DIP_FROM_RATED_START = Calculation(
    name="voltage_dip_from_rated_start",
    title="Voltage dip from the maker's starting figure",
    inputs=(
        Input("rated_start", "starting power that the maker states", "apparent_power", Direction.FALLS),
        Input("rated_dip", "dip for which it is stated", "ratio", Direction.RISES),
        _STARTING,
    ),
    gives="ratio",
    unit="pu",
    formula="dip = X / (X + S stated / S start), X = d / (1 - d)",
    source="the divider of reactances, with the reactance that the maker's own figure stands for",
    limits="Near the dip for which the maker's figure is stated.",
    function=_from_rated,
)
"""Dip for another starting power than the one that the maker states for the dip d. At the stated one it is d."""

GREATEST_START = Calculation(
    name="greatest_start",
    title="Greatest starting power for a dip",
    inputs=(
        Input("reactance", "reactance of the set", "ratio", Direction.FALLS),
        Input("set", "rating of the set", "apparent_power", Direction.RISES),
        Input("dip", "dip that is let come to", "ratio", Direction.RISES),
    ),
    gives="apparent_power",
    unit="VA",
    formula="S start = S set x d / (X (1 - d))",
    source=_SOURCE,
    limits=_LIMITS,
    function=_greatest,
)
"""Starting power in VA at which the dip is just reached: the voltage dip solved for the starting power."""
