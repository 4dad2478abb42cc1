"""Depth, width and height of the working space before electrical equipment (NFPA 70, 110.26(A))."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits


class Opposite(Enum):
    """What stands across the working space: the three conditions of the table."""

    NOTHING_LIVE_OR_GROUNDED = 1
    GROUNDED = 2
    LIVE = 3


@dataclass(frozen=True, slots=True)
class DepthRow:
    """Up to this voltage to ground (V) these depths (ft) count, for conditions 1, 2 and 3."""

    up_to: Fraction
    depths: tuple[Fraction, Fraction, Fraction]


@dataclass(frozen=True, slots=True)
class SpaceNumbers:
    """What an edition sets: the table of depths by voltage, the least width and height (ft), and where they stand."""

    depths: tuple[DepthRow, ...]
    least_width: Fraction
    least_height: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class WorkingSpace:
    """Depth, width and height of the space that is kept clear, all in ft."""

    depth: Fraction
    width: Fraction
    height: Fraction


def working_space(
    to_ground: Fraction, opposite: Opposite, width: Fraction, height: Fraction, numbers: SpaceNumbers
) -> WorkingSpace:
    """The space before equipment of a width and height (ft) at a voltage to ground (V).

    Depth from the row at or above the voltage; width and height the greater of the equipment's own and the least that
    the edition sets. Depth never falls with the voltage. Limits: up to the last row; exceptions of the section (dead
    front, existing buildings) are the rule's and not this table's. NFPA 70, 110.26(A)(1) to (3).
    """
    if to_ground < 0:
        raise OutsideLimits("A voltage to ground must not be below zero.")
    row = next((row for row in numbers.depths if to_ground <= row.up_to), None)
    if row is None:
        raise OutsideLimits(f"{numbers.source} ends at {float(numbers.depths[-1].up_to):g} V to ground.")
    depth = row.depths[opposite.value - 1]
    return WorkingSpace(depth, max(width, numbers.least_width), max(height, numbers.least_height))
