"""What can come onto a bus that the utility and inverters feed at once."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits


def _sum(point: Mapping[str, Fraction]) -> Fraction:
    if any(value < 0 for value in point.values()):
        raise OutsideLimits("Ratings on a bus must not be below zero.")
    return point["protection"] + point["share"] * point["output"]


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
