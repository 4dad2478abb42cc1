"""How long a starter cranks, what that takes from the battery, and the charger that puts it back."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits

_SECONDS_PER_HOUR = 3600


def _not_below_zero(point: Mapping[str, Fraction]) -> None:
    if any(value < 0 for value in point.values()):
        raise OutsideLimits("Times, currents and counts of cranking must not be below zero.")


def _cycle(point: Mapping[str, Fraction]) -> Fraction:
    _not_below_zero(point)
    if point["cranks"] < 1:
        raise OutsideLimits("A cranking cycle has one crank at least.")
    return point["cranks"] * point["crank"] + (point["cranks"] - 1) * point["rest"]


def _charge(point: Mapping[str, Fraction]) -> Fraction:
    _not_below_zero(point)
    return point["current"] * point["crank"] * point["cranks"] * point["cycles"] / _SECONDS_PER_HOUR


def _charger(point: Mapping[str, Fraction]) -> Fraction:
    _not_below_zero(point)
    if point["recharge"] == 0:
        raise OutsideLimits("A charger needs a time to recharge above zero.")
    hours = point["recharge"] / _SECONDS_PER_HOUR
    return point["capacity"] * point["loss_factor"] / hours + point["standing_load"]


CRANKING_CYCLE = Calculation(
    name="cranking_cycle",
    title="Length of the cranking cycle",
    inputs=(
        Input("cranks", "cranks", "count", Direction.RISES),
        Input("crank", "length of a crank", "duration", Direction.RISES),
        Input("rest", "rest between two cranks", "duration", Direction.RISES),
    ),
    gives="duration",
    unit="s",
    formula="t = n x crank + (n - 1) x rest",
    source="definition; NFPA 110, 5.6.4.2 sets the least cycle",
    limits="No rest after the last crank; continuous cranking is one crank.",
    function=_cycle,
)
"""Seconds from the first turn of the starter to overcrank: cranks and the rests between them."""

CRANKING_CHARGE = Calculation(
    name="cranking_charge",
    title="Charge that cranking takes",
    inputs=(
        Input("current", "cranking current", "load_current", Direction.RISES),
        Input("crank", "length of a crank", "duration", Direction.RISES),
        Input("cranks", "cranks in a cycle", "count", Direction.RISES),
        Input("cycles", "cycles that the battery must give", "count", Direction.RISES),
    ),
    gives="battery_capacity",
    unit="Ah",
    formula="Q = I t n m / 3600",
    source="definition of charge; NFPA 110, 5.6.4.2 sets how many cycles",
    limits="The charge taken, not the size of the battery: at cranking current and in the cold it gives far less than "
    "its rating. Its cranking amperes at the coldest temperature go before it.",
    function=_charge,
)
"""Ampere hours that the starter takes; A, s and counts in."""

CHARGER_CURRENT = Calculation(
    name="charger_current",
    title="Current of the charger",
    inputs=(
        Input("capacity", "charge to be put back", "battery_capacity", Direction.RISES),
        Input("loss_factor", "factor for what is lost in charging", "plain_number", Direction.RISES),
        Input("recharge", "time to recharge", "duration", Direction.FALLS),
        Input("standing_load", "load that is always on", "load_current", Direction.RISES),
    ),
    gives="load_current",
    unit="A",
    formula="I = Q K / T + L",
    source="trade formula for chargers; NFPA 110, 5.6.4.6 sets the time",
    limits="Constant current; a charger that tapers takes longer.",
    function=_charger,
)
"""Amperes of a charger that puts the charge back in the time and carries the standing load: Ah, s and A in."""
