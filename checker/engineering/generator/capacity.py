"""What is left of a set's capacity above the load that it must carry."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits


def _left(point: Mapping[str, Fraction]) -> Fraction:
    if point["capacity"] < 0 or point["load"] < 0:
        raise OutsideLimits("Capacity and load must not be below zero.")
    return point["capacity"] - point["load"]


CAPACITY_LEFT = Calculation(
    name="capacity_left",
    title="Capacity left",
    inputs=(
        Input("capacity", "capacity of the set", "load_current", Direction.RISES),
        Input("load", "load that it must carry", "load_current", Direction.FALLS),
    ),
    gives="load_current",
    unit="A",
    formula="left = capacity - load",
    source="definition; NFPA 70, 700.4, 701.4, 702.4 say which load counts",
    limits="The load is the whole calculated one where the transfer is automatic and nothing manages it.",
    function=_left,
)
"""Amperes that are left; below zero where the load is more than the set carries.

Capacity is the smaller of the set's current at the site and its breaker. Which load counts is the code's to say: with
automatic transfer all that is connected, or what load management leaves on (see ``load_management.steps``); with
transfer by hand what the user chooses.
"""
