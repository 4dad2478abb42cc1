"""How far conductors fill a raceway (NFPA 70, chapter 9, Table 1 with its notes)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.conductors.tables import LimitedRow, limited
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class Filled:
    """Areas of every conductor and cable and the area of the inside of the raceway, all in the same unit."""

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


def greatest_fill(conductors: int, rows: tuple[LimitedRow, ...]) -> Fraction:
    """The share that so many conductors may fill (chapter 9, Table 1); the rows of a nipple for a nipple. It does not
    rise with their number: two lie worse than three.
    """
    return limited(rows, Fraction(conductors), "Chapter 9, Table 1,")


RACEWAY_FILL: Method[Filled] = Method(
    "raceway_fill",
    "Fill of a raceway",
    "sum of the areas / area of the inside",
    "NFPA 70, chapter 9, Table 1",
    "Areas over the insulation.",
    {"areas": Direction.RISES, "inside": Direction.FALLS},
    raceway_fill,
)
