"""Routes: lines on which two places can be joined, followed in either direction.

Current does not ask which way a feeder was meant: a set can reach the utility down one feeder and up another. A route
passes each piece once, so that no switch stands in two positions on it. What a piece lets through is said by whoever
looks.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from checker.facts.drawing import Drawing, Leg
from checker.facts.line.interlocks import Apart
from checker.values.truth import Truth

MOST_LEGS = 20_000
"""Legs that one search follows; a limit of effort, beyond which the answer is not decided."""

Passes = Callable[[str, Leg | None, Leg], bool]
"""Whether a piece lets a route through that comes by one leg, or starts there, and whether it can go on by the
other.
"""

Arrives = Callable[[Sequence[Leg]], bool]
"""Whether these legs are a route that was looked for."""

Weigh = Callable[[Truth], bool]
"""Whether an answer lets a route stand: where it is sure, or where it is possible."""


def surely(truth: Truth) -> bool:
    """What stands in any case."""
    return truth is Truth.YES


def perhaps(truth: Truth) -> bool:
    """What cannot be excluded."""
    return truth is not Truth.NO


class TooManyRoutes(Exception):
    """A search was given up."""


@dataclass(frozen=True, slots=True)
class Route:
    """The legs from one place to another."""

    legs: tuple[Leg, ...]

    @property
    def start(self) -> str:
        """Where it begins."""
        return self.legs[0].start

    @property
    def end(self) -> str:
        """Where it leads."""
        return self.legs[-1].end

    @property
    def tags(self) -> tuple[str, ...]:
        """The pieces on it, in order."""
        return (self.start, *(leg.end for leg in self.legs))

    @property
    def turns(self) -> tuple[str, ...]:
        """The pieces into which it comes down by one feed and that it leaves up another: they are closed on both
        sides.
        """
        return tuple(
            goes.start for came, goes in zip(self.legs, self.legs[1:], strict=False) if not came.up and goes.up
        )


def first_route(drawing: Drawing, start: str, passes: Passes, arrives: Arrives, apart: Apart = ()) -> Route | None:
    """The first route from a piece that arrives and on which no two devices are kept apart, or None.

    Raises TooManyRoutes where the drawing has so many that not all are followed.
    """
    return next(every_route(drawing, start, passes, arrives, apart), None)


def every_route(drawing: Drawing, start: str, passes: Passes, arrives: Arrives, apart: Apart = ()) -> Iterator[Route]:
    """All of them, one after the other."""
    yield from _Search(drawing, start, passes, arrives, apart).every()


class _Search:
    """Follows one leg after another and goes back where there is no way on."""

    def __init__(self, drawing: Drawing, start: str, passes: Passes, arrives: Arrives, apart: Apart) -> None:
        self._drawing = drawing
        self._start = start
        self._passes = passes
        self._arrives = arrives
        self._apart = tuple(apart)
        self._legs: list[Leg] = []
        self._devices: list[frozenset[str]] = [frozenset()]
        self._seen: set[str] = set()

    def every(self) -> Iterator[Route]:
        """Every route that arrives; one that does may lead on to another."""
        untried = [iter(self._drawing.legs(self._start))]
        followed = 0
        while untried:
            leg = next(untried[-1], None)
            if leg is None:
                untried.pop()
                self._go_back()
            elif self._can_follow(leg):
                followed += 1
                if followed > MOST_LEGS:
                    raise TooManyRoutes
                self._follow(leg)
                if self._arrives(self._legs):
                    yield Route(tuple(self._legs))
                untried.append(iter(() if leg.end == self._start else self._drawing.legs(leg.end)))

    def _can_follow(self, leg: Leg) -> bool:
        """A route does not turn round, and comes back to no piece but to where it starts, which ends it."""
        came = self._legs[-1] if self._legs else None
        if leg.end in self._seen or (came is not None and came.feed == leg.feed):
            return False
        return self._passes(leg.start, came, leg) and self._can_be_closed(leg)

    def _can_be_closed(self, leg: Leg) -> bool:
        if not self._apart:
            return True
        together = self._devices[-1] | self._drawing.devices(leg.feed)
        return not any(pair <= together for pair in self._apart)

    def _follow(self, leg: Leg) -> None:
        self._legs.append(leg)
        if leg.end != self._start:
            self._seen.add(leg.end)
        if self._apart:
            self._devices.append(self._devices[-1] | self._drawing.devices(leg.feed))

    def _go_back(self) -> None:
        if self._legs:
            self._seen.discard(self._legs.pop().end)
            if self._apart:
                self._devices.pop()


def is_side_to_side(came: Leg | None, goes: Leg) -> bool:
    """Whether a route comes into a piece by one input and leaves it by another."""
    return came is not None and not came.up and goes.up


def turns_in(legs: Iterable[Leg]) -> tuple[str, ...]:
    """The pieces that legs pass from one input to another."""
    return Route(tuple(legs)).turns
