"""The standard overcurrent device that comes next to the ampacity of a run (NFPA 70, 240.4(B) and 240.6)."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.conductors.numbers import standard_devices
from checker.facts.derivation import Context, Derived, no_answer
from checker.site.model import Subject
from checker.values.possible import ABSENT, Possible, number, union_of
from checker.values.sizes import next_sizes

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
    ampacity = context.read(subject, AMPACITY)
    if ampacity.hull is None:
        return no_answer(f"the ampacity of {subject} is not known")
    return Derived(next_of(ratings, ampacity))


def next_of(ratings: Sequence[Fraction], ampacity: Possible) -> Possible:
    """Every rating that can be next to an ampacity (A), and none where it may lie above them all."""
    sizes = [number(each) for each in sorted(ratings)]
    found = [next_sizes(span, sizes) for span in ampacity.spans]
    beyond = [ABSENT] if any(may_lie_beyond for _, may_lie_beyond in found) else []
    return union_of([*(size for each, _ in found for size in each), *beyond])
