"""What feeds what: references to pieces and their ways, and the connections that they make."""

from __future__ import annotations

from dataclasses import dataclass

from checker.catalog.model import Catalog, Feeding
from checker.catalog.names import BUILT_IN_WAYS, feed_reference
from checker.files.tree import Entry, Scalar, Sequence
from checker.site.drawing import Drawing
from checker.site.model import DrawingNotice, Feed, Subject
from checker.site.pieces import Piece, Pieces, tags_remedy
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import with_article
from checker.values.positions import Position
from checker.values.refusals import quoted

INPUTS = ("fed_from", "normal", "alternate")
"""Every key that says what feeds a piece."""

_REMEDY: dict[Feeding, str] = {
    Feeding.ONE: "Write fed_from: and the tag of what feeds it.",
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

    def __init__(self, catalog: Catalog, pieces: Pieces, drawing: Drawing, problems: ProblemList) -> None:
        self._catalog = catalog
        self._pieces = pieces
        self._drawing = drawing
        self._problems = problems
        self._sources = frozenset(catalog.kinds_of("source"))

    def read(self) -> None:
        """Add every connection, and a notice for every input that nothing feeds."""
        for piece in self._pieces.values():
            if piece.kind is None:
                continue
            by_key = {entry.key: entry for entry in piece.entries if entry.key in INPUTS}
            for name in by_key.keys() - set(piece.kind.feeding.inputs):
                self._tell_wrong_input(piece, by_key[name])
            for name in piece.kind.feeding.inputs:
                self._read_input(piece, name, by_key.get(name))

    def _tell_wrong_input(self, piece: Piece, entry: Entry) -> None:
        assert piece.kind is not None
        one = with_article(piece.kind.title)
        sentence = {
            Feeding.NOTHING: f"{piece.tag} is {one} and is fed by nothing on the drawing.",
            Feeding.ONE: f"{piece.tag} is {one} and has no side {entry.key}.",
            Feeding.BOTH_SIDES: f"{piece.tag} is {one} and is fed on two sides.",
        }[piece.kind.feeding]
        self._problems.add(sentence, entry.at, _REMEDY[piece.kind.feeding])

    def _read_input(self, piece: Piece, name: str, entry: Entry | None) -> None:
        if entry is None:
            self._drawing.notices.append(_orphan(piece, name))
            return
        reference = self._reference(entry)
        if reference is None or not self._can_feed(reference):
            return
        feed = Feed(reference.source, reference.way, piece.tag, name, reference.at)
        if reference.way is None:
            self._notice_unnamed_way(feed)
        self._drawing.feeds.append(feed)
        self._drawing.add(feed.subject, feed.at, {})

    def _notice_unnamed_way(self, feed: Feed) -> None:
        """A piece that lists its ways has a device in each; a feed that names none of them stands behind no device."""
        listed = self._drawing.outgoing.get(feed.source, ())
        if listed:
            sentence = (
                f"{feed.to} is fed from {feed.source}, which lists ways, and the feed names none of them, so that "
                f"it is not known which device stands ahead. Write {feed.source}/{listed[0]}"
                f"{'' if len(listed) == 1 else ', or another of its ways'}."
            )
            self._drawing.notices.append(DrawingNotice(sentence, feed.at, (feed.source, feed.to)))

    def _reference(self, entry: Entry) -> _Reference | None:
        if isinstance(entry.value, Sequence):
            remedy = "A piece, or a side of a switch, is fed once: name one."
            self._problems.add(f"{entry.key} names more than one piece.", entry.value.at, remedy)
            return None
        text = entry.value.text.strip() if isinstance(entry.value, Scalar) else ""
        match = feed_reference(text)
        if match is None or text in ("unknown", "none"):
            sentence = f"{entry.key}: {quoted(text)} does not name one piece."
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
        return reference.way is None or self._has_way(source, reference.way, reference.at)

    def _has_way(self, source: Piece, way: str, at: Position) -> bool:
        assert source.kind is not None
        if not source.kind.has_ways:
            sentence = f"{source.tag} is {with_article(source.kind.title)} and has no ways."
            self._problems.add(sentence, at, f"Write {source.tag}.")
            return False
        if is_built_in(way, source.kind.feeding):
            sentence = f"Way {way} of {source.tag} holds a device built into it; nothing is fed from there."
            self._problems.add(sentence, at, f"Write {source.tag}, or one of its outgoing ways.")
            return False
        listed = self._drawing.outgoing.get(source.tag, ())
        if listed and way not in listed:
            near = self._problems.near(way, listed)
            sentence = f"{source.tag} lists no way {way}."
            self._problems.add(sentence, at, f"Its ways are {', '.join(listed[:10])}.", near)
            return False
        if not listed:
            self._drawing.add(Subject("way", f"{source.tag}/{way}"), at, {})
        return True


def is_built_in(way: str, feeding: Feeding) -> bool:
    """Whether a way holds a device built into the piece, so that nothing leaves by it."""
    return feeding is not Feeding.NOTHING and way in BUILT_IN_WAYS


def _orphan(piece: Piece, name: str) -> DrawingNotice:
    where = piece.tag if name == "fed_from" else f"The side {name} of {piece.tag}"
    return DrawingNotice(f"{where} is fed by nothing on the drawing.", piece.at, (piece.tag,))
