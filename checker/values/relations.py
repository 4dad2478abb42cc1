"""Relations between two facts of which not everything is known.

Each relation answers yes if it holds for every pair of possibilities, no if it holds for none, otherwise unknown. A
fact that is absent makes every equality, membership and order comparison no, and ``is_not`` and ``none_of`` yes, on
either side. An undefined side makes the answer unknown.
"""

from __future__ import annotations

from collections.abc import Callable

from checker.values.possible import Possible, SetSpan, Span
from checker.values.truth import Truth, from_ways

_Ways = tuple[bool, bool]
"""Whether the relation can hold and whether it can fail, over the possibilities that have a value."""


def relate(relation: str, left: Possible, right: Possible) -> Truth:
    """Answer ``left relation right``; raises KeyError for a relation that does not exist."""
    ways, when_absent = _RELATIONS[relation]
    can_hold = can_fail = False
    if left.undefined or right.undefined:
        can_hold = can_fail = True
    if (left.absent and _possible(right)) or (right.absent and _possible(left)):
        can_hold, can_fail = can_hold or when_absent, can_fail or not when_absent
    if left.has_value and right.has_value:
        holds, fails = ways(left, right)
        can_hold, can_fail = can_hold or holds, can_fail or fails
    return from_ways(can_hold=can_hold, can_fail=can_fail)


def _possible(side: Possible) -> bool:
    return side.has_value or side.absent


def known(fact: Possible) -> Truth:
    """Yes when one possibility is left, otherwise unknown; never no, so that it can ask but not correct."""
    return Truth.YES if fact.is_exact else Truth.UNKNOWN


def present(fact: Possible) -> Truth:
    """Yes when the fact cannot be absent, no when it is known to be absent."""
    unsure = bool(fact.undefined)
    return from_ways(can_hold=fact.has_value or unsure, can_fail=fact.absent or unsure)


def _equal(left: Possible, right: Possible) -> _Ways:
    can_hold = (
        bool(left.atoms & right.atoms)
        or (left.anything and _words(right))
        or (right.anything and _words(left))
        or any(mine.meets(other) for mine in left.spans for other in right.spans)
        or any(_sets_meet(mine, other) for mine in left.sets for other in right.sets)
    )
    return can_hold, not (can_hold and left.has_one_value and right.has_one_value)


def _sets_meet(mine: SetSpan, other: SetSpan) -> bool:
    return (mine.surely | other.surely) <= (mine.perhaps & other.perhaps)


def _words(side: Possible) -> bool:
    return bool(side.atoms) or side.anything


def _member(left: Possible, right: Possible) -> _Ways:
    """Whether the left value is one of the words of the right set."""
    words = _listed(right)
    can_hold = left.anything or any(atom in span.perhaps for atom in left.atoms for span in words)
    can_fail = left.anything or any(atom not in span.surely for atom in left.atoms for span in words)
    return can_hold, can_fail


def _includes(left: Possible, right: Possible) -> _Ways:
    """Whether the left set holds the right word (or all words of the right set)."""
    pairs = [(mine, wanted) for mine in left.sets for wanted in _listed(right)]
    return (
        any(wanted.surely <= mine.perhaps for mine, wanted in pairs),
        any(not wanted.perhaps <= mine.surely for mine, wanted in pairs),
    )


def _includes_any(left: Possible, right: Possible) -> _Ways:
    pairs = [(mine, wanted) for mine in left.sets for wanted in _listed(right)]
    return (
        any(bool(mine.perhaps & wanted.perhaps) for mine, wanted in pairs),
        any(not mine.surely & wanted.surely for mine, wanted in pairs),
    )


def _includes_only(left: Possible, right: Possible) -> _Ways:
    pairs = [(mine, wanted) for mine in left.sets for wanted in _listed(right)]
    return (
        any(mine.surely <= wanted.perhaps for mine, wanted in pairs),
        any(not mine.perhaps <= wanted.surely for mine, wanted in pairs),
    )


def _listed(side: Possible) -> tuple[SetSpan, ...]:
    """The words of one side as sets: each single word is the set of that word."""
    words = (frozenset({atom}) for atom in side.atoms if isinstance(atom, str))
    return (*side.sets, *(SetSpan(word, word) for word in words))


def _at_least(left: Possible, right: Possible) -> _Ways:
    mine, other = left.hull, right.hull
    if mine is None or other is None:
        return False, True
    return _reaches(other, mine), _stays_below(mine, other)


def _more_than(left: Possible, right: Possible) -> _Ways:
    mine, other = left.hull, right.hull
    if mine is None or other is None:
        return False, True
    return _stays_below(other, mine), _reaches(mine, other)


def _reaches(lower: Span, upper: Span) -> bool:
    """Whether some number of the first is not above some number of the second."""
    if lower.low is None or upper.high is None or lower.low < upper.high:
        return True
    return lower.low == upper.high and not (lower.low_open or upper.high_open)


def _stays_below(lower: Span, upper: Span) -> bool:
    """Whether some number of the first is below some number of the second."""
    return lower.low is None or upper.high is None or lower.low < upper.high


def _reversed(ways: Callable[[Possible, Possible], _Ways]) -> Callable[[Possible, Possible], _Ways]:
    def reversed_ways(left: Possible, right: Possible) -> _Ways:
        return ways(right, left)

    return reversed_ways


def _negated(ways: Callable[[Possible, Possible], _Ways]) -> Callable[[Possible, Possible], _Ways]:
    def negated_ways(left: Possible, right: Possible) -> _Ways:
        holds, fails = ways(left, right)
        return fails, holds

    return negated_ways


_RELATIONS: dict[str, tuple[Callable[[Possible, Possible], _Ways], bool]] = {
    "is": (_equal, False),
    "is_not": (_negated(_equal), True),
    "one_of": (_member, False),
    "none_of": (_negated(_member), True),
    "at_least": (_at_least, False),
    "more_than": (_more_than, False),
    "at_most": (_reversed(_at_least), False),
    "less_than": (_reversed(_more_than), False),
    "before": (_reversed(_more_than), False),
    "on_or_after": (_at_least, False),
    "includes": (_includes, False),
    "includes_any": (_includes_any, False),
    "includes_all": (_includes, False),
    "includes_only": (_includes_only, False),
}
"""Each relation with its answer when one of the two sides is absent."""
