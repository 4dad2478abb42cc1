"""Where the pieces and lines of a one-line go: sources at the top left, load downward, each piece on a row of its own.

Every line has a lane of its own between the rows of its two pieces, so that no line runs through a symbol and no two
lie on each other; lines may cross. What is written stands in one gutter at the right, a row of it for each piece.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from checker.catalog.names import SIDES
from checker.findings.finding import ConnectionOfLine, OneLine

ALTERNATE = SIDES[1]


@dataclass(frozen=True, slots=True)
class Place:
    """A piece on its row, counted from 0 at the top, and in its lane, counted from 0 at the left."""

    tag: str
    kind: str
    row: int
    lane: int


@dataclass(frozen=True, slots=True)
class Wire:
    """A line from one piece to another in its lane; ``entry`` counts the lines into the piece, from 0 at the left."""

    id: str
    source: str
    to: str
    lane: int
    entry: int


@dataclass(frozen=True, slots=True)
class Layout:
    """All places by tag, in the order of their rows, all lines, and how many lanes there are."""

    places: Mapping[str, Place]
    wires: tuple[Wire, ...]
    lanes: int


def laid_out(line: OneLine) -> Layout:
    """The layout of what is connected; pieces without a line, such as stops and meters of gas, are left out."""
    kinds = {piece.tag: piece.kind for piece in line.pieces}
    known = (each for each in line.connections if each.source in kinds and each.to in kinds)
    # The normal supply runs straight down, the other side comes in beside it.
    feeds = tuple(sorted(known, key=lambda each: each.input == ALTERNATE))
    order = _rows([piece.tag for piece in line.pieces], feeds)
    return _Lanes(kinds, feeds).fill(order)


def _rows(tags: Sequence[str], feeds: Iterable[ConnectionOfLine]) -> list[str]:
    """Each piece after all that feed it, and as near below the first of them as can be. In a ring the piece that comes
    first on the walk comes first here.
    """
    ahead: dict[str, set[str]] = {}
    below: dict[str, list[str]] = {}
    for feed in feeds:
        ahead.setdefault(feed.to, set()).add(feed.source)
        below.setdefault(feed.source, []).append(feed.to)
    waiting = [tag for tag in tags if tag in ahead or tag in below]
    done: list[str] = []
    next_up: list[str] = []
    while waiting:
        ready = [tag for tag in waiting if ahead.get(tag, set()) <= set(done)]
        tag = next((each for each in next_up if each in ready), ready[0] if ready else waiting[0])
        waiting.remove(tag)
        done.append(tag)
        next_up = [*below.get(tag, ()), *(each for each in next_up if each != tag)]
    return done


@dataclass(slots=True)
class _Lanes:
    """Gives lanes from the top row down; a lane is free again below the piece at which its line ends."""

    kinds: Mapping[str, str]
    feeds: Sequence[ConnectionOfLine]
    _busy: set[int] = field(default_factory=set)
    _lane_of: dict[str, int] = field(default_factory=dict)
    _most: int = 0

    def fill(self, order: Sequence[str]) -> Layout:
        places: dict[str, Place] = {}
        for row, tag in enumerate(order):
            places[tag] = Place(tag, self.kinds[tag], row, self._place(tag, set(places)))
        wires = tuple(
            Wire(feed.id, feed.source, feed.to, self._lane_of[feed.id], self._entry(feed)) for feed in self.feeds
        )
        return Layout(places, wires, self._most)

    def _place(self, tag: str, above: set[str]) -> int:
        """The lane of a piece: that of its first line from above, or a free one."""
        into = [self._lane_of[feed.id] for feed in self.feeds if feed.to == tag and feed.id in self._lane_of]
        lane = into[0] if into else self._free(0)
        self._busy -= set(into)
        self._busy.add(lane)
        out = [feed for feed in self.feeds if feed.source == tag and feed.id not in self._lane_of]
        straight = next((feed for feed in out if feed.to not in above), None)
        for feed in out:
            # A line back up runs past rows that are drawn already, so its lane has to be one that nothing used.
            start = self._most if feed.to in above else lane + 1
            self._lane_of[feed.id] = lane if feed is straight else self._free(start)
        self._busy |= {self._lane_of[feed.id] for feed in out if feed.to not in above}
        if straight is None:
            self._busy.discard(lane)
        return lane

    def _free(self, start: int) -> int:
        lane = next(each for each in range(start, start + len(self._busy) + 1) if each not in self._busy)
        self._busy.add(lane)
        self._most = max(self._most, lane + 1)
        return lane

    def _entry(self, feed: ConnectionOfLine) -> int:
        into = [each.id for each in self.feeds if each.to == feed.to]
        return into.index(feed.id)
