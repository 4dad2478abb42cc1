"""Both ends of a quantity that is not quite known."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between

NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class Ends:
    """The least, which is never below zero, and the most; None where there is no most."""

    least: Fraction
    most: Fraction | None

    @property
    def value(self) -> Possible:
        """What is possible."""
        return between(rounded(self.least), None if self.most is None else rounded(self.most))

    def __add__(self, other: Ends) -> Ends:
        most = None if self.most is None or other.most is None else self.most + other.most
        return Ends(self.least + other.least, most)


NONE_AT_ALL = Ends(NOTHING, NOTHING)
ANYTHING = Ends(NOTHING, None)


def ends_of(value: Possible) -> Ends:
    """The ends of what is possible; where nothing is known anything, where it may be absent from zero on."""
    if value.only_absent:
        return NONE_AT_ALL
    hull = value.hull
    if hull is None or value.undefined:
        return ANYTHING
    least = NOTHING if value.absent or hull.low is None else max(hull.low, NOTHING)
    return Ends(least, hull.high)


def total(parts: Iterable[Ends]) -> Ends:
    """The sum; nothing where there are no parts."""
    return sum(parts, NONE_AT_ALL)


def longest(parts: Iterable[Ends]) -> Ends:
    """The greatest of several, which are not none."""
    found = list(parts)
    most = [each.most for each in found]
    known = [each for each in most if each is not None]
    return Ends(max(each.least for each in found), max(known) if len(known) == len(most) else None)


def perhaps(part: Ends) -> Ends:
    """What may be there or not."""
    return Ends(NOTHING, part.most)


def agreed(one: Ends, other: Ends) -> Ends | None:
    """What two ways of saying one thing leave possible; None where they do not go together."""
    least = max(one.least, other.least)
    most = min((each for each in (one.most, other.most) if each is not None), default=None)
    return Ends(least, most) if most is None or least <= most else None
