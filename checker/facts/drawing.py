"""The drawing as a graph, with what follows from kinds, tags and feeding alone.

These are always exact, so that everything here is certain. A piece that can be fed in more than one way (a transfer
switch, a board with several feeds) is a *selector*; in the plain walk every selector is on its normal input.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from checker.catalog.model import Catalog
from checker.site.model import Feed, Site, Subject

NORMAL, ALTERNATE = "normal", "alternate"
MAIN, PLAIN = "main", "fed_from"
_NOT_REVIEWED = ("to_be_removed", "future")
_DIGITS = re.compile(r"([0-9]+)")

MOST_ROUTES = 64
"""Ways from one place up to sources that are looked at one by one; with more, what hangs on them is not decided."""


@dataclass(frozen=True, slots=True)
class Path:
    """The feeds from one place up to a source, the nearest first. ``source`` is None where the line ends or runs in a
    ring.
    """

    feeds: tuple[Feed, ...]
    source: str | None
    ring: bool = False


def in_order(tag: str) -> tuple[tuple[str, int], ...]:
    """The place of a tag, or of a name made of tags, among others, numbers by size: P2 comes before P10."""
    pieces = _DIGITS.split(tag)
    words, numbers = pieces[::2], pieces[1::2]
    return (*zip(words, (*(int(each) for each in numbers), -1), strict=True), (tag, 0))


def _is_set_aside(site: Site, piece: Subject) -> bool:
    status = site.stated(piece, "status")
    return status is not None and status.value.atom in _NOT_REVIEWED


class Drawing:
    """Pieces and feeds of one site.

    Pieces that are to be removed or planned for later are set aside, with the feeds from and to them. Everything is in
    the order of the tags, so that nothing that is said of a drawing depends on the order of its file.
    """

    def __init__(self, site: Site, catalog: Catalog) -> None:
        self._catalog = catalog
        tags = sorted(site.pieces, key=in_order)
        self.set_aside: tuple[str, ...] = tuple(tag for tag in tags if _is_set_aside(site, site.pieces[tag]))
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
        return self._inputs[tag]

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

    def routes(self, tag: str, entry: str) -> tuple[Path, ...] | None:
        """Every way from one input of a piece up to a source, whatever the selectors do; None where there are too
        many.
        """
        found: list[Path] = []
        for route in self._routes(tag, entry, ()):
            found.append(route)
            if len(found) > MOST_ROUTES:
                return None
        return tuple(found)

    def _routes(self, tag: str, entry: str, behind: tuple[Feed, ...]) -> Iterator[Path]:
        feed = self.into(tag, entry)
        if feed is None or any(feed.source in (other.to, other.source) for other in behind):
            return
        feeds = (*behind, feed)
        inputs = self.inputs(feed.source)
        if not inputs and self.is_of(feed.source, "source"):
            yield Path(feeds, feed.source)
        for following in inputs:
            yield from self._routes(feed.source, following, feeds)

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
