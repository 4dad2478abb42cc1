"""The pieces of equipment: tag, kind, and everything that is said of each, its sheet included."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from checker.catalog.model import Catalog, Kind
from checker.catalog.names import KIND, RESERVED, TAG_MEANING, is_tag
from checker.files.yaml.tree import Entry, Node, Scalar
from checker.files.yaml.tree import Mapping as MappingNode
from checker.site.model import Subject
from checker.site.problem_list import ProblemList
from checker.site.sheets import SiteFiles
from checker.values.positions import Position
from checker.values.refusals import quoted


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece as written; ``kind`` is None where the file does not say it rightly."""

    tag: str
    kind: Kind | None
    at: Position
    entries: tuple[Entry, ...]

    @property
    def subject(self) -> Subject:
        """The piece as a subject."""
        return Subject(self.kind.name if self.kind else "", self.tag)


Pieces = Mapping[str, Piece]
"""Every piece by tag, in the order of the file."""

_MOST_TAGS = 12


def tags_remedy(pieces: Pieces) -> str:
    """What to write where a tag is not on the drawing."""
    if len(pieces) > _MOST_TAGS:
        return "Write the tag of a piece that stands under equipment."
    return f"The tags on the drawing are {', '.join(pieces)}." if pieces else "Draw the piece under equipment first."


class PieceReader:
    """Reads tags, kinds and sheets; what a piece says is left for later."""

    def __init__(self, catalog: Catalog, files: SiteFiles, problems: ProblemList) -> None:
        self._catalog = catalog
        self._files = files
        self._problems = problems

    def pieces(self, equipment: MappingNode) -> Pieces:
        """Every piece with a tag that can be used."""
        found: dict[str, Piece] = {}
        folded: dict[str, str] = {}
        for entry in equipment.entries:
            if not self._is_usable(entry, folded):
                continue
            folded[entry.key.casefold()] = entry.key
            found[entry.key] = self._piece(entry)
        return found

    def _is_usable(self, entry: Entry, folded: Mapping[str, str]) -> bool:
        tag = entry.key
        if not is_tag(tag):
            self._problems.add(f"{quoted(tag)} is not a tag.", entry.at, TAG_MEANING)
        elif tag.casefold() in RESERVED:
            sentence = f"{tag} cannot be a tag: the word has a meaning of its own."
            self._problems.add(sentence, entry.at, "Write another tag.")
        elif tag.casefold() in folded:
            sentence = f"{tag} and {folded[tag.casefold()]} differ only in capital letters."
            self._problems.add(sentence, entry.at, "Write another tag for one of the two.")
        else:
            return True
        return False

    def _piece(self, entry: Entry) -> Piece:
        if not isinstance(entry.value, MappingNode):
            remedy = "Write {kind: ...} and what is known of it."
            self._problems.add(f"{entry.key} has no facts of its own.", entry.value.at, remedy)
            return Piece(entry.key, None, entry.at, ())
        entries = self._files.merged(entry.value)
        kind = next((each for each in entries if each.key == KIND), None)
        if kind is None:
            remedy = f"Write kind: and one of {', '.join(self._catalog.kinds)}."
            self._problems.add(f"{entry.key} does not say what it is.", entry.at, remedy)
            return Piece(entry.key, None, entry.at, entries)
        return Piece(entry.key, self._kind(kind.value), entry.at, entries)

    def _kind(self, node: Node) -> Kind | None:
        word = node.text.strip() if isinstance(node, Scalar) else ""
        kind = self._catalog.kinds.get(word)
        if kind is None:
            remedy = f"Write one of {', '.join(self._catalog.kinds)}."
            near = self._near_kind(word)
            self._problems.add(f"{quoted(word)} is not a kind of equipment.", node.at, remedy, near)
        return kind

    def _near_kind(self, word: str) -> str | None:
        by_title = {kind.title: name for name, kind in self._catalog.kinds.items()}
        near = self._problems.near(word, [*self._catalog.kinds, *by_title])
        return by_title.get(near, near) if near else None
