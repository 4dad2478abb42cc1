"""What feeds what: references to pieces and their ways, and the connections that they make."""

from __future__ import annotations

from dataclasses import dataclass

from checker.catalog.model import Catalog, Feeding, Kind
from checker.catalog.names import SIDES, feed_reference
from checker.files.yaml.tree import Entry, Mapping, Scalar, Sequence
from checker.site.drawing import Drawing
from checker.site.model import PLAIN_INPUT, DrawingNotice, Feed
from checker.site.pieces import Piece, Pieces, tags_remedy
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import with_article
from checker.site.ways import Ways
from checker.values.positions import Position
from checker.values.refusals import quoted

INPUTS = (PLAIN_INPUT, *SIDES)
"""Every key that says what feeds a piece."""

_ONE_TAG = "Write fed_from: and the tag of what feeds it."
_REMEDY: dict[Feeding, str] = {
    Feeding.ONE: _ONE_TAG,
    Feeding.CORD: _ONE_TAG,
    Feeding.SEVERAL: _ONE_TAG,
    Feeding.BOTH_SIDES: "Write normal: and alternate:, each with the tag of what feeds that side.",
    Feeding.NOTHING: "Take it out.",
}


@dataclass(frozen=True, slots=True)
class _Reference:
    source: str
    way: str | None
    at: Position


class FeedReader:
    """Makes the connections of a drawing."""

    def __init__(self, catalog: Catalog, pieces: Pieces, ways: Ways, drawing: Drawing, problems: ProblemList) -> None:
        self._catalog = catalog
        self._pieces = pieces
        self._ways = ways
        self._drawing = drawing
        self._problems = problems
        self._sources = frozenset(catalog.kinds_of("source"))

    def read(self) -> None:
        """Add every connection, and a notice for every input that nothing feeds."""
        self._note_ways_in()
        for piece in self._pieces.values():
            if piece.kind is None:
                continue
            by_key = _inputs_of(piece)
            for name in by_key.keys() - set(piece.kind.feeding.inputs):
                self._tell_wrong_input(piece, by_key[name])
            for name in piece.kind.feeding.inputs:
                self._read_input(piece, piece.kind, name, by_key.get(name))

    def _note_ways_in(self) -> None:
        """First of all: by a way that feeds its board nothing can leave, wherever that is written."""
        for piece in self._pieces.values():
            entry = _inputs_of(piece).get(PLAIN_INPUT)
            if entry is not None and isinstance(entry.value, Mapping):
                self._ways.feed_by(piece, (way.key for way in entry.value.entries))

    def _tell_wrong_input(self, piece: Piece, entry: Entry) -> None:
        assert piece.kind is not None
        one = with_article(piece.kind.title)
        if piece.kind.feeding is Feeding.NOTHING:
            sentence = f"{piece.tag} is {one} and is fed by nothing on the drawing."
        elif piece.kind.feeding is Feeding.BOTH_SIDES:
            sentence = f"{piece.tag} is {one} and is fed on two sides."
        else:
            sentence = f"{piece.tag} is {one} and has no side {entry.key}."
        self._problems.add(sentence, entry.at, _REMEDY[piece.kind.feeding])

    def _read_input(self, piece: Piece, kind: Kind, name: str, entry: Entry | None) -> None:
        if entry is None:
            if kind.feeding is not Feeding.CORD:
                self._drawing.notices.append(_orphan(piece, name))
        elif isinstance(entry.value, Mapping):
            self._read_feeds(piece, kind, entry, entry.value)
        else:
            self._read_feed(piece, name, entry, name)

    def _read_feeds(self, piece: Piece, kind: Kind, entry: Entry, feeds: Mapping) -> None:
        """Several feeds of a board, each by a way of its own."""
        if kind.feeding is not Feeding.SEVERAL:
            what = "is fed by one line" if entry.key == PLAIN_INPUT else "has one line to each side"
            sentence = f"{piece.tag} is {with_article(kind.title)} and {what}; only a board is fed by several ways."
            self._problems.add(sentence, feeds.at, f"Write {entry.key}: and the tag of what feeds it.")
        elif not feeds.entries:
            remedy = "Write fed_from: M1, or fed_from: {main: M1, 7: INLET1}."
            self._problems.add(f"fed_from of {piece.tag} names no feed.", feeds.at, remedy)
        for way in feeds.entries:
            if kind.feeding is Feeding.SEVERAL and self._ways.comes_in(piece, way):
                self._read_feed(piece, way.key, way, f"Way {way.key} of {piece.tag}")

    def _read_feed(self, piece: Piece, name: str, entry: Entry, where: str) -> None:
        """One connection into the input of that name; ``where`` is how a person calls it."""
        reference = self._reference(entry, where)
        if reference is None or not self._can_feed(reference):
            return
        feed = Feed(reference.source, reference.way, piece.tag, name, reference.at)
        if reference.way is None:
            self._notice_unnamed_way(feed)
        self._drawing.feeds.append(feed)
        self._drawing.add(feed.subject, feed.at, {})

    def _notice_unnamed_way(self, feed: Feed) -> None:
        """A piece that lists its ways has a device in each; a feed that names none of them stands behind no device."""
        listed = self._ways.outgoing(feed.source)
        if listed:
            sentence = (
                f"{feed.to} is fed from {feed.source}, which lists ways, and the feed names none of them, so that "
                f"it is not known which device stands ahead. Write {feed.source}/{listed[0]}"
                f"{'' if len(listed) == 1 else ', or another of its ways'}."
            )
            self._drawing.notices.append(DrawingNotice(sentence, feed.at, (feed.source, feed.to)))

    def _reference(self, entry: Entry, where: str) -> _Reference | None:
        if isinstance(entry.value, Sequence):
            remedy = "A piece, a side of a switch, or a way of a board is fed once: name one."
            self._problems.add(f"{where} names more than one piece.", entry.value.at, remedy)
            return None
        text = entry.value.text.strip() if isinstance(entry.value, Scalar) else ""
        match = feed_reference(text)
        if match is None or text in ("unknown", "none"):
            sentence = f"{where}: {quoted(text)} does not name one piece."
            remedy = "What feeds a piece is always exact: write a tag, as P1, or a way of it, as P1/3."
            self._problems.add(sentence, entry.value.at, remedy)
            return None
        return _Reference(match[1], match[2], entry.value.at)

    def _can_feed(self, reference: _Reference) -> bool:
        source = self._pieces.get(reference.source)
        if source is None:
            near = self._problems.near(reference.source, self._pieces)
            sentence = f"There is no piece {reference.source} on the drawing."
            self._problems.add(sentence, reference.at, tags_remedy(self._pieces), near)
            return False
        if source.kind is None:
            return False
        if source.kind.feeding is Feeding.NOTHING and source.kind.name not in self._sources:
            sentence = f"{source.tag} is {with_article(source.kind.title)} and feeds nothing."
            self._problems.add(sentence, reference.at, "Name what feeds it.")
            return False
        return reference.way is None or self._ways.leaves(source, reference.way, reference.at)


def _inputs_of(piece: Piece) -> dict[str, Entry]:
    """What the piece says of how it is fed."""
    return {entry.key: entry for entry in piece.entries if entry.key in INPUTS}


def _orphan(piece: Piece, name: str) -> DrawingNotice:
    where = piece.tag if name == PLAIN_INPUT else f"The side {name} of {piece.tag}"
    return DrawingNotice(f"{where} is fed by nothing on the drawing.", piece.at, (piece.tag,))
