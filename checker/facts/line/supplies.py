"""What can feed a place at once, folded over the positions of everything ahead of it.

A transfer switch passes one of its sides, or both while a closed transition lasts. A board with several feeds passes
all of them together, as far as interlocks and the switches ahead let them be closed together. Each *supply* is one such
case, from its sources down to the place, with what its line lets through. Feeds are followed as they are drawn to feed;
what comes back from below is looked for along routes.

Where a transition or an interlock is not known the fold is done twice, once with what is sure and once with what is
possible; the truth lies between, since more that is closed never gives less.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import product
from typing import Protocol

from checker.facts.derivation import Context
from checker.facts.drawing import NO_CORD, OPEN_END
from checker.facts.line.interlocks import interlocks_of, listed_interlocks
from checker.facts.line.routes import Weigh
from checker.site.model import Feed
from checker.values.possible import ABSENT, Possible, several
from checker.values.relations import relate
from checker.values.truth import Truth

MOST_SUPPLIES = 1024
"""Supplies, and choices of feeds of one board, that are looked at; a limit of effort."""

BOTH = "both"

_OPEN_BETWEEN = several(("open", "delayed"))


def goes_over_closed(context: Context, tag: str) -> Truth:
    """Whether a transfer switch is on both sides for a moment."""
    return ~relate("one_of", context.read(context.drawing.pieces[tag], "transition"), _OPEN_BETWEEN)


class TooManySupplies(Exception):
    """The fold was given up."""


@dataclass(frozen=True, slots=True)
class Supply:
    """Sources that feed a place at once, where the switches stand for it, the ways whose devices the current passes,
    and the current that the line lets through (absent: nothing ahead limits it).
    """

    sources: frozenset[str]
    current: Possible
    positions: frozenset[tuple[str, str]] = frozenset()
    devices: frozenset[str] = frozenset()


class Currents(Protocol):
    """What a fold asks about currents."""

    @property
    def divides(self) -> bool:
        """Whether it matters that one source feeds several lines, so that more lines may tell less."""
        ...

    def at_source(self, tag: str) -> Possible:
        """What a source gives."""
        ...

    def at_end(self, tag: str, end: str) -> Possible:
        """What comes from a line of a piece that ends in the air, or from an inlet without a cord."""
        ...

    def past_transformer(self, tag: str, ahead: Possible) -> Possible:
        """What a transformer gives, in amperes at its secondary."""
        ...

    def along(self, feed: Feed, ahead: Possible) -> Possible:
        """What a line lets through of what is ahead, up to where it lands."""
        ...

    def into(self, tag: str, entry: str, ahead: Possible) -> Possible:
        """What the device built into a piece on one input lets through of what is ahead."""
        ...

    def joined(self, supplies: Iterable[Supply]) -> Possible:
        """What supplies give that are closed at once."""
        ...


class NoCurrents:
    """For who asks only which sources feed together."""

    divides = False

    def at_source(self, _tag: str) -> Possible:
        """See Currents."""
        return ABSENT

    def at_end(self, _tag: str, _end: str) -> Possible:
        """See Currents."""
        return ABSENT

    def past_transformer(self, _tag: str, _ahead: Possible) -> Possible:
        """See Currents."""
        return ABSENT

    def along(self, _feed: Feed, _ahead: Possible) -> Possible:
        """See Currents."""
        return ABSENT

    def into(self, _tag: str, _entry: str, _ahead: Possible) -> Possible:
        """See Currents."""
        return ABSENT

    def joined(self, _supplies: Iterable[Supply]) -> Possible:
        """See Currents."""
        return ABSENT


class Supplies:
    """The supplies of places: of what is sure or of what is possible, in transfers under way or not.

    Raises TooManySupplies where there are more than are looked at.
    """

    def __init__(self, context: Context, currents: Currents, weigh: Weigh, *, in_transfer: bool) -> None:
        self._context = context
        self._drawing = context.drawing
        self._currents = currents
        self._weigh = weigh
        self._in_transfer = in_transfer

    def whole(self, supplies: Sequence[Supply]) -> tuple[Supply, ...]:
        """Those that no interlock keeps open somewhere along their line; all, where that leaves none to go by."""
        return self.closed(supplies) or tuple(supplies)

    def closed(self, supplies: Sequence[Supply]) -> tuple[Supply, ...]:
        """Those that no interlock keeps open somewhere along their line."""
        return tuple(each for each in supplies if self._can_be_closed(each.devices))

    def of_piece(self, tag: str, seen: frozenset[str] = frozenset()) -> tuple[Supply, ...]:
        """What can feed a piece through any of its inputs; a source is fed by itself."""
        if tag in seen:
            return (self._nothing(tag, OPEN_END),)
        inputs = self._drawing.inputs(tag)
        if not inputs:
            return (Supply(frozenset({tag}), self._currents.at_source(tag)),)
        by_input = [self.of_input(tag, entry, seen) for entry in inputs]
        if self._drawing.is_of(tag, "transfer_switch"):
            return _few(self._through_switch(tag, inputs, by_input))
        if len(by_input) > 1:
            return _few(self._together(by_input))
        if self._drawing.is_of(tag, "transformer"):
            return tuple(
                replace(each, current=self._currents.past_transformer(tag, each.current)) for each in by_input[0]
            )
        return by_input[0]

    def of_input(self, tag: str, entry: str, seen: frozenset[str] = frozenset()) -> tuple[Supply, ...]:
        """What can feed a piece through one input, the device built in there included."""
        feed = self._drawing.into(tag, entry)
        if feed is None:
            cord = self._drawing.legs(tag)[0].end == NO_CORD
            above: tuple[Supply, ...] = (self._nothing(tag, NO_CORD if cord else OPEN_END),)
        else:
            above = self.of_feed(feed, seen | {tag})
        return tuple(replace(each, current=self._currents.into(tag, entry, each.current)) for each in above)

    def of_feed(self, feed: Feed, seen: frozenset[str] = frozenset()) -> tuple[Supply, ...]:
        """What can feed a line where it lands."""
        own = self._drawing.devices(feed)
        return tuple(
            replace(each, devices=each.devices | own, current=self._currents.along(feed, each.current))
            for each in self.of_piece(feed.source, seen)
        )

    def _nothing(self, tag: str, end: str) -> Supply:
        return Supply(frozenset({end}), self._currents.at_end(tag, end))

    def _through_switch(
        self, tag: str, inputs: Sequence[str], by_input: Sequence[tuple[Supply, ...]]
    ) -> Iterator[Supply]:
        for entry, supplies in zip(inputs, by_input, strict=True):
            for each in supplies:
                yield replace(each, positions=each.positions | {(tag, entry)})
        if self._in_transfer and self._weigh(goes_over_closed(self._context, tag)):
            for chosen in product(*by_input):
                if _switches_agree(chosen):
                    joined = self._joined(chosen)
                    yield replace(joined, positions=joined.positions | {(tag, BOTH)})

    def _together(self, by_input: Sequence[tuple[Supply, ...]]) -> Iterator[Supply]:
        """Every choice of feeds that can be closed at once; where nothing is interlocked and no current divides, those
        to which no other can be added. An interlock further down may leave a smaller choice only; of a current that
        divides between lines of one source a smaller choice may tell more.
        """
        choices = [(None, *supplies) for supplies in by_input]
        count = 1
        for choice in choices:
            count *= len(choice)
        if count > MOST_SUPPLIES:
            raise TooManySupplies
        fitting = [
            chosen for chosen in product(*choices) if any(chosen) and self._fit(tuple(each for each in chosen if each))
        ]
        takes_all = bool(listed_interlocks(self._context).possible) or self._divides
        # Where an interlock leaves no line into the board whole, nothing of it is left to go by.
        fitting = fitting or [(each,) for supplies in by_input for each in supplies]
        for chosen in fitting:
            if takes_all or not any(_adds_to(other, chosen) for other in fitting):
                yield self._joined(tuple(each for each in chosen if each))

    @cached_property
    def _divides(self) -> bool:
        """Whether one source reaches some board by two of its feeds, where that matters."""
        if not self._currents.divides:
            return False
        boards = (tag for tag in self._drawing.selectors if not self._drawing.is_of(tag, "transfer_switch"))
        return any(self._share_a_source(tag) for tag in boards)

    def _share_a_source(self, board: str) -> bool:
        by_input = [self._drawing.ends_above(board, entry) for entry in self._drawing.inputs(board)]
        return sum(len(each) for each in by_input) > len(frozenset[str]().union(*by_input))

    def _fit(self, chosen: tuple[Supply, ...]) -> bool:
        """Whether they can be closed at once. An interlock that is not listed would stand between two feeds."""
        if not _switches_agree(chosen):
            return False
        if self._is_sure and len(chosen) > 1 and not interlocks_of(self._context).complete:
            return False
        return self._can_be_closed(frozenset[str]().union(*(each.devices for each in chosen)))

    def _can_be_closed(self, devices: frozenset[str]) -> bool:
        listed = listed_interlocks(self._context)
        return not any(pair <= devices for pair in (listed.possible if self._is_sure else listed.sure))

    @property
    def _is_sure(self) -> bool:
        return not self._weigh(Truth.UNKNOWN)

    def _joined(self, chosen: Sequence[Supply]) -> Supply:
        current = self._currents.joined(chosen)
        sources = frozenset[str]().union(*(each.sources for each in chosen))
        positions = frozenset[tuple[str, str]]().union(*(each.positions for each in chosen))
        devices = frozenset[str]().union(*(each.devices for each in chosen))
        return Supply(sources, current, positions, devices)


def _few(supplies: Iterator[Supply]) -> tuple[Supply, ...]:
    found: list[Supply] = []
    for each in supplies:
        found.append(each)
        if len(found) > MOST_SUPPLIES:
            raise TooManySupplies
    return tuple(found)


def _switches_agree(chosen: Sequence[Supply]) -> bool:
    """Whether no switch would have to stand in two positions."""
    stands: dict[str, str] = {}
    return all(stands.setdefault(tag, entry) == entry for each in chosen for tag, entry in sorted(each.positions))


def _adds_to(other: Sequence[Supply | None], chosen: Sequence[Supply | None]) -> bool:
    """Whether the other choice holds all of this one and more."""
    return (
        other != chosen
        and len(other) == len(chosen)
        and all(mine is None or mine == theirs for mine, theirs in zip(chosen, other, strict=True))
    )
