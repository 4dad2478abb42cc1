"""One exact possibility out of what is possible for a fact."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import cache

from checker.catalog.model import Fact, ValueType
from checker.values.possible import ABSENT, Atom, Possible, SetSpan, Span, exactly, number, several
from checker.values.wire_sizes import SIZES
from tests.generators.choosing import Chooser
from tests.generators.numbers import figures_of
from tests.generators.written import TEXTS

_COUNTS = tuple(Fraction(count) for count in range(1, 6))
_AREAS = tuple(size.circular_mils for size in SIZES.values())


def picked(choose: Chooser, fact: Fact, possible: Possible, tags: Sequence[str]) -> Possible:
    """Any exact value that the possibilities hold; ``tags`` are the pieces on the drawing."""
    if possible.is_exact or (possible.absent and (not possible.has_value or choose.chance(25))):
        return possible if possible.is_exact else ABSENT
    if possible.anything:
        return exactly(choose.one(_words(fact.type, tags)))
    if possible.spans:
        return number(choose.one(points(fact, choose.one(possible.spans))))
    if possible.sets:
        return several(_subset(choose, choose.one(possible.sets)))
    return exactly(choose.one(sorted(possible.atoms, key=_name)))


def _words(value_type: ValueType, tags: Sequence[str]) -> Sequence[str]:
    if value_type is ValueType.WAY:
        return [f"{tag}/main" for tag in tags]
    return tags if value_type is ValueType.TAG else TEXTS


def _name(atom: Atom) -> str:
    return str(atom)


def _subset(choose: Chooser, span: SetSpan) -> list[str]:
    """A set between its ends; never the empty one, which no file can say but by ``none``."""
    extra = choose.some(sorted(span.perhaps - span.surely), least=0 if span.surely else 1, most=3)
    return sorted({*span.surely, *extra})


def points(fact: Fact, span: Span) -> tuple[Fraction, ...]:
    """Some numbers of a span, its ends among them: usual ones, and for measured quantities one between the ends."""
    return _points(fact.type, usual(fact), span)


@cache
def _points(value_type: ValueType, numbers: tuple[Fraction, ...], span: Span) -> tuple[Fraction, ...]:
    held = [each for each in numbers if span.holds(each)]
    ends = [end for end in (span.low, span.high) if end is not None and span.holds(end)]
    found = dict.fromkeys([*held, *ends])
    if value_type is ValueType.QUANTITY or not found:
        found[_inside(span)] = None
    return tuple(found)


def usual(fact: Fact) -> tuple[Fraction, ...]:
    """Every value of a type that has few; otherwise the numbers of the generator."""
    if fact.type is ValueType.COUNT:
        return _COUNTS
    if fact.type is ValueType.WIRE_SIZE:
        return _AREAS
    return tuple(figure.number for figure in figures_of(fact))


def _inside(span: Span) -> Fraction:
    if span.low is not None and span.high is not None:
        return (span.low + span.high) / 2
    if span.low is not None:
        return span.low + 1
    return span.high / 2 if span.high is not None else Fraction(1)


def from_span(choose: Chooser, span: Span) -> Fraction:
    """Any number of a span: its ends where they belong to it, or one between them or beyond the one there is."""
    ends = [end for end in (span.low, span.high) if end is not None and span.holds(end)]
    if ends and choose.chance(40):
        return choose.one(ends)
    part = Fraction(choose.whole(1, 99), 100)
    if span.low is not None and span.high is not None:
        return span.low + (span.high - span.low) * part
    far = part * choose.one([1, 100, 10_000])
    if span.low is not None:
        return span.low + far
    return span.high - far if span.high is not None else choose.one([-far, far])
