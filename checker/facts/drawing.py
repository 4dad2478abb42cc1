"""The drawing as a graph, and the plain walk of it.

The plain walk looks at the line with every transfer switch on normal, and again with one switch on alternate. It
needs only kinds, tags and feeding, which are always exact, so that everything here is certain.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

from checker.catalog.model import Catalog, Feeding
from checker.site.model import Feed, Site, Subject

NORMAL, ALTERNATE = "normal", "alternate"
ALL_ON_NORMAL = "every switch on normal"

_DIGITS = re.compile(r"([0-9]+)")


def in_order(tag: str) -> tuple[tuple[str, int], ...]:
    """The place of a tag, or of a name made of tags, among others, numbers by size: P2 comes before P10."""
    pieces = _DIGITS.split(tag)
    words, numbers = pieces[::2], pieces[1::2]
    return (*zip(words, (*(int(each) for each in numbers), -1), strict=True), (tag, 0))


def _is_set_aside(site: Site, piece: Subject) -> bool:
    status = site.stated(piece, "status")
    return status is not None and status.value.atom in _NOT_REVIEWED


@dataclass(frozen=True, slots=True)
class Path:
    """The feeds from one place up to a source, the nearest first. ``source`` is None where the line ends or runs in a
    ring.
    """

    feeds: tuple[Feed, ...]
    source: str | None
    ring: bool = False


_NOT_REVIEWED = ("to_be_removed", "future")


class Drawing:
    """Pieces and feeds of one site, with what follows from them alone.

    Pieces that are to be removed or planned for later are set aside, with the feeds from and to them. Everything is in
    the order of the tags, so that nothing that is said of a drawing depends on the order in which its file was
    written.
    """

    def __init__(self, site: Site, catalog: Catalog) -> None:
        self._catalog = catalog
        self.set_aside: tuple[str, ...] = tuple(
            tag for tag in sorted(site.pieces, key=in_order) if _is_set_aside(site, site.pieces[tag])
        )
        self.pieces: Mapping[str, Subject] = {
            tag: site.pieces[tag] for tag in sorted(site.pieces, key=in_order) if tag not in self.set_aside
        }
        self.feeds: tuple[Feed, ...] = tuple(
            feed
            for feed in sorted(site.feeds, key=lambda each: in_order(each.subject.id))
            if feed.source not in self.set_aside and feed.to not in self.set_aside
        )
        self._into: dict[tuple[str, str], Feed] = {(feed.to, feed.input): feed for feed in self.feeds}
        self._out: dict[str, list[Feed]] = {}
        for feed in self.feeds:
            self._out.setdefault(feed.source, []).append(feed)
        self._paths: dict[tuple[str, str | None, str | None], Path] = {}
        self._below: dict[str, tuple[str, ...]] = {}

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
        """The inputs of a piece: none for a source, both sides for a transfer switch, otherwise one."""
        feeding: Feeding = self._catalog.kinds[self.pieces[tag].type].feeding
        return feeding.inputs

    def into(self, tag: str, entry: str) -> Feed | None:
        """The feed into one input of a piece."""
        return self._into.get((tag, entry))

    def out_of(self, tag: str) -> tuple[Feed, ...]:
        """The feeds that leave a piece, in the order of the tags."""
        return tuple(self._out.get(tag, ()))

    def entry(self, tag: str, on_alternate: str | None = None) -> str | None:
        """The input through which a piece is fed: a switch is on normal unless it is the one on alternate."""
        inputs = self.inputs(tag)
        if not inputs:
            return None
        return ALTERNATE if tag == on_alternate and ALTERNATE in inputs else inputs[0]

    def path(self, tag: str, entry: str | None = None, on_alternate: str | None = None) -> Path:
        """The line from a piece up to its source, from the given input, with one switch on alternate if named."""
        key = (tag, entry, on_alternate)
        found = self._paths.get(key)
        if found is None:
            found = self._paths[key] = self._walked_up(tag, entry or self.entry(tag, on_alternate), on_alternate)
        return found

    def _walked_up(self, tag: str, entry: str | None, on_alternate: str | None) -> Path:
        feeds: list[Feed] = []
        seen: set[str] = set()
        here, way_in = tag, entry
        while way_in is not None:
            if here in seen:
                return Path(tuple(feeds), None, ring=True)
            seen.add(here)
            feed = self.into(here, way_in)
            if feed is None or feed.source not in self.pieces:
                return Path(tuple(feeds), None)
            feeds.append(feed)
            here = feed.source
            way_in = self.entry(here, on_alternate)
        return Path(tuple(feeds), here)

    def source_of(self, tag: str, entry: str | None = None) -> str | None:
        """The source that feeds a piece, or one side of a switch, with all other switches on normal."""
        return self.path(tag, entry).source

    def utility_of(self, tag: str) -> str | None:
        """The utility supply that feeds the piece with every switch on normal, or None."""
        source = self.source_of(tag)
        return source if source is not None and self.is_of(source, "utility_supply") else None

    def ahead(self, tag: str) -> tuple[str, ...]:
        """The pieces on the line ahead of this one with every switch on normal, the nearest first, the source
        included.
        """
        return tuple(feed.source for feed in self.path(tag).feeds)

    @cached_property
    def states(self) -> tuple[tuple[str, str | None], ...]:
        """The states that are walked: a name, and the switch that is on alternate."""
        switches = (tag for tag in self.pieces if ALTERNATE in self.inputs(tag))
        return ((ALL_ON_NORMAL, None), *((f"{tag} on alternate, all others on normal", tag) for tag in switches))

    @cached_property
    def _reach(self) -> Mapping[str, tuple[str, ...]]:
        """Which sources can feed each piece in one of the walked states."""
        found: dict[str, dict[str, None]] = {tag: {} for tag in self.pieces}
        for _, switch in self.states:
            for tag in self.pieces:
                source = self.path(tag, on_alternate=switch).source
                if source is not None and source != tag:
                    found[tag][source] = None
        for tag in self.pieces:
            for entry in self.inputs(tag):
                source = self.path(tag, entry).source
                if source is not None:
                    found[tag][source] = None
        return {tag: tuple(sources) for tag, sources in found.items()}

    def sources_reaching(self, tag: str) -> tuple[str, ...]:
        """The sources that can feed a piece in one of the walked states, both sides of a switch included."""
        return self._reach[tag]

    def switches_fed(self, source: str) -> tuple[str, ...]:
        """The transfer switches that one source can feed."""
        return tuple(tag for tag in self.of("transfer_switch") if source in self.sources_reaching(tag))

    def below(self, tag: str) -> tuple[str, ...]:
        """Every piece that is fed through this one with every switch on normal, nearest first."""
        if tag not in self._below:
            self._below[tag] = self._walked_down(tag)
        return self._below[tag]

    def _walked_down(self, tag: str) -> tuple[str, ...]:
        found: dict[str, None] = {}
        waiting = [tag]
        while waiting:
            for feed in self.out_of(waiting.pop(0)):
                on_the_line = feed.to in self.pieces and feed.input == self.entry(feed.to)
                if on_the_line and feed.to not in found and feed.to != tag:
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
