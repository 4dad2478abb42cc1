"""The ways by which a source feeds a fault at a piece, as the runs that lie in line on each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, islice

from checker.facts.derivation import Context
from checker.facts.drawing import Leg
from checker.facts.line.interlocks import interlocks_of, listed_interlocks
from checker.facts.line.routes import (
    Arrives,
    Passes,
    Route,
    TooManyRoutes,
    Weigh,
    every_route,
    is_side_to_side,
    perhaps,
)
from checker.facts.line.supplies import goes_over_closed
from checker.site.model import Feed
from checker.values.truth import Truth

MOST_WAYS = 48
"""So many ways are compared; with more of them no run is counted."""


@dataclass(frozen=True, slots=True)
class Way:
    """The runs of one way from the source to the piece, and the pieces that they join, the source first."""

    feeds: tuple[Feed, ...]
    tags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways of which only one can be closed at a time, and the runs that lie on all of them.

    ``one_at_a_time`` says whether no two ways can be closed at once; otherwise they share the current, and only the
    runs on all of them take something of all of it.
    """

    ways: tuple[Way, ...]
    one_at_a_time: bool

    @property
    def shared(self) -> Way:
        """The runs that lie on all of them, with no piece between that would tell where they are."""
        first, *rest = self.ways
        feeds = tuple(feed for feed in first.feeds if all(feed in other.feeds for other in rest))
        return Way(feeds, (first.tags[0], first.tags[-1]))


def ways_of(context: Context, tag: str, source: str) -> Ways | None:
    """Every way that may be closed; None where there is none, or too many to follow."""
    apart = listed_interlocks(context).sure
    found = every_route(context.drawing, tag, passing(context, perhaps), _ends_at(source), apart)
    try:
        routes = tuple(islice(found, MOST_WAYS + 1))
    except TooManyRoutes:
        return None
    if not 0 < len(routes) <= MOST_WAYS:
        return None
    alone = all(_excludes(context, one, other) for one, other in combinations(routes, 2))
    return Ways(tuple(_way(route) for route in routes), alone)


def _ends_at(source: str) -> Arrives:
    return lambda legs: legs[-1].end == source


def _way(route: Route) -> Way:
    return Way(tuple(leg.feed for leg in reversed(route.legs)), tuple(reversed(route.tags)))


def _excludes(context: Context, one: Route, other: Route) -> bool:
    """Whether a switch that never stands on both its sides has to stand on different ones."""
    stands = {leg.feed.to: leg.feed.input for leg in _into_switches(context, one.legs)}
    return any(
        stands.get(leg.feed.to, leg.feed.input) != leg.feed.input and goes_over_closed(context, leg.feed.to) is Truth.NO
        for leg in _into_switches(context, other.legs)
    )


def _into_switches(context: Context, legs: Sequence[Leg]) -> Sequence[Leg]:
    return [leg for leg in legs if context.drawing.is_of(leg.feed.to, "transfer_switch")]


def passing(context: Context, weigh: Weigh) -> Passes:
    """What a route may pass: from one side of a piece to another only where both may be closed."""
    drawing = context.drawing

    def passes(piece: str, came: Leg | None, goes: Leg) -> bool:
        if not is_side_to_side(came, goes):
            return True
        if drawing.is_of(piece, "transfer_switch"):
            return weigh(goes_over_closed(context, piece))
        return weigh(Truth.UNKNOWN) or interlocks_of(context).complete

    return passes
