"""The drawing as a graph, with what follows from kinds, tags and feeding alone.

These are always exact, so that everything here is certain. A piece that can be fed in more than one way (a transfer
switch, a board with several feeds) is a *selector*; in the plain walk every selector is on its normal input.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from checker.catalog.model import Catalog, Feeding
from checker.site.model import Feed, Site, Subject

NORMAL, ALTERNATE = "normal", "alternate"
MAIN, PLAIN, LOAD = "main", "fed_from", "load"
_NOT_REVIEWED = ("to_be_removed", "future")
_DIGITS = re.compile(r"([0-9]+)")

OPEN_END, NO_CORD = "(open end)", "(no cord)"
"""What stands above a line that ends in the air or runs in a ring, and above an inlet in which no cord is."""


@dataclass(frozen=True, slots=True)
class Path:
    """The feeds from one place up to a source, the nearest first. ``source`` is None where the line ends or runs in a
    ring.
    """

    feeds: tuple[Feed, ...]
    source: str | None
    ring: bool = False


@dataclass(frozen=True, slots=True)
class Leg:
    """One line as a route follows it: down, as it is drawn to feed, or up."""

    feed: Feed
    up: bool

    @property
    def start(self) -> str:
        """Where it is entered."""
        return self.feed.to if self.up else self.feed.source

    @property
    def end(self) -> str:
        """Where it leads."""
        return self.feed.source if self.up else self.feed.to


def in_order(tag: str) -> tuple[tuple[str, int], ...]:
    """The place of a tag, or of a name made of tags, among others, numbers by size: P2 comes before P10."""
    pieces = _DIGITS.split(tag)
    words, numbers = pieces[::2], pieces[1::2]
    return (*zip(words, (*(int(each) for each in numbers), -1), strict=True), (tag, 0))


def is_set_aside(site: Site, piece: Subject) -> bool:
    """Whether a piece goes or comes later, so that no rule looks at it."""
    status = site.stated(piece, "status")
    return status is not None and status.value.atom in _NOT_REVIEWED


class Drawing:
    """Pieces and feeds of one site.

    Pieces that are to be removed or planned for later are set aside, with the feeds from and to them. Everything is in
    the order of the tags, so that nothing that is said of a drawing depends on the order of its file.
    """

    def __init__(self, site: Site, catalog: Catalog) -> None:
        self._site = site
        self._catalog = catalog
        tags = sorted(site.pieces, key=in_order)
        self.set_aside: tuple[str, ...] = tuple(tag for tag in tags if is_set_aside(site, site.pieces[tag]))
        self.pieces: Mapping[str, Subject] = {tag: site.pieces[tag] for tag in tags if tag not in self.set_aside}
        self.feeds: tuple[Feed, ...] = tuple(
            feed
            for feed in sorted(site.feeds, key=lambda each: in_order(each.subject.id))
            if feed.source in self.pieces and feed.to in self.pieces
        )
        self._into: dict[tuple[str, str], Feed] = {(feed.to, feed.input): feed for feed in self.feeds}
        self._out: dict[str, list[Feed]] = {}
        for feed in self.feeds:
            self._out.setdefault(feed.source, []).append(feed)
        self._paths: dict[tuple[str, str | None], Path] = {}
        self._below: dict[str, tuple[str, ...]] = {}
        self._legs: dict[str, tuple[Leg, ...]] = {}
        self._devices: dict[Feed, frozenset[str]] = {}

    # --- pieces and feeds --------------------------------------------------------------------------------------------

    def feed(self, connection: Subject) -> Feed:
        """The feed behind a connection as a subject."""
        return self._by_connection[connection]

    @cached_property
    def _by_connection(self) -> Mapping[Subject, Feed]:
        return {feed.subject: feed for feed in self.feeds}

    def is_of(self, tag: str, group: str) -> bool:
        """Whether the piece is of this kind or group."""
        piece = self.pieces.get(tag)
        return piece is not None and piece.type in self._catalog.kinds_of(group)

    def of(self, group: str) -> tuple[str, ...]:
        """The tags of all pieces of a kind or group, in the order of the tags."""
        return tuple(tag for tag in self.pieces if self.is_of(tag, group))

    def inputs(self, tag: str) -> tuple[str, ...]:
        """The inputs of a piece, the normal one first: none for a source, both sides of a switch, each feed of a
        board.
        """
        return self._inputs.get(tag, ())

    @cached_property
    def _inputs(self) -> Mapping[str, tuple[str, ...]]:
        drawn: dict[str, set[str]] = {tag: set() for tag in self.pieces}
        for feed in self.feeds:
            drawn[feed.to].add(feed.input)
        return {tag: self._in_order(tag, entries) for tag, entries in drawn.items()}

    def _in_order(self, tag: str, drawn: set[str]) -> tuple[str, ...]:
        """Inputs of the kind first, also where nothing is drawn into them; then the other feeds by name."""
        of_kind = self._catalog.kinds[self.pieces[tag].type].feeding.inputs
        first = [entry for entry in of_kind if entry != PLAIN or entry in drawn or not drawn]
        rest = sorted(drawn - set(first), key=lambda entry: (entry != MAIN, entry))
        return (*first, *rest)

    def into(self, tag: str, entry: str) -> Feed | None:
        """The feed into one input of a piece."""
        return self._into.get((tag, entry))

    def out_of(self, tag: str) -> tuple[Feed, ...]:
        """The feeds that leave a piece, in the order of the tags."""
        return tuple(self._out.get(tag, ()))

    def entry(self, tag: str) -> str | None:
        """The normal input of a piece; None for a source."""
        inputs = self.inputs(tag)
        return inputs[0] if inputs else None

    @cached_property
    def selectors(self) -> tuple[str, ...]:
        """The pieces that can be fed in more than one way, in the order of the tags."""
        return tuple(tag for tag in self.pieces if len(self.inputs(tag)) > 1)

    # --- the plain walk ----------------------------------------------------------------------------------------------

    def path(self, tag: str, entry: str | None = None) -> Path:
        """The line from a piece up to its source through the given input, every other selector on its normal input."""
        key = (tag, entry)
        if key not in self._paths:
            self._paths[key] = self._walked_up(tag, entry or self.entry(tag))
        return self._paths[key]

    def _walked_up(self, tag: str, entry: str | None) -> Path:
        feeds: list[Feed] = []
        seen: set[str] = set()
        here, way_in = tag, entry
        while way_in is not None:
            if here in seen:
                return Path(tuple(feeds), None, ring=True)
            seen.add(here)
            feed = self.into(here, way_in)
            if feed is None:
                return Path(tuple(feeds), None)
            feeds.append(feed)
            here = feed.source
            way_in = self.entry(here)
        return Path(tuple(feeds), here)

    def source_of(self, tag: str, entry: str | None = None) -> str | None:
        """The source that feeds a piece, or one input of it, with all other selectors on normal."""
        return self.path(tag, entry).source

    def utility_of(self, tag: str) -> str | None:
        """The utility supply that feeds the piece with every selector on normal, or None."""
        source = self.source_of(tag)
        return source if source is not None and self.is_of(source, "utility_supply") else None

    def ahead(self, tag: str) -> tuple[str, ...]:
        """The pieces on the line ahead of this one in the plain walk, the nearest first, the source included."""
        return tuple(feed.source for feed in self.path(tag).feeds)

    def below(self, tag: str) -> tuple[str, ...]:
        """Every piece that is fed through this one in the plain walk, nearest first."""
        if tag not in self._below:
            self._below[tag] = self.downward(tag, lambda feed: feed.input == self.entry(feed.to))
        return self._below[tag]

    def downward(self, tag: str, follows: Callable[[Feed], bool]) -> tuple[str, ...]:
        """Every piece that is fed from this one through feeds that follow, nearest first."""
        found: dict[str, None] = {}
        waiting = [tag]
        while waiting:
            for feed in self.out_of(waiting.pop(0)):
                if follows(feed) and feed.to not in found and feed.to != tag:
                    found[feed.to] = None
                    waiting.append(feed.to)
        return tuple(found)

    def first_disconnecting(self, utility: str) -> tuple[str, ...]:
        """The first pieces past a utility supply that can disconnect, meters and the like passed over."""
        return tuple(
            tag
            for tag in self.below(utility)
            if self.is_of(tag, "disconnecting")
            and not any(self.is_of(other, "disconnecting") for other in self.ahead(tag))
        )

    # --- whatever the selectors do -----------------------------------------------------------------------------------

    def fed_in_any_way(self, tag: str) -> tuple[str, ...]:
        """Every piece that can be fed through this one, whatever the selectors do."""
        return self.downward(tag, lambda _feed: True)

    @cached_property
    def _reach(self) -> Mapping[str, tuple[str, ...]]:
        """Which sources can feed each piece in some position of the selectors: a fold over the inputs, linear in the
        feeds.
        """
        found: dict[str, dict[str, None]] = {tag: {} for tag in self.pieces}
        for source in self.of("source"):
            for tag in self.fed_in_any_way(source):
                found[tag][source] = None
        return {tag: tuple(sources) for tag, sources in found.items()}

    def sources_reaching(self, tag: str) -> tuple[str, ...]:
        """The sources that can feed a piece in some position of the selectors."""
        return self._reach[tag]

    def switches_fed(self, source: str) -> tuple[str, ...]:
        """The transfer switches that one source can feed."""
        return tuple(tag for tag in self.of("transfer_switch") if source in self.sources_reaching(tag))

    # --- lines in either direction -----------------------------------------------------------------------------------

    def legs(self, tag: str) -> tuple[Leg, ...]:
        """Every line at a piece, those that lead up first. Where nothing is drawn a line leads up to an open end, and
        another one does from a piece whose normal supply runs in a ring, since one line of that ring is drawn wrong.
        """
        if tag not in self._legs:
            self._legs[tag] = tuple(self._legs_at(tag)) if tag in self.pieces else ()
        return self._legs[tag]

    def _legs_at(self, tag: str) -> Iterator[Leg]:
        for entry in self.inputs(tag):
            yield Leg(self.into(tag, entry) or self._open(tag, entry), up=True)
        if self._in_ring(tag):
            yield Leg(self._open(tag, "ring"), up=True)
        for feed in self.out_of(tag):
            yield Leg(feed, up=False)

    def _open(self, tag: str, entry: str) -> Feed:
        piece = self.pieces[tag]
        end = NO_CORD if self._catalog.kinds[piece.type].feeding is Feeding.CORD else OPEN_END
        return Feed(end, None, tag, entry, self._site.things[piece].at)

    def _in_ring(self, tag: str) -> bool:
        path = self.path(tag)
        return path.ring and path.feeds[-1].source == tag

    def devices(self, feed: Feed) -> frozenset[str]:
        """The ways whose devices a line passes: where it leaves a piece, and where it lands on one."""
        if feed not in self._devices:
            self._devices[feed] = frozenset(self._devices_of(feed))
        return self._devices[feed]

    def _devices_of(self, feed: Feed) -> Iterator[str]:
        yield f"{feed.to}/{MAIN if feed.input == PLAIN else feed.input}"
        if feed.way is not None:
            yield f"{feed.source}/{feed.way}"
        if self.entry(feed.source) is not None:
            yield f"{feed.source}/{LOAD}"

    def hanging_with(self, tag: str, without: Feed | None = None) -> frozenset[str]:
        """Everything that hangs together with a piece by any lines, one of them taken out, whatever any device does."""
        found = {tag: None}
        waiting = [tag]
        while waiting:
            for leg in self.legs(waiting.pop()):
                if leg.feed != without and leg.end not in found:
                    found[leg.end] = None
                    waiting.append(leg.end)
        return frozenset(found)

    def ends_above(self, tag: str, entry: str) -> frozenset[str]:
        """The sources and open ends to which the line into one input leads up, whatever the selectors do."""
        first = self.into(tag, entry) or self._open(tag, entry)
        found = {first.source: None}
        waiting = [first.source]
        while waiting:
            for leg in self.legs(waiting.pop()):
                if leg.up and leg.end not in found:
                    found[leg.end] = None
                    waiting.append(leg.end)
        return frozenset(end for end in found if end in (OPEN_END, NO_CORD) or self.is_of(end, "source"))

    # --- order -------------------------------------------------------------------------------------------------------

    @cached_property
    def walk_order(self) -> Mapping[str, int]:
        """The place of each piece in a walk from the sources to the loads."""
        order: dict[str, int] = {}
        starts = [tag for tag in self.pieces if not self.inputs(tag) and self.out_of(tag)]
        for start in sorted(starts, key=lambda tag: not self.is_of(tag, "utility_supply")):
            for tag in (start, *self.below(start)):
                order.setdefault(tag, len(order))
        for tag in self.pieces:
            order.setdefault(tag, len(order))
        return order
