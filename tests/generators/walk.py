"""A plain walk of a drawing, written for the tests alone: nothing of ``checker.facts`` is used.

Every transfer switch stands on normal, but for one that may stand on alternate.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.catalog.model import Catalog
from checker.site.model import Feed

NORMAL, ALTERNATE = "normal", "alternate"


@dataclass(frozen=True, slots=True)
class Line:
    """The feeds from a place up to its source, the nearest first; ``source`` is None where nothing feeds the line."""

    feeds: tuple[Feed, ...]
    source: str | None


class Walk:
    """A drawing as feeds between tags; ``kinds`` is the kind of each tag."""

    def __init__(self, feeds: Sequence[Feed], kinds: Mapping[str, str], catalog: Catalog) -> None:
        self.kinds = kinds
        self._catalog = catalog
        self._into = {(feed.to, feed.input): feed for feed in feeds}
        self._from: dict[str, list[Feed]] = {}
        for feed in feeds:
            self._from.setdefault(feed.source, []).append(feed)

    def is_of(self, tag: str, group: str) -> bool:
        return self.kinds[tag] in self._catalog.kinds_of(group)

    def has_ways(self, tag: str) -> bool:
        return self._catalog.kinds[self.kinds[tag]].has_ways

    def of(self, group: str) -> tuple[str, ...]:
        return tuple(tag for tag in self.kinds if self.is_of(tag, group))

    def inputs(self, tag: str) -> tuple[str, ...]:
        return self._catalog.kinds[self.kinds[tag]].feeding.inputs

    def into(self, tag: str, entry: str) -> Feed | None:
        return self._into.get((tag, entry))

    def line(self, tag: str, entry: str | None = None, on_alternate: str | None = None) -> Line:
        """The line up from a piece, through the given input of it."""
        feeds: list[Feed] = []
        while True:
            inputs = self.inputs(tag)
            if not inputs:
                return Line(tuple(feeds), tag)
            usual = ALTERNATE if tag == on_alternate and ALTERNATE in inputs else inputs[0]
            feed = self.into(tag, entry or usual)
            if feed is None:
                return Line(tuple(feeds), None)
            feeds.append(feed)
            tag, entry = feed.source, None

    def ahead(self, tag: str) -> tuple[str, ...]:
        """The pieces ahead, the nearest first, the source included."""
        return tuple(feed.source for feed in self.line(tag).feeds)

    def utility(self, tag: str) -> str | None:
        """The utility supply that feeds a piece, or None."""
        source = self.line(tag).source
        return source if source is not None and self.is_of(source, "utility_supply") else None

    def below(self, tag: str) -> tuple[str, ...]:
        """The pieces fed through this one, each after the one that feeds it."""
        found: list[str] = []
        for feed in self._from.get(tag, ()):
            if feed.input == self.inputs(feed.to)[0]:
                found += (feed.to, *self.below(feed.to))
        return tuple(found)

    def reaching(self, tag: str) -> frozenset[str]:
        """The sources that can feed a piece with at most one switch on alternate, or through either side of itself."""
        switches = (None, *self.of("transfer_switch"))
        lines = [self.line(tag, on_alternate=switch) for switch in switches]
        lines += [self.line(tag, entry) for entry in self.inputs(tag)]
        return frozenset(line.source for line in lines if line.source is not None and line.source != tag)
