"""Random one-line drawings: pieces and what feeds them, without their facts.

Feeds only lead from a piece that was drawn before, or that is not fed through the board to which they are added, so
that no drawing has a ring.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from checker.catalog.model import Catalog
from checker.site.model import Feed
from checker.values.positions import Position
from tests.generators.choosing import Chooser
from tests.generators.walk import ALTERNATE, NORMAL

FILE = "site.yaml"

_PREFIXES: Mapping[str, str] = {
    "utility_supply": "UTIL", "meter": "M", "disconnect": "D", "transfer_switch": "ATS", "panelboard": "P",
    "switchboard": "SB", "transformer": "T", "generator": "GEN", "inverter": "INV", "inlet": "INL",
    "surge_protective_device": "SPD", "stop": "STOP", "load_manager": "LM",
    "gas_meter": "GM", "gas_regulator": "REG", "fuel_tank": "TANK",
}  # fmt: skip
_DEEPEST = 3
"""Boards and the like below one another."""

_MOST_SEVERAL = 5
"""Lines by which boards with several feeds are fed; a second implementation looks at every choice of them."""


@dataclass(slots=True)
class Sheet:
    """A drawing under way. ``lines`` counts the lines of the file that is not there, so that positions differ."""

    catalog: Catalog
    kinds: dict[str, str] = field(default_factory=dict)
    feeds: list[Feed] = field(default_factory=list)
    lines: int = 0

    def place(self) -> Position:
        """A place in the file that no other thing has."""
        self.lines += 1
        return Position(FILE, self.lines, 1)

    def add(self, kind: str) -> str:
        """A new piece; its tag."""
        prefix = _PREFIXES.get(kind, kind.upper())
        tag = f"{prefix}{1 + sum(other == kind for other in self.kinds.values())}"
        self.kinds[tag] = kind
        return tag

    def feed(self, choose: Chooser, source: str, to: str, entry: str) -> None:
        """A feed from a piece, perhaps by a way with a name."""
        named = self.catalog.kinds[self.kinds[source]].has_ways and choose.chance(60)
        way = str(1 + sum(feed.source == source for feed in self.feeds)) if named else None
        self.feeds.append(Feed(source, way, to, entry, self.place()))

    def of(self, group: str) -> list[str]:
        """The pieces of a kind or group."""
        return [tag for tag, kind in self.kinds.items() if kind in self.catalog.kinds_of(group)]

    def past(self, tag: str) -> frozenset[str]:
        """Everything that can be fed through a piece, the piece itself included."""
        return frozenset({tag}).union(*(self.past(feed.to) for feed in self.feeds if feed.source == tag))


def sketched(choose: Chooser, catalog: Catalog) -> Sheet:
    """A drawing with one to four transfer switches and one to three sets."""
    sheet = Sheet(catalog)
    utilities = [sheet.add("utility_supply") for _ in range(2 if choose.chance(15) else 1)]
    sets = [sheet.add("generator") for _ in range(choose.whole(1, 3))]
    sources = [*sets, *([sheet.add("inverter")] if choose.chance(12) else [])]
    points = [point for utility in utilities for point in _service(choose, sheet, utility)]
    points += _switches(choose, sheet, points, [*sources, *(utilities[1:])])
    _boards(choose, sheet, points)
    _others(choose, sheet, sets)
    if choose.chance(30):
        sheet.kinds = {tag: sheet.kinds[tag] for tag in choose.shuffled(list(sheet.kinds))}
    if choose.chance(4):
        sheet.feeds.pop(choose.whole(0, len(sheet.feeds) - 1))
    return sheet


def _service(choose: Chooser, sheet: Sheet, utility: str) -> list[str]:
    """A meter and what stands between it and the switches; the pieces from which more can be fed."""
    points, here = [], utility
    for kind in ("meter", choose.one(["disconnect", "panelboard", "switchboard", "transformer"]), "disconnect"):
        if choose.chance(60 if kind == "meter" else 35):
            piece = sheet.add(kind)
            sheet.feed(choose, here, piece, "fed_from")
            points.append(piece)
            here = piece
    return points or [utility]


def _switches(choose: Chooser, sheet: Sheet, points: list[str], sources: list[str]) -> list[str]:
    """Transfer switches: behind the service, behind one another, several on one set, chains of three sources."""
    switches: list[str] = []
    for _ in range(choose.whole(1, 4)):
        switch = sheet.add("transfer_switch")
        normal = choose.one(sources) if choose.chance(8) else choose.one([points[-1], *points, *switches])
        alternate = choose.one(switches) if switches and choose.chance(20) else choose.one([sources[0], *sources])
        if sheet.kinds[alternate] == "generator" and choose.chance(10):
            alternate = _inlet(choose, sheet, alternate)
        sheet.feed(choose, normal, switch, NORMAL)
        sheet.feed(choose, alternate, switch, ALTERNATE)
        switches.append(switch)
    return switches


def _inlet(choose: Chooser, sheet: Sheet, source: str) -> str:
    inlet = sheet.add("inlet")
    sheet.feed(choose, source, inlet, "fed_from")
    return inlet


def _boards(choose: Chooser, sheet: Sheet, points: list[str]) -> None:
    """Boards, disconnects and transformers below the switches and the service."""
    depth = dict.fromkeys(points, 0)
    for _ in range(choose.whole(0, 4)):
        above = choose.one([tag for tag, deep in depth.items() if deep < _DEEPEST])
        kinds = ["panelboard", "panelboard", "switchboard", "disconnect", "transformer"]
        piece = sheet.add(choose.one(kinds))
        sheet.feed(choose, above, piece, "fed_from")
        depth[piece] = depth[above] + 1


def _others(choose: Chooser, sheet: Sheet, sets: list[str]) -> None:
    """Pieces that stand beside the line."""
    for kind in ("stop", "surge_protective_device", "load_manager"):
        for _ in range(choose.whole(0, 2) if choose.chance(50) else 0):
            sheet.add(kind)
    for kind in ("gas_meter", "gas_regulator", "fuel_tank"):
        if choose.chance(20):
            sheet.add(kind)
    if choose.chance(6):
        _inlet(choose, sheet, choose.one(sets))


# --- several feeds, cords that are out -------------------------------------------------------------------------------


def with_more_feeds(choose: Chooser, sheet: Sheet) -> None:
    """Feeds boards by several ways, and takes cords out of inlets."""
    for board in sheet.of("board"):
        if choose.chance(40):
            _feed_by_ways(choose, sheet, board)
    for inlet in sheet.of("inlet"):
        if choose.chance(25):
            sheet.feeds = [feed for feed in sheet.feeds if feed.to != inlet]


def _feed_by_ways(choose: Chooser, sheet: Sheet, board: str) -> None:
    """The feed of a board comes by its main, or by a way as the others do, which come after it."""
    first = "main" if choose.chance(80) else "40"
    sheet.feeds = [replace(feed, input=first) if feed.to == board else feed for feed in sheet.feeds]
    for entry in ("41", "42")[: choose.whole(1, 2)]:
        if sum(feed.to in sheet.of("board") and feed.input != "fed_from" for feed in sheet.feeds) < _MOST_SEVERAL:
            _feed_by_way(choose, sheet, board, entry)


def _feed_by_way(choose: Chooser, sheet: Sheet, board: str, entry: str) -> None:
    """One more feed: a set, an inlet with or without a cord, another line, and now and then a utility."""
    if choose.chance(25):
        inlet = sheet.add("inlet")
        if choose.chance(50):
            sheet.feed(choose, choose.one(sheet.of("generator")), inlet, "fed_from")
        sheet.feed(choose, inlet, board, entry)
        return
    lines = [tag for tag in sheet.of("line_equipment") if tag not in sheet.past(board)]
    sources = [*sheet.of("generator"), *lines]
    sheet.feed(choose, choose.one([*sources, *sheet.of("source")] if choose.chance(15) else sources), board, entry)
