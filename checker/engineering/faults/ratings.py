"""Fault currents against interrupting and short-circuit current ratings.

An interrupting rating is of a device that opens, a short-circuit current rating of an assembly; the withstand and
closing rating of a transfer switch (withstand.py) is neither: it holds behind a certain device or for a certain time.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.faults.loops import FAULT_NAMES, Fault, FaultCurrent
from checker.values.truth import Truth


@dataclass(frozen=True, slots=True)
class Compared:
    """Whether a rating holds, the fault current that decides and its kind, the rating (None: no such rating), and why.

    ``margin`` is rating - current in A; None without a rating.
    """

    holds: Truth
    current: Fraction
    fault: Fault
    rating: Fraction | None
    why: str

    @property
    def margin(self) -> Fraction | None:
        """Rating less current, in A."""
        return None if self.rating is None else self.rating - self.current


def deciding(currents: Iterable[FaultCurrent]) -> FaultCurrent:
    """The greatest of the fault currents at one place; OutsideLimits where there is none."""
    listed = tuple(currents)
    if not listed:
        raise OutsideLimits("No fault current is known here.")
    return max(listed, key=lambda each: each.value)


def faults_there(phases: int, *, neutral: bool) -> frozenset[Fault]:
    """The kinds of fault of which the greatest may be the greatest of a place: three-phase or between lines, and to
    neutral where there is one, which close to a transformer or a set is often the greater.
    """
    own = Fault.THREE_PHASE if phases == 3 else Fault.LINES
    return frozenset({own, Fault.LINE_AND_NEUTRAL}) if neutral else frozenset({own})


def rating_holds(rating: Fraction, currents: Sequence[FaultCurrent], possible: frozenset[Fault]) -> Compared:
    """An interrupting or short-circuit current rating (A) against the fault currents at a place (NFPA 70, 110.9,
    110.10).

    ``possible`` are the kinds of fault that may be the greatest there; while one of them is not known the rating may
    miss, but does not hold for sure. A rating never holds less when it grows, nor more when a current does.
    """
    greatest = deciding(currents)
    if greatest.value > rating:
        return compared(Truth.NO, greatest, rating, "the current is above the rating")
    missing = possible - {each.fault for each in currents}
    if missing:
        names = " and ".join(sorted(FAULT_NAMES[each] for each in missing))
        return compared(Truth.UNKNOWN, greatest, rating, f"the {names} fault current is not known")
    return compared(Truth.YES, greatest, rating, "the rating is not below the current")


def compared(holds: Truth, current: FaultCurrent, rating: Fraction | None, why: str) -> Compared:
    """The answer for the fault current that decides."""
    return Compared(holds, current.value, current.fault, rating, why)
