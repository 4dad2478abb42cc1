"""Lists of the file: labels, bonds, papers and the like, open or complete."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.catalog.model import Catalog, Listing
from checker.catalog.names import CLAIMS, COMPLETE, LIST, READINGS
from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, Sequence
from checker.site.drawing import Drawing
from checker.site.flat import FlatReader
from checker.site.model import DrawingNotice, Members, Subject
from checker.site.problem_list import ProblemList
from checker.site.readings import readings_of
from checker.site.sheets import SiteFiles
from checker.values.positions import Position
from checker.values.problems import Unreadable
from checker.values.refusals import quoted

_FLAGS = {"yes": True, "true": True, "no": False, "false": False}
_KEYS = (COMPLETE, LIST)


class ListReader:
    """Reads lists into the drawing; what papers claim is left for when all subjects are known."""

    def __init__(
        self, catalog: Catalog, files: SiteFiles, flat: FlatReader, drawing: Drawing, problems: ProblemList
    ) -> None:
        self._catalog = catalog
        self._files = files
        self._flat = flat
        self._drawing = drawing
        self._problems = problems

    def read(self, listing: Listing, entry: Entry, on: str) -> None:
        """One list of the site or of a piece; ``on`` is the id of what it belongs to."""
        items, complete = self._items(entry)
        members = tuple(self._member(listing, item, on, number) for number, item in enumerate(items, start=1))
        if complete and listing.never_empty and not members:
            complete = False
            self._drawing.notices.append(_not_believed(listing, entry.at))
        self._drawing.lists[listing.name, on] = Members(members, complete, entry.at)

    def _items(self, entry: Entry) -> tuple[tuple[Node, ...], bool]:
        node = entry.value
        if isinstance(node, Sequence):
            return node.items, False
        if isinstance(node, Mapping):
            return self._described(entry.key, node)
        self._problems.add(f"{entry.key} is a list.", node.at, _shape(entry.key))
        return (), False

    def _described(self, name: str, node: Mapping) -> tuple[tuple[Node, ...], bool]:
        for each in node.entries:
            if each.key not in _KEYS:
                near = self._problems.near(each.key, _KEYS)
                self._problems.add(f"{name} has no part {quoted(each.key)}.", each.at, _shape(name), near)
        listed = node.get(LIST)
        if listed is None:
            self._problems.add(f"{name} has no list.", node.at, f"{_shape(name)} An empty list is list: [].")
            return (), False
        if not isinstance(listed, Sequence):
            self._problems.add(f"{name}: what stands under list is no list.", listed.at, _shape(name))
            return (), False
        return listed.items, self._flag(name, node.get(COMPLETE))

    def _flag(self, name: str, node: Node | None) -> bool:
        if node is None:
            return False
        text = node.text.strip() if isinstance(node, Scalar) else ""
        if text not in _FLAGS:
            self._problems.add(f"{name}: complete is yes or no.", node.at, "Write complete: yes, or complete: no.")
        return _FLAGS.get(text, False)

    def _member(self, listing: Listing, item: Node, on: str, number: int) -> Subject:
        word = listing.member.rpartition("_")[2]
        subject = Subject(listing.member, f"{word} {number}" if on == "site" else f"{on} {word} {number}")
        if isinstance(item, Mapping):
            own = [entry for entry in item.entries if not self._is_claims(entry, subject)]
            own = self._with_readings(own) if subject.type == "paper" else own
            self._drawing.add(subject, item.at, self._flat.facts(listing.member, own, item.at))
        else:
            example = next((fact.name for fact in self._catalog.facts_of(listing.member)), "kind")
            self._problems.add(f"{subject} of {listing.name} has no facts.", item.at, f"Write {{{example}: ...}}.")
        return subject

    def _with_readings(self, own: list[Entry]) -> list[Entry]:
        """The paper with what its table of readings says, as if it were written there."""
        named = next((entry for entry in own if entry.key == READINGS), None)
        if named is None:
            return own
        others = [entry for entry in own if entry is not named]
        try:
            read = readings_of(*self._files.beside(named.value))
        except Unreadable as error:
            self._problems.extend(error.problems)
            return others
        written = {entry.key: entry for entry in others}
        for entry in read:
            if entry.key in written:
                remedy = f"Take out {entry.key}:, or take out {READINGS}: and write what the paper says."
                sentence = f"{entry.key} is written, and follows from the readings of the same paper."
                self._problems.add(sentence, written[entry.key].at, remedy)
        return [*others, *(entry for entry in read if entry.key not in written)]

    def _is_claims(self, entry: Entry, subject: Subject) -> bool:
        if entry.key != CLAIMS or subject.type != "paper":
            return False
        if not isinstance(entry.value, Mapping):
            self._problems.add("claims name facts.", entry.value.at, "Write claims: {GEN1.capacity: 41.7 A}.")
            return True
        self._drawing.claimed.extend((subject, claim) for claim in entry.value.entries)
        return True


def _not_believed(listing: Listing, at: Position) -> DrawingNotice:
    """Nothing rests on the word that a list is complete where there is always something to list."""
    sentence = (
        f"The list of {listing.title} says that it is complete and holds none. Every building has some, so it counts "
        f"as not complete: list them one by one."
    )
    return DrawingNotice(sentence, at, ())


def _shape(name: str) -> str:
    return f"Write {name}: {{complete: yes, list: [...]}}."


def lists_on(catalog: Catalog, subject: str) -> Iterator[Listing]:
    """The lists that the site, or a kind of piece, has."""
    return (listing for listing in catalog.lists.values() if listing.on == subject)


def names_of(listings: Iterable[Listing]) -> tuple[str, ...]:
    """Their names."""
    return tuple(listing.name for listing in listings)
