"""How long a tank lasts, and how large it must be for a time."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits

_SECONDS_PER_HOUR = 3600


def _propane_time(point: Mapping[str, Fraction]) -> Fraction:
    _not_below_zero(point, "volume", "usable", "heating_value")
    if point["heat_rate"] <= 0:
        raise OutsideLimits("A running time needs a heat input above zero.")
    if point["usable"] > 1:
        raise OutsideLimits("No more than the whole tank can be used.")
    return point["volume"] * point["usable"] * point["heating_value"] / point["heat_rate"] * _SECONDS_PER_HOUR


def _liquid_time(point: Mapping[str, Fraction]) -> Fraction:
    _not_below_zero(point, "volume")
    if point["fuel_rate"] <= 0:
        raise OutsideLimits("A running time needs a rate of fuel above zero.")
    return point["volume"] / point["fuel_rate"] * _SECONDS_PER_HOUR


def _tank(point: Mapping[str, Fraction]) -> Fraction:
    _not_below_zero(point, "fuel_rate", "duration", "sets", "factor")
    return point["sets"] * point["fuel_rate"] * point["duration"] / _SECONDS_PER_HOUR * point["factor"]


def _not_below_zero(point: Mapping[str, Fraction], *names: str) -> None:
    for name in names:
        if point[name] < 0:
            raise OutsideLimits(f"The {name.replace('_', ' ')} must not be below zero.")


PROPANE_RUNNING_TIME = Calculation(
    name="propane_running_time",
    title="Running time on propane",
    inputs=(
        Input("volume", "volume of the tank", "volume", Direction.RISES),
        Input("usable", "usable share of the tank", "ratio", Direction.RISES),
        Input("heating_value", "heat content of a gallon", "liquid_heating_value", Direction.RISES),
        Input("heat_rate", "heat input", "heat_rate", Direction.FALLS),
    ),
    gives="duration",
    unit="s",
    formula="t = V u h / H",
    source="definition of heat content; the usable share follows from the filling limit and the least fill",
    limits="As long as the tank gives enough vapor, which is another question.",
    function=_propane_time,
)
"""Running time in seconds: volume (gal) x usable share x heat content (BTU/gal) / heat input (BTU/h)."""

LIQUID_RUNNING_TIME = Calculation(
    name="liquid_fuel_running_time",
    title="Running time on liquid fuel",
    inputs=(
        Input("volume", "usable fuel in the tank", "volume", Direction.RISES),
        Input("fuel_rate", "fuel that is burnt", "fuel_rate", Direction.FALLS),
    ),
    gives="duration",
    unit="s",
    formula="t = V / r",
    source="definition",
    limits="Usable fuel: without what lies below the suction and above the fill limit.",
    function=_liquid_time,
)
"""Running time in seconds: usable fuel (gal) / rate (gal/h)."""

TANK_VOLUME = Calculation(
    name="tank_volume",
    title="Fuel for a time",
    inputs=(
        Input("fuel_rate", "fuel that one set burns", "fuel_rate", Direction.RISES),
        Input("duration", "time without refilling", "duration", Direction.RISES),
        Input("sets", "sets that run", "count", Direction.RISES),
        Input("factor", "factor that the standard sets", "ratio", Direction.RISES),
    ),
    gives="volume",
    unit="gal",
    formula="V = n r t f",
    source="definition; f is 1, or what the standard that applies sets (NFPA 110, 5.5: 133 %)",
    limits="f counts only where its standard applies.",
    function=_tank,
)
"""Fuel in gallons: number of sets x rate (gal/h) x time (s) x factor. A day tank is the same with its own time."""
