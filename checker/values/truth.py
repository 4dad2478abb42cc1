"""Yes, no or unknown: strong Kleene logic."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum


class Truth(Enum):
    """The answer of a condition on facts of which some are not known."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"

    def __bool__(self) -> bool:
        # A three-valued answer used as a flag would quietly turn unknown into one of the two.
        raise TypeError("a truth is yes, no or unknown; compare it with 'is'")

    def __invert__(self) -> Truth:
        return _NEGATION[self]


_NEGATION = {Truth.YES: Truth.NO, Truth.NO: Truth.YES, Truth.UNKNOWN: Truth.UNKNOWN}


def from_ways(*, can_hold: bool, can_fail: bool) -> Truth:
    """The answer when it is known whether a statement can hold and whether it can fail. One of the two must be
    possible.
    """
    if can_hold and can_fail:
        return Truth.UNKNOWN
    if not can_hold and not can_fail:
        raise ValueError("a statement that can neither hold nor fail has no possibilities behind it")
    return Truth.YES if can_hold else Truth.NO


def truth_of(flag: bool) -> Truth:
    """The truth of something that is known for sure."""
    return Truth.YES if flag else Truth.NO


def all_of(parts: Iterable[Truth]) -> Truth:
    """No if one is no, yes if all are yes (also if there are none), otherwise unknown."""
    answer = Truth.YES
    for part in parts:
        if part is Truth.NO:
            return Truth.NO
        if part is Truth.UNKNOWN:
            answer = Truth.UNKNOWN
    return answer


def any_of(parts: Iterable[Truth]) -> Truth:
    """Yes if one is yes, no if all are no (also if there are none), otherwise unknown."""
    answer = Truth.NO
    for part in parts:
        if part is Truth.YES:
            return Truth.YES
        if part is Truth.UNKNOWN:
            answer = Truth.UNKNOWN
    return answer
