"""What is still possible for one fact: a set of values, described without listing it.

A fact is one of a few words (*atoms*: choices, flags, texts, tags), a number somewhere in one of several *spans*
(a quantity in the base unit of its kind, a count, a date as day number, a wire size as area), or, for facts that may
hold
several choices at once, a set between what is *surely* in it and what is *perhaps* in it. Beside these a fact can be
*absent* (known not to be there) and *undefined* (a calculation was asked outside its limits).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

Atom = str | bool


@dataclass(frozen=True, slots=True)
class Span:
    """Numbers between two ends; an end that is None is not known. Ends belong to the span unless they are open."""

    low: Fraction | None
    high: Fraction | None
    low_open: bool = False
    high_open: bool = False

    def __post_init__(self) -> None:
        if self.low is None or self.high is None:
            return
        is_open = self.low_open or self.high_open
        # A point is nearly always made of one number, and comparing numbers is what costs here.
        if (is_open or self.low is not self.high) and (self.low > self.high or (is_open and self.low == self.high)):
            raise ValueError(f"a span from {self.low} to {self.high} holds no number")

    @property
    def is_point(self) -> bool:
        """True when the span holds exactly one number."""
        return self.low is not None and (self.low is self.high or self.low == self.high)

    def holds(self, number: Fraction) -> bool:
        """Whether the number lies in the span."""
        if self.low is not None and (number < self.low or (number == self.low and self.low_open)):
            return False
        return self.high is None or number < self.high or (number == self.high and not self.high_open)

    def covers(self, other: Span) -> bool:
        """Whether every number of the other span lies in this one."""
        return _low_key(self) <= _low_key(other) and _high_key(self) >= _high_key(other)

    def meets(self, other: Span) -> bool:
        """Whether the two spans share a number."""
        return _starts_before_end(self, other) and _starts_before_end(other, self)


def _low_key(span: Span) -> tuple[int, Fraction, int]:
    """Order of lower ends: an unknown end comes first, an open end just after a closed one."""
    if span.low is None:
        return (0, Fraction(0), 0)
    return (1, span.low, int(span.low_open))


def _high_key(span: Span) -> tuple[int, Fraction, int]:
    """Order of upper ends: an unknown end comes last, an open end just before a closed one."""
    if span.high is None:
        return (1, Fraction(0), 0)
    return (0, span.high, -int(span.high_open))


def _starts_before_end(first: Span, second: Span) -> bool:
    if first.low is None or second.high is None:
        return True
    return first.low < second.high or (first.low == second.high and not (first.low_open or second.high_open))


@dataclass(frozen=True, slots=True)
class SetSpan:
    """Sets of choices that hold everything in ``surely`` and nothing outside ``perhaps``."""

    surely: frozenset[str]
    perhaps: frozenset[str]

    def __post_init__(self) -> None:
        if not self.surely <= self.perhaps:
            raise ValueError("what is surely in a set must also be perhaps in it")

    @property
    def is_point(self) -> bool:
        """True when only one set is left."""
        return self.surely == self.perhaps

    def covers(self, other: SetSpan) -> bool:
        """Whether every set of the other lies in this one."""
        return self.surely <= other.surely and other.perhaps <= self.perhaps


ENUMERATION_LIMIT = 64
"""More alternatives than this are not listed one by one; a limit of effort, not of any code."""


@dataclass(frozen=True, slots=True)
class Possible:
    """The possibilities that are left for one fact. Never empty. Equal sets written alike compare equal."""

    atoms: frozenset[Atom] = frozenset()
    anything: bool = False
    spans: tuple[Span, ...] = ()
    sets: tuple[SetSpan, ...] = ()
    absent: bool = False
    undefined: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not (self.atoms or self.anything or self.spans or self.sets or self.absent or self.undefined):
            raise ValueError("a fact must have at least one possibility")

    @property
    def is_exact(self) -> bool:
        """True when one possibility is left (absent counts as one)."""
        if self.anything or self.undefined or self._members != 1:
            return False
        if self.spans:
            return self.spans[0].is_point
        return not self.sets or self.sets[0].is_point

    @property
    def _members(self) -> int:
        return len(self.atoms) + len(self.spans) + len(self.sets) + int(self.absent)

    @property
    def _all_points(self) -> bool:
        return all(span.is_point for span in self.spans) and all(member.is_point for member in self.sets)

    @property
    def has_one_value(self) -> bool:
        """True when one value is left, absent and undefined set aside."""
        return not self.anything and self._members - int(self.absent) == 1 and self._all_points

    @property
    def has_value(self) -> bool:
        """True when the fact may have a value, that is, is not surely absent or undefined."""
        return bool(self.atoms or self.anything or self.spans or self.sets)

    @property
    def only_absent(self) -> bool:
        """True when the fact is known not to be there."""
        return self.absent and not self.has_value and not self.undefined

    @property
    def number(self) -> Fraction | None:
        """The number, where exactly one is left; otherwise None."""
        return self.spans[0].low if self.is_exact and self.spans else None

    @property
    def atom(self) -> Atom | None:
        """The word or flag, where exactly one is left; otherwise None."""
        return next(iter(self.atoms)) if self.is_exact and self.atoms else None

    @property
    def hull(self) -> Span | None:
        """The smallest single span that covers all numbers, or None where no number is possible."""
        if len(self.spans) <= 1:
            return self.spans[0] if self.spans else None
        first = min(self.spans, key=_low_key)
        last = max(self.spans, key=_high_key)
        return Span(first.low, last.high, first.low_open, last.high_open)

    def union(self, other: Possible) -> Possible:
        """What is possible when either of the two may be the case."""
        return union_of((self, other))

    def covers(self, other: Possible) -> bool:
        """Whether everything that is possible in the other is possible here."""
        return (
            (self.anything or (not other.anything and other.atoms <= self.atoms))
            and all(any(mine.covers(span) for mine in self.spans) for span in other.spans)
            and all(any(mine.covers(member) for mine in self.sets) for member in other.sets)
            and (self.absent or not other.absent)
            and (bool(self.undefined) or not other.undefined)
        )

    def alternatives(self, limit: int = ENUMERATION_LIMIT) -> tuple[Possible, ...] | None:
        """Every possibility as an exact one, in a stable order; None where they cannot be listed within the limit."""
        if self.anything or self.undefined or not all(span.is_point for span in self.spans):
            return None
        sets = _listed_sets(self.sets, limit)
        if sets is None:
            return None
        listed = (
            *(exactly(atom) for atom in sorted(self.atoms, key=_atom_order)),
            *(Possible(spans=(span,)) for span in self.spans),
            *(several(members) for members in sets),
            *((ABSENT,) if self.absent else ()),
        )
        return listed if len(listed) <= limit else None

    def present(self) -> Possible | None:
        """The same without the possibility of absence; None where nothing else is left."""
        if not self.absent:
            return self
        if not self.has_value and not self.undefined:
            return None
        return Possible(self.atoms, self.anything, self.spans, self.sets, False, self.undefined)

    def value_alone(self) -> Possible | None:
        """The same without the possibilities of absence and of no answer; None where nothing else is left."""
        if not self.has_value:
            return None
        return Possible(self.atoms, self.anything, self.spans, self.sets)


def _atom_order(atom: Atom) -> tuple[int, str]:
    return (0, str(atom)) if isinstance(atom, str) else (1, str(not atom))


def _listed_sets(sets: tuple[SetSpan, ...], limit: int) -> tuple[frozenset[str], ...] | None:
    found: dict[frozenset[str], None] = {}
    for span in sets:
        free = sorted(span.perhaps - span.surely)
        if 2 ** len(free) > limit:
            return None
        for size in range(len(free) + 1):
            for extra in combinations(free, size):
                found[span.surely | frozenset(extra)] = None
    return tuple(sorted(found, key=sorted))


def merged_spans(spans: Iterable[Span]) -> tuple[Span, ...]:
    """The same numbers in the fewest spans, from low to high. Spans that merely touch at a shared end are joined."""
    merged: list[Span] = []
    for span in sorted(spans, key=lambda each: (_low_key(each), _high_key(each))):
        if merged and _joins(merged[-1], span):
            merged[-1] = _joined(merged[-1], span)
        else:
            merged.append(span)
    return tuple(merged)


def _joins(first: Span, second: Span) -> bool:
    if first.meets(second):
        return True
    return first.high is not None and first.high == second.low and not (first.high_open and second.low_open)


def _joined(first: Span, second: Span) -> Span:
    last = max(first, second, key=_high_key)
    return Span(first.low, last.high, first.low_open, last.high_open)


def merged_sets(sets: Iterable[SetSpan]) -> tuple[SetSpan, ...]:
    """The same sets without those that another one covers, in a stable order."""
    unique = sorted(set(sets), key=lambda each: (sorted(each.surely), sorted(each.perhaps)))
    return tuple(one for one in unique if not any(other != one and other.covers(one) for other in unique))


ABSENT = Possible(absent=True)
"""Known not to be there."""

ANY_WORD = Possible(anything=True)
"""Any text whatever."""

EITHER_FLAG = Possible(atoms=frozenset({True, False}))
"""A flag that is not known."""


def exactly(atom: Atom) -> Possible:
    """One word or flag."""
    return Possible(atoms=frozenset({atom}))


def one_of(atoms: Iterable[Atom]) -> Possible:
    """One of these words, not decided which."""
    return Possible(atoms=frozenset(atoms))


def number(value: Fraction | int) -> Possible:
    """One number, in the base unit of its kind."""
    exact = Fraction(value)
    return Possible(spans=(Span(exact, exact),))


def numbers(values: Iterable[Fraction | int]) -> Possible:
    """One of these numbers, not decided which."""
    return Possible(spans=merged_spans(Span(Fraction(value), Fraction(value)) for value in values))


def between(low: Fraction | int | None, high: Fraction | int | None) -> Possible:
    """Any number from low to high, both included; None means that this end is not known."""
    return Possible(
        spans=(Span(None if low is None else Fraction(low), None if high is None else Fraction(high)),),
    )


def several(surely: Iterable[str], perhaps: Iterable[str] | None = None) -> Possible:
    """A set of choices: exactly ``surely``, or any set between ``surely`` and ``surely`` with ``perhaps``."""
    certain = frozenset(surely)
    return Possible(sets=(SetSpan(certain, certain | frozenset(perhaps or ())),))


def undefined(reason: str) -> Possible:
    """No value, because a calculation was asked outside its limits; the reason is a plain sentence."""
    return Possible(undefined=(reason,))


def union_of(possibilities: Iterable[Possible]) -> Possible:
    """What is possible when any one of these may be the case. There must be at least one."""
    every = tuple(possibilities)
    if not every:
        raise ValueError("a union of no possibilities is not a fact")
    if all(each == every[0] for each in every[1:]):
        return every[0]
    return Possible(
        frozenset().union(*(each.atoms for each in every)),
        any(each.anything for each in every),
        merged_spans(span for each in every for span in each.spans),
        merged_sets(member for each in every for member in each.sets),
        any(each.absent for each in every),
        tuple(sorted({reason for each in every for reason in each.undefined})),
    )
