"""The layout in millimetres: symbols, lines, leaders and text, each with the room it takes."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from checker.report.drawing.layout import Layout, Place, Wire
from checker.report.drawing.symbols import HALF_HEIGHT, HALF_WIDTH, MODULE, Family, Symbol

LANE = 6 * MODULE
"""From one lane to the next."""
MARGIN = 4 * MODULE
LINE_HEIGHT = 4.4
TEXT_SIZE = 3.4
LETTER = 0.62 * TEXT_SIZE
"""The widest that a letter of the gutter is on average; the page sets them in a plain face of this size."""
GUTTER_LETTERS = 46
ROW_GAP = 2 * MODULE
ENTRIES = (0.0, 3.5, -3.5, 1.75, -1.75)
"""Where lines come into a piece, in their order, from its middle; the second is the other side of a switch."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Box:
    """Room on the sheet."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Whether the two share more than an edge."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom


@dataclass(frozen=True, slots=True)
class Drawn:
    """A symbol at its middle."""

    place: Place
    symbol: Symbol
    at: Point

    @property
    def box(self) -> Box:
        """The room of the symbol without the ends of its lines."""
        x, y = self.at
        return Box(x - HALF_WIDTH, y + self.symbol.top, x + HALF_WIDTH, y + self.symbol.bottom)


@dataclass(frozen=True, slots=True)
class Polyline:
    """A line from piece to piece through these points."""

    wire: Wire
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Text:
    """A line of the gutter, by its left end on the base line."""

    tag: str
    words: str
    at: Point
    strong: bool

    @property
    def box(self) -> Box:
        """The room that it takes at the most."""
        x, y = self.at
        return Box(x, y - TEXT_SIZE, x + LETTER * len(self.words), y + 0.25 * TEXT_SIZE)


@dataclass(frozen=True, slots=True)
class Leader:
    """A thin line from a symbol to its row in the gutter."""

    tag: str
    start: Point
    end: Point


@dataclass(frozen=True, slots=True)
class Sheet:
    """Everything that is drawn, in mm."""

    width: float
    height: float
    symbols: tuple[Drawn, ...]
    lines: tuple[Polyline, ...]
    joints: tuple[Point, ...]
    leaders: tuple[Leader, ...]
    texts: tuple[Text, ...]


def drawn(layout: Layout, family: Family, words: Mapping[str, Sequence[str]]) -> Sheet:
    """The sheet of a layout in one family of symbols; ``words`` holds the lines of the gutter by tag, the first of them
    the name.
    """
    heights = [_height(words.get(place.tag, ())) for place in layout.places.values()]
    middles = _middles(heights)
    at = {place.tag: (_lane(place.lane), middles[place.row]) for place in layout.places.values()}
    symbols = tuple(Drawn(place, family.of(place.kind), at[place.tag]) for place in layout.places.values())
    gutter = _lane(layout.lanes) + MODULE
    lines = tuple(_line(wire, layout, {each.place.tag: each for each in symbols}) for wire in layout.wires)
    texts = tuple(text for each in symbols for text in _texts(each, words.get(each.place.tag, ()), gutter))
    leaders = tuple(_leader(each, gutter) for each in symbols if words.get(each.place.tag))
    width = gutter + LETTER * GUTTER_LETTERS + MARGIN if any(words.values()) else _lane(layout.lanes - 1) + MARGIN
    return Sheet(width, MARGIN + sum(heights), symbols, lines, tuple(_joints(layout, lines)), leaders, texts)


def _joints(layout: Layout, lines: Sequence[Polyline]) -> Iterator[Point]:
    """Where a line turns off into a lane of its own from another of the same piece."""
    for line in lines:
        beside = any(each.wire.source == line.wire.source for each in lines if each is not line)
        if beside and layout.places[line.wire.source].lane != line.wire.lane:
            yield line.points[1]


def _lane(lane: int) -> float:
    return MARGIN + HALF_WIDTH + lane * LANE


def _height(words: Sequence[str]) -> float:
    return max(2 * HALF_HEIGHT, LINE_HEIGHT * len(words)) + 2 * ROW_GAP


def _middles(heights: Iterable[float]) -> list[float]:
    middles, top = [], MARGIN / 2
    for height in heights:
        middles.append(top + height / 2)
        top += height
    return middles


def _line(wire: Wire, layout: Layout, symbols: Mapping[str, Drawn]) -> Polyline:
    """Down from the piece, across to the lane, down the lane, and across to the entry."""
    source, to = symbols[wire.source], symbols[wire.to]
    lane = _lane(wire.lane)
    (x, y), (into, below) = source.at, to.at
    entry = into + _entry(wire, layout.wires)
    start, end = y + source.symbol.bottom, below + to.symbol.top
    leave = y + HALF_HEIGHT + ROW_GAP * _share(wire, layout.wires, lambda each: each.source)
    arrive = below - HALF_HEIGHT - ROW_GAP * _share(wire, layout.wires, lambda each: each.to)
    points = [(x, start), (x, leave), (lane, leave), (lane, arrive), (entry, arrive), (entry, end)]
    return Polyline(wire, _straightened(points))


def _entry(wire: Wire, wires: Sequence[Wire]) -> float:
    """Where a line comes into its piece, from the middle of it; more lines than there are places for are spread."""
    number = sum(each.to == wire.to for each in wires)
    if number <= len(ENTRIES):
        return ENTRIES[wire.entry]
    return HALF_WIDTH * (2 * wire.entry / (number - 1) - 1)


def _share(wire: Wire, wires: Sequence[Wire], of: Callable[[Wire], str]) -> float:
    """How far between two rows a line turns aside, so that no two lines of a piece turn on the same height."""
    own = [each for each in wires if of(each) == of(wire)]
    return (own.index(wire) + 1) / (len(own) + 1)


def _straightened(points: Sequence[Point]) -> tuple[Point, ...]:
    """The points at which a line turns, and its ends."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1] == point:
            continue
        if len(kept) > 1 and (kept[-2][0] == kept[-1][0] == point[0] or kept[-2][1] == kept[-1][1] == point[1]):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def _texts(symbol: Drawn, words: Sequence[str], gutter: float) -> Iterable[Text]:
    first = symbol.at[1] - LINE_HEIGHT * (len(words) - 1) / 2 + TEXT_SIZE / 3
    for place, line in enumerate(words):
        yield Text(symbol.place.tag, line, (gutter, first + place * LINE_HEIGHT), strong=place == 0)


def _leader(symbol: Drawn, gutter: float) -> Leader:
    x, y = symbol.at
    return Leader(symbol.place.tag, (x + HALF_WIDTH, y), (gutter - MODULE / 2, y))
