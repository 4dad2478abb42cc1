"""Limits of distance that several authorities set at once: the stricter counts, and all are told."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits


class Sense(Enum):
    """Whether a limit says how near or how far something may be."""

    NOT_NEARER = "not nearer than"
    NOT_FARTHER = "not farther than"


@dataclass(frozen=True, slots=True)
class DistanceLimit:
    """One limit of one authority: distance in ft, and where it stands."""

    sense: Sense
    distance: Fraction
    authority: str
    section: str


@dataclass(frozen=True, slots=True)
class Allowed:
    """Between which distances (ft) something may stand, None where nobody sets an end.

    ``nearest_by`` and ``farthest_by`` are the limits that count, several where they are equal; ``others`` those that a
    stricter one passes over, strictest first.
    """

    nearest: Fraction | None
    farthest: Fraction | None
    nearest_by: tuple[DistanceLimit, ...]
    farthest_by: tuple[DistanceLimit, ...]
    others: tuple[DistanceLimit, ...]

    @property
    def contradicts(self) -> bool:
        """Whether no distance holds all limits at once."""
        return self.nearest is not None and self.farthest is not None and self.nearest > self.farthest

    def holds(self, distance: Fraction) -> bool:
        """Whether a distance (ft) holds every limit; one that just meets a limit does."""
        near = self.nearest is None or distance >= self.nearest
        return near and (self.farthest is None or distance <= self.farthest)

    def missed(self, distance: Fraction) -> tuple[DistanceLimit, ...]:
        """Every limit that a distance does not hold, not only the strictest."""
        every = (*self.nearest_by, *self.farthest_by, *self.others)
        return tuple(limit for limit in every if not _holds(limit, distance))


def allowed(limits: Sequence[DistanceLimit]) -> Allowed:
    """The distances that hold all limits: the greatest of the nearest ones, the least of the farthest ones.

    One more limit never lets in a distance that was out. OutsideLimits for a limit below zero. From the meaning of a
    limit: each authority's own holds whatever another one says.
    """
    if any(limit.distance < 0 for limit in limits):
        raise OutsideLimits("A limit of distance must not be below zero.")
    near = [limit for limit in limits if limit.sense is Sense.NOT_NEARER]
    far = [limit for limit in limits if limit.sense is Sense.NOT_FARTHER]
    nearest = max((limit.distance for limit in near), default=None)
    farthest = min((limit.distance for limit in far), default=None)
    passed_over = [
        *sorted((limit for limit in near if limit.distance != nearest), key=lambda limit: -limit.distance),
        *sorted((limit for limit in far if limit.distance != farthest), key=lambda limit: limit.distance),
    ]
    return Allowed(
        nearest,
        farthest,
        tuple(limit for limit in near if limit.distance == nearest),
        tuple(limit for limit in far if limit.distance == farthest),
        tuple(passed_over),
    )


def _holds(limit: DistanceLimit, distance: Fraction) -> bool:
    return distance >= limit.distance if limit.sense is Sense.NOT_NEARER else distance <= limit.distance
