"""Equipment grounding as a net: frames joined by grounding conductors and metal raceways.

No device opens an equipment ground, so that what holds here holds in every position.
"""

from __future__ import annotations

from collections.abc import Callable

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import Drawing, Leg
from checker.facts.line.roles import flag
from checker.facts.line.routes import Weigh, perhaps, surely
from checker.facts.line.ties import feeds_nothing
from checker.site.model import Feed, Subject
from checker.values.possible import exactly
from checker.values.relations import present, relate
from checker.values.truth import Truth, any_of

_Follows = Callable[[Feed], bool]


def ground_ring(context: Context, subject: Subject, name: str) -> Derived:
    """Whether equipment grounds lead from the set around and back to it."""
    if not context.drawing.out_of(subject.id):
        return feeds_nothing(subject)
    ring = _ring(context.drawing, subject.id, _carries_ground(context, surely))
    if ring:
        return Derived(exactly(True), state=f"every position of the switches: {', '.join(ring)}")
    possible = _ring(context.drawing, subject.id, _carries_ground(context, perhaps))
    return Derived(flag(Truth.UNKNOWN if possible else Truth.NO))


def _carries_ground(context: Context, weigh: Weigh) -> _Follows:
    """Whether a line has an equipment grounding conductor, or a raceway or armor that serves as one."""

    def follows(feed: Feed) -> bool:
        if feed.source not in context.drawing.pieces:
            return False
        conductor = present(context.read(feed.subject, "grounding"))
        if conductor is Truth.YES:
            return True
        raceway = relate("is", context.read(feed.subject, "raceway_grounds"), exactly(True))
        return weigh(any_of((conductor, raceway)))

    return follows


def _ring(drawing: Drawing, frame: str, follows: _Follows) -> tuple[str, ...]:
    """The pieces of a ring through this one, from it and back to it; empty where there is none."""
    legs = [leg for leg in drawing.legs(frame) if follows(leg.feed)]
    for place, first in enumerate(legs):
        came = _reached(drawing, first, frame, follows)
        back = next((leg.end for leg in legs[place + 1 :] if leg.end in came), None)
        if back is not None:
            return (frame, *_way_to(back, came), frame)
    return ()


def _reached(drawing: Drawing, first: Leg, without: str, follows: _Follows) -> dict[str, str | None]:
    """Every piece that hangs together with the end of a line, one piece taken out, each with the piece before it."""
    came: dict[str, str | None] = {first.end: None}
    waiting = [first.end]
    while waiting:
        here = waiting.pop(0)
        for leg in drawing.legs(here):
            if leg.end != without and leg.end not in came and follows(leg.feed):
                came[leg.end] = here
                waiting.append(leg.end)
    return came


def _way_to(tag: str, came: dict[str, str | None]) -> tuple[str, ...]:
    before = came[tag]
    return (tag,) if before is None else (*_way_to(before, came), tag)
