"""The standard overcurrent device that comes next to the ampacity of a run (NFPA 70, 240.4(B) and 240.6)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.conductors.numbers import standard_devices
from checker.facts.derivation import Context, Derived, no_answer
from checker.site.model import Subject
from checker.values.possible import ABSENT, Possible, Span, between, union_of

AMPACITY = "ampacity"
READS = (AMPACITY,)


def next_standard_device(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest standard rating that is not below the ampacity; it rises with the ampacity. None where no document
    in force lists ratings, or where the ampacity is above them all.
    """
    try:
        ratings = standard_devices(context.numbers)
    except OutsideLimits:
        return Derived(ABSENT)
    ampacity = context.read(subject, AMPACITY).hull
    if ampacity is None:
        return no_answer(f"the ampacity of {subject} is not known")
    return Derived(next_of(ratings, ampacity))


def next_of(ratings: Sequence[Fraction], ampacity: Span) -> Possible:
    """What can be next to an ampacity (A) that lies in this span."""
    low = _next(ratings, ampacity.low or Fraction(0))
    high = None if ampacity.high is None else _next(ratings, ampacity.high)
    if low is None:
        return ABSENT
    return between(low, high) if high is not None else union_of((between(low, max(ratings)), ABSENT))


def _next(ratings: Sequence[Fraction], ampacity: Fraction) -> Fraction | None:
    return min((rating for rating in ratings if rating >= ampacity), default=None)
