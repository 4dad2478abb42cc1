"""How far conductors fill a raceway (NFPA 70, chapter 9, Table 1 with its notes)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class Filled:
    """Areas of every conductor and cable and the area of the inside of the raceway, all in square inches."""

    areas: Sequence[Fraction]
    inside: Fraction


def raceway_fill(case: Filled) -> Worked:
    """The share of a raceway that conductors fill, as a ratio: sum of their areas / area of the inside.

    All conductors count, grounding conductors and control cables too; a cable of several conductors is one. Rises with
    each area, falls with the inside. Limits: areas over the insulation, from chapter 9 or the maker.
    """
    if case.inside <= 0:
        raise OutsideLimits("The raceway needs an inside.")
    paper = Paper()
    whole = paper.write("conductors", f"{len(case.areas)} together", sum(case.areas, Fraction(0)), "in2")
    inside = paper.write("inside of the raceway", "given", case.inside, "in2")
    paper.write("fill", f"{whole.letter} / {inside.letter}", whole.value / inside.value, "")
    return paper.result()


def that_fit(area: Fraction, inside: Fraction, share: Fraction, counts_from: Fraction) -> int:
    """How many conductors of one area may fill a share of the inside: as many as go in, and one more where what is left
    over is at least ``counts_from`` of one (chapter 9, Table 1, note 7). Areas in one unit.
    """
    if area <= 0:
        raise OutsideLimits("A conductor needs an area.")
    whole = share * inside / area
    return floor(whole) + (whole - floor(whole) >= counts_from)


RACEWAY_FILL: Method[Filled] = Method(
    "raceway_fill",
    "Fill of a raceway",
    "sum of the areas / area of the inside",
    "NFPA 70, chapter 9, Table 1",
    "Areas over the insulation.",
    {"areas": Direction.RISES, "inside": Direction.FALLS},
    raceway_fill,
)
