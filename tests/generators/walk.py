"""A plain walk of a drawing, written for the tests alone: nothing of ``checker.facts`` is used.

Every transfer switch stands on normal and every board with several feeds is on its first, unless it is said that any of
them may stand anywhere.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.catalog.model import Catalog, Feeding
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
        self._inputs = {tag: self._inputs_of(tag) for tag in kinds}
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
        """The inputs of a piece, the normal one first: the main of a board before its other ways, these by name."""
        return self._inputs[tag]

    def _inputs_of(self, tag: str) -> tuple[str, ...]:
        ways = {entry for to, entry in self._into if to == tag}
        if ways and self._catalog.kinds[self.kinds[tag]].feeding is Feeding.SEVERAL:
            return tuple(sorted(ways, key=lambda entry: (entry != "main", entry)))
        return self._catalog.kinds[self.kinds[tag]].feeding.inputs

    def into(self, tag: str, entry: str) -> Feed | None:
        return self._into.get((tag, entry))

    def line(self, tag: str, entry: str | None = None) -> Line:
        """The line up from a piece, through the given input of it, every switch on normal."""
        feeds: list[Feed] = []
        while True:
            inputs = self.inputs(tag)
            if not inputs:
                return Line(tuple(feeds), tag)
            feed = self.into(tag, entry or inputs[0])
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
        """The sources that can feed a piece, whatever the switches do."""
        feeds = [feed for entry in self.inputs(tag) if (feed := self.into(tag, entry)) is not None]
        above = {feed.source for feed in feeds}
        sources = frozenset(tag for tag in above if not self.inputs(tag))
        return sources.union(*(self.reaching(tag) for tag in above))
