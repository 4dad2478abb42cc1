"""Where one supply meets another, and what becomes of the neutral there."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import OPEN_END, Drawing
from checker.site.model import Feed, Subject
from checker.values.arithmetic import largest
from checker.values.possible import ABSENT, Possible, exactly, one_of, several
from checker.values.relations import relate
from checker.values.truth import Truth

_FOREMOST_FIRST = ("solid", "overlapping", "switched", "not_carried")
"""One neutral that is carried solid ties the set to the bond of the service, whatever the others do."""


def neutral_at_transfer(context: Context, subject: Subject, name: str) -> Derived:
    """What the neutral does where the line of an inlet or a set meets a utility supply; absent where it meets none.

    A board that is fed in more than one way has one neutral bar for all its feeds, whatever its interlock keeps apart.
    """
    found = [_neutral(context, tag) for tag in dict.fromkeys(_met(context.drawing, subject.id, frozenset()))]
    return Derived(_foremost(found) if found else ABSENT)


def fed_several_ways(context: Context, subject: Subject, name: str) -> Derived:
    """Whether more than one line feeds a board."""
    return Derived(exactly(subject.id in context.drawing.selectors))


def largest_transformer(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest rating of a transformer that can be fed through a transfer switch; absent where there is none."""
    drawing = context.drawing
    past = [tag for tag in drawing.fed_in_any_way(subject.id) if drawing.is_of(tag, "transformer")]
    ratings = [context.read(drawing.pieces[tag], "transformer_rating") for tag in past]
    return Derived(largest(ratings, skip_absent=False) if ratings else ABSENT)


def _met(drawing: Drawing, tag: str, seen: frozenset[str]) -> Iterator[str]:
    """The first pieces past this one that another line can tie to a utility; a transformer ends the neutral."""
    for feed in drawing.out_of(tag):
        if _meets_utility(drawing, feed):
            yield feed.to
        elif feed.to not in seen and not drawing.is_of(feed.to, "transformer"):
            yield from _met(drawing, feed.to, seen | {feed.to})


def _meets_utility(drawing: Drawing, feed: Feed) -> bool:
    """Whether another input of the piece leads up to a utility supply, or to nobody knows what."""
    others = (entry for entry in drawing.inputs(feed.to) if entry != feed.input)
    ends = frozenset[str]().union(*(drawing.ends_above(feed.to, entry) for entry in others))
    return any(end == OPEN_END or drawing.is_of(end, "utility_supply") for end in ends)


def _neutral(context: Context, tag: str) -> Possible:
    if context.drawing.is_of(tag, "transfer_switch"):
        return context.read(context.drawing.pieces[tag], "neutral")
    return exactly("solid")


def _foremost(found: Sequence[Possible]) -> Possible:
    """The foremost of what several can be, each for itself."""
    return one_of(
        [
            choice
            for place, choice in enumerate(_FOREMOST_FIRST)
            if _may_be(found, any, (choice,)) and _may_be(found, all, _FOREMOST_FIRST[place:])
        ]
    )


def _may_be(found: Sequence[Possible], how_many: Callable[[Iterable[bool]], bool], choices: Sequence[str]) -> bool:
    return how_many(relate("one_of", each, several(choices)) is not Truth.NO for each in found)
