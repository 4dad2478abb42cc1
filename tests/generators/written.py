"""What a person can write for one fact: the text, and what is possible by it, worked out here and not by the reader."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from checker.catalog.model import Fact, ValueType
from checker.values.possible import ABSENT, Possible, SetSpan, Span, exactly, merged_sets, number, numbers, several
from tests.generators.choosing import Chooser
from tests.generators.numbers import Figure, figures_of

NONE, UNKNOWN = "none", "unknown"
TEXTS = ("north window", "THWN-2", "east lot line")


@dataclass(frozen=True, slots=True)
class Written:
    """A value as typed; ``items`` holds the words of a list in brackets."""

    value: Possible
    text: str
    unit: str | None = None
    items: tuple[str, ...] = ()


def written(choose: Chooser, fact: Fact, tags: Sequence[str], *, may_be_none: bool | None = None) -> Written:
    """Any value that a person may write for a fact without parts. ``tags`` are the pieces on the drawing."""
    none_allowed = fact.may_be_none if may_be_none is None else may_be_none
    if fact.exact:
        return exact(choose, fact, tags)
    if none_allowed and choose.chance(12):
        return Written(ABSENT, NONE)
    if choose.chance(18):
        return Written(fact.anything(), UNKNOWN)
    if not choose.chance(35):
        return exact(choose, fact, tags)
    return _with_none(choose, undecided(choose, fact, tags)) if none_allowed else undecided(choose, fact, tags)


def _with_none(choose: Chooser, some: Written) -> Written:
    if not choose.chance(30) or some.items or some.text == UNKNOWN:
        return some
    value = some.value
    both = Possible(value.atoms, value.anything, value.spans, value.sets, absent=True)
    return Written(both, f"{some.text} or {NONE}", some.unit)


def exact(choose: Chooser, fact: Fact, tags: Sequence[str]) -> Written:
    """One value of a fact."""
    if fact.several:
        listed = choose.some(list(fact.choices), least=1, most=3)
        return Written(several(listed), ", ".join(listed), items=tuple(listed))
    if fact.type.is_ordered:
        figure = choose.one(figures_of(fact))
        return Written(number(figure.number), figure.text, figure.unit)
    if fact.type is ValueType.FLAG:
        flag = choose.chance(50)
        return Written(exactly(flag), "yes" if flag else "no")
    ways = tuple(f"{tag}/main" for tag in tags)
    words = {ValueType.TEXT: TEXTS, ValueType.TAG: tuple(tags), ValueType.WAY: ways}.get(fact.type, tuple(fact.choices))
    word = choose.one(words)
    return Written(exactly(word), word)


def undecided(choose: Chooser, fact: Fact, tags: Sequence[str]) -> Written:
    """One of several values of a fact."""
    if fact.type.is_ordered:
        return _undecided_number(choose, fact)
    if fact.type in (ValueType.FLAG, ValueType.TEXT):
        return Written(fact.anything(), UNKNOWN)
    words = choose.some(tuple(tags) if fact.type is ValueType.TAG else list(fact.choices), least=1, most=3)
    text = " or ".join(words)
    if fact.several:
        return Written(
            Possible(sets=merged_sets(SetSpan(frozenset({each}), frozenset({each})) for each in words)), text
        )
    return Written(Possible(atoms=frozenset(words)), text)


def _undecided_number(choose: Chooser, fact: Fact) -> Written:
    figures = figures_of(fact)
    low, high = sorted((choose.one(figures), choose.one(figures)), key=lambda each: each.number)
    shapes = ["or", "to", "at least", "at most", "more than", "less than"]
    shape = choose.one(shapes[:1] if low.number == high.number else shapes)
    if shape == "or":
        return Written(numbers([low.number, high.number]), f"{low.text} or {high.text}", low.unit)
    if shape == "to":
        return Written(Possible(spans=(Span(low.number, high.number),)), f"{low.text} to {high.text}", low.unit)
    return _half_line(shape, low if shape in ("at least", "more than") else high, fact)


def _half_line(shape: str, end: Figure, fact: Fact) -> Written:
    """Everything to one side of a number, up to where nature or the trade closes it."""
    lowest = fact.physical.low if fact.physical else None
    highest = fact.physical.high if fact.physical else None
    if end.number in (lowest, highest):
        # Beyond the last possible number nothing is left.
        shape = shape.replace("more than", "at least").replace("less than", "at most")
    if shape in ("at least", "more than"):
        span = Span(end.number, highest, low_open=shape == "more than")
    else:
        span = Span(lowest, end.number, high_open=shape == "less than")
    return Written(Possible(spans=(span,)), f"{shape} {end.text}", end.unit)
