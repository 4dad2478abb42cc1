"""The ways of pieces: what may leave by one, what may come in by one, and which one a text names."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.catalog.model import Feeding
from checker.catalog.names import BUILT_IN_WAYS, MAIN_WAY, NO_FEED_WAYS, SIDES, is_way, way_reference
from checker.files.yaml.tree import Entry
from checker.site.drawing import Drawing
from checker.site.model import Stated, Subject
from checker.site.pieces import Piece, Pieces, tags_remedy
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import with_article
from checker.values.positions import Position
from checker.values.problems import Problem
from checker.values.refusals import quoted

_MOST_NAMED = 10


class Ways:
    """What the pieces of one drawing have as ways.

    Where a piece lists no way under ``ways:``, those that hold a device built into it left aside, it may have any.
    """

    def __init__(self, pieces: Pieces, drawing: Drawing, problems: ProblemList) -> None:
        self._pieces = pieces
        self._drawing = drawing
        self._problems = problems
        self._listed: dict[str, tuple[str, ...]] = {}
        self._incoming: dict[str, frozenset[str]] = {}

    def list_ways(self, piece: Piece, feeding: Feeding, ways: tuple[str, ...]) -> None:
        """Note what a piece lists."""
        self._listed[piece.tag] = tuple(way for way in ways if not is_built_in(way, feeding))

    def feed_by(self, piece: Piece, ways: Iterable[str]) -> None:
        """Note the ways by which a board is fed."""
        self._incoming[piece.tag] = frozenset(ways)

    def comes_in(self, piece: Piece, way: Entry) -> bool:
        """Whether a board can be fed by this way, which is then drawn; tells why not."""
        listed = self._listed.get(piece.tag, ())
        if not is_way(way.key):
            remedy = "A way is a number or a word of letters, digits, - and _."
            self._problems.add(f"{quoted(way.key)} cannot name a way.", way.at, remedy)
        elif way.key in NO_FEED_WAYS:
            remedy = "Write main, or the way as on the directory of the panel."
            self._problems.add(f"{piece.tag} is not fed by a way {way.key}.", way.at, remedy)
        elif listed and way.key not in (MAIN_WAY, *listed):
            self._problems.extend([self._not_listed(piece.tag, way.key, way.at, (MAIN_WAY, *listed))])
        else:
            self.draw(piece.tag, way.key, way.at)
            return True
        return False

    def outgoing(self, tag: str) -> tuple[str, ...]:
        """The ways that a piece lists, those by which it is fed left out."""
        incoming = self._incoming.get(tag, frozenset())
        return tuple(each for each in self._listed.get(tag, ()) if each not in incoming)

    def leaves(self, piece: Piece, way: str, at: Position) -> bool:
        """Whether something can be fed from this way, which is then drawn; tells why not."""
        assert piece.kind is not None  # who feeds has a kind
        incoming = self._incoming.get(piece.tag, frozenset())
        listed = self.outgoing(piece.tag)
        if not piece.kind.has_ways:
            sentence = f"{piece.tag} is {with_article(piece.kind.title)} and has no ways."
            self._problems.add(sentence, at, f"Write {piece.tag}.")
        elif is_built_in(way, piece.kind.feeding):
            sentence = f"Way {way} of {piece.tag} holds a device built into it; nothing is fed from there."
            self._problems.add(sentence, at, f"Write {piece.tag}, or one of its outgoing ways.")
        elif way in incoming:
            sentence = f"{piece.tag} is fed by its way {way}; nothing is fed from there."
            self._problems.add(sentence, at, f"Write {piece.tag}, or one of its outgoing ways.")
        elif listed and way not in listed:
            self._problems.extend([self._not_listed(piece.tag, way, at, listed)])
        else:
            self.draw(piece.tag, way, at)
            return True
        return False

    def missing(self, name: str, stated: Stated) -> Iterator[Problem]:
        """What is wrong with the ways that a fact names."""
        for reference in sorted(str(atom) for atom in stated.value.atoms):
            match = way_reference(reference)
            if match is None:
                continue
            piece = self._pieces.get(match[1])
            if piece is None:
                near = self._problems.near(match[1], self._pieces)
                sentence = f"{name}: there is no piece {match[1]} on the drawing."
                yield Problem(sentence, stated.at, tags_remedy(self._pieces), near)
            elif piece.kind is not None:
                yield from self._not_there(piece, match[2], stated.at)

    def draw(self, tag: str, way: str, at: Position) -> None:
        """Put a way on the drawing, unless the piece has described it."""
        subject = Subject("way", f"{tag}/{way}")
        if subject not in self._drawing.things:
            self._drawing.add(subject, at, {})

    def _not_there(self, piece: Piece, way: str, at: Position) -> Iterator[Problem]:
        assert piece.kind is not None
        feeding = piece.kind.feeding
        listed = self._listed.get(piece.tag, ())
        if not piece.kind.has_ways:
            sentence = f"{piece.tag} is {with_article(piece.kind.title)} and has no ways."
            yield Problem(sentence, at, "Write the way that holds the device, as P1/main.")
        elif way in SIDES and feeding is not Feeding.BOTH_SIDES:
            sentence = f"Way {way}: {with_article(piece.kind.title)} has no such side."
            yield Problem(sentence, at, f"Write {piece.tag}/main for the device on its supply side.")
        elif listed and way not in listed and not is_built_in(way, feeding):
            yield self._not_listed(piece.tag, way, at, listed)

    def _not_listed(self, tag: str, way: str, at: Position, listed: tuple[str, ...]) -> Problem:
        near = self._problems.near(way, listed)
        return Problem(f"{tag} lists no way {way}.", at, f"Its ways are {', '.join(listed[:_MOST_NAMED])}.", near)


def is_built_in(way: str, feeding: Feeding) -> bool:
    """Whether a way holds a device built into the piece, so that nothing leaves by it."""
    return feeding is not Feeding.NOTHING and way in BUILT_IN_WAYS
