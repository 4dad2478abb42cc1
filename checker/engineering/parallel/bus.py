"""What can come onto a bus that the utility and inverters feed at once."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from math import ceil

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits


def _sum(point: Mapping[str, Fraction]) -> Fraction:
    if any(value < 0 for value in point.values()):
        raise OutsideLimits("Ratings on a bus must not be below zero.")
    return point["protection"] + _counted(point)


def _counted(point: Mapping[str, Fraction]) -> Fraction:
    """What the inverters count for."""
    return point["share"] * point["output"]


BUS_SUM = Calculation(
    name="bus_sum",
    title="Main and output of the inverters on the bus",
    inputs=(
        Input("protection", "device that protects the bus", "load_current", Direction.RISES),
        Input("output", "output of the inverters", "load_current", Direction.RISES),
        Input("share", "share of the output that counts", "ratio", Direction.RISES),
    ),
    gives="load_current",
    unit="A",
    formula="I = main + share x output",
    source="705.12, sums for busbars",
    limits="A bus that one device protects toward the utility; inverters that run beside it.",
    function=_sum,
)
"""Amperes that are held against the rating of the bus: what the main lets through, and the inverters with the share
that the code adds for output that goes on for hours.
"""


def _main_left(point: Mapping[str, Fraction]) -> Fraction:
    return point["allowed"] * point["bus"] - _counted(point)


def _output_left(point: Mapping[str, Fraction]) -> Fraction:
    if point["share"] == 0:
        raise OutsideLimits("A share of nothing limits no output.")
    return (point["allowed"] * point["bus"] - point["protection"]) / point["share"]


def _bus_wanted(point: Mapping[str, Fraction]) -> Fraction:
    if point["allowed"] == 0:
        raise OutsideLimits("No bus is large enough where nothing of its rating may be used.")
    return Fraction(ceil(point["sum"] / point["allowed"]))


_BUS = Input("bus", "rating of the bus", "load_current", Direction.RISES)

MAIN_LEFT = Calculation(
    name="main_left",
    title="Greatest main beside the inverters",
    inputs=(
        _BUS,
        Input("output", "output of the inverters", "load_current", Direction.FALLS),
        Input("share", "share of the output that counts", "ratio", Direction.FALLS),
        Input("allowed", "share of the bus that may be used", "ratio", Direction.RISES),
    ),
    gives="load_current",
    unit="A",
    formula="I = allowed x bus - share x output",
    source="705.12, sums for busbars",
    limits="As for the sum of main and inverters; at or below zero no main is left.",
    function=_main_left,
)
"""Amperes of the largest main with which the sum of the bus still holds."""

OUTPUT_LEFT = Calculation(
    name="output_left",
    title="Greatest output beside the main",
    inputs=(
        _BUS,
        Input("protection", "device that protects the bus", "load_current", Direction.FALLS),
        Input("share", "share of the output that counts", "ratio", Direction.NEITHER),
        Input("allowed", "share of the bus that may be used", "ratio", Direction.RISES),
    ),
    gives="load_current",
    unit="A",
    formula="I = (allowed x bus - main) / share",
    source="705.12, sums for busbars",
    limits="As for the sum of main and inverters; below zero the main alone is too large.",
    function=_output_left,
)
"""Amperes of output that may land on the bus beside the main that is there."""

BUS_WANTED = Calculation(
    name="bus_wanted",
    title="Least bus for main and inverters",
    inputs=(
        Input("sum", "main and output of the inverters on the bus", "load_current", Direction.RISES),
        Input("allowed", "share of the bus that may be used", "ratio", Direction.FALLS),
    ),
    gives="load_current",
    unit="A",
    formula="I = sum / allowed, up to whole amperes",
    source="705.12, sums for busbars",
    limits="As for the sum of main and inverters.",
    function=_bus_wanted,
)
"""Amperes of the smallest bus with which the sum holds."""
