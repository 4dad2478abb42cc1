"""What an engine burns at part load, from the points that its maker prints."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class Point:
    """At this share of the rated load the engine burns so much."""

    load: Fraction
    rate: Fraction


@dataclass(frozen=True, slots=True)
class Curve:
    """The printed points in rising order, the unit of their rates (BTU/h, ft3/h or gal/h), and who printed them."""

    points: tuple[Point, ...]
    unit: str
    source: str


@dataclass(frozen=True, slots=True)
class PartLoad:
    """An engine's points, and the load as a share of its rating (1 is the full rating)."""

    curve: Curve
    load: Fraction


def fuel_at_load(case: PartLoad) -> Worked:
    """The fuel that the engine burns at a load, in the unit of its points: linear between two points.

    Below the first point that point's rate is taken, which is more than the engine burns there. Rises with the load.
    Limits: not above the last point; points must rise in load and must not fall in rate. Linear interpolation between
    the printed loads is common practice; a maker's curve goes before it.
    """
    points, load = case.curve.points, case.load
    _check(case)
    paper = Paper()
    share = paper.write("load", "share of the rating", load, "pu")
    if load <= points[0].load:
        if load < points[0].load:
            paper.assume(
                f"Nothing is printed below {_percent(points[0].load)} of the rating; the rate there, which is more, "
                "is taken."
            )
        paper.write(
            "fuel", f"printed at {_percent(points[0].load)}", points[0].rate, case.curve.unit, case.curve.source
        )
        return paper.result()
    low, high = next(pair for pair in pairwise(points) if load <= pair[1].load)
    between = (load - low.load) / (high.load - low.load)
    rate = low.rate + between * (high.rate - low.rate)
    how = f"at {share.letter}, between {_percent(low.load)} and {_percent(high.load)}"
    paper.write("fuel", how, rate, case.curve.unit, case.curve.source)
    return paper.result()


def _check(case: PartLoad) -> None:
    points = case.curve.points
    if not points:
        raise OutsideLimits(f"{case.curve.source} has no points for the fuel that is burnt.")
    if any(high.load <= low.load or high.rate < low.rate for low, high in pairwise(points)):
        raise OutsideLimits(f"The points of {case.curve.source} do not rise.")
    if case.load < 0:
        raise OutsideLimits("A load below zero burns no fuel that could be worked out.")
    if case.load > points[-1].load:
        raise OutsideLimits(f"{case.curve.source} ends at {_percent(points[-1].load)} of the rating.")


def _percent(share: Fraction) -> str:
    return f"{float(share * 100):g} %"


FUEL_AT_LOAD: Method[PartLoad] = Method(
    "fuel_at_load",
    "Fuel at part load",
    "linear between the printed points",
    "the maker's table; interpolation is common practice",
    "From no load to the last printed point.",
    {"load": Direction.RISES},
    fuel_at_load,
)
