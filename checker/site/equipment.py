"""What each piece says of itself: its facts, its ways, its lists."""

from __future__ import annotations

from checker.catalog.model import Catalog, Feeding, Kind, Listing
from checker.catalog.names import OVERRIDE, SIDES, USE, WAYS, is_way
from checker.files.yaml.tree import Entry, Mapping
from checker.site.drawing import Drawing
from checker.site.feeding import INPUTS
from checker.site.flat import FlatReader
from checker.site.lists import ListReader, lists_on
from checker.site.model import Subject
from checker.site.pieces import Piece
from checker.site.problem_list import ProblemList
from checker.site.unknown_fields import with_article
from checker.site.ways import Ways
from checker.values.refusals import quoted


class EquipmentReader:
    """Reads pieces whose kind is known into the drawing; how they are fed is read elsewhere."""

    def __init__(
        self,
        catalog: Catalog,
        flat: FlatReader,
        lists: ListReader,
        ways: Ways,
        drawing: Drawing,
        problems: ProblemList,
    ) -> None:
        self._catalog = catalog
        self._flat = flat
        self._lists = lists
        self._ways = ways
        self._drawing = drawing
        self._problems = problems

    def read(self, piece: Piece, kind: Kind) -> None:
        """Everything that a piece says of itself."""
        own_lists = {listing.name: listing for listing in lists_on(self._catalog, kind.name)}
        others = {WAYS, *INPUTS, *self._catalog.lists}
        facts = [entry for entry in piece.entries if entry.key not in others]
        keys = (*kind.feeding.inputs, USE, OVERRIDE, *((WAYS,) if kind.has_ways else ()), *own_lists)
        self._drawing.add(piece.subject, piece.at, self._flat.facts(kind.name, facts, piece.at, keys))
        for entry in piece.entries:
            if entry.key == WAYS:
                self._read_ways(piece, kind, entry)
            elif entry.key in own_lists:
                self._lists.read(own_lists[entry.key], entry, piece.tag)
            elif entry.key in self._catalog.lists:
                self._tell_wrong_list(self._catalog.lists[entry.key], entry, kind)

    def _tell_wrong_list(self, listing: Listing, entry: Entry, kind: Kind) -> None:
        if listing.on == "site":
            remedy = f"Write {listing.name}: at the beginning of a line."
            self._problems.add(f"{listing.name} is a section of the file, not a part of a piece.", entry.at, remedy)
            return
        there = with_article(self._catalog.titles[listing.on])
        sentence = f"{listing.name} is a list of {there}, not of {with_article(kind.title)}."
        self._problems.add(sentence, entry.at, "Write it there, or leave it out.")

    def _read_ways(self, piece: Piece, kind: Kind, entry: Entry) -> None:
        if not kind.has_ways:
            sentence = f"{piece.tag} is {with_article(kind.title)} and has no ways."
            self._problems.add(sentence, entry.at, "Draw what it holds as a piece of its own.")
            return
        if not isinstance(entry.value, Mapping):
            self._problems.add("ways names each way.", entry.value.at, "Write ways: {1: {overcurrent: 90 A}}.")
            return
        usable = [way for way in entry.value.entries if self._is_usable(way, kind)]
        self._ways.list_ways(piece, kind.feeding, tuple(way.key for way in usable))
        for way in usable:
            self._read_way(piece, way)

    def _is_usable(self, way: Entry, kind: Kind) -> bool:
        if not is_way(way.key):
            remedy = "A way is a number or a word of letters, digits, - and _."
            self._problems.add(f"{quoted(way.key)} cannot name a way.", way.at, remedy)
            return False
        if way.key in SIDES and kind.feeding is not Feeding.BOTH_SIDES:
            sentence = f"Way {way.key}: {with_article(kind.title)} has no such side."
            self._problems.add(sentence, way.at, "Write main for a device on its supply side.")
            return False
        return True

    def _read_way(self, piece: Piece, way: Entry) -> None:
        if not isinstance(way.value, Mapping):
            sentence = f"Way {way.key} of {piece.tag} has no facts."
            self._problems.add(sentence, way.value.at, "Write {overcurrent: 90 A}.")
            return
        facts = self._flat.facts("way", way.value.entries, way.at)
        self._drawing.add(Subject("way", f"{piece.tag}/{way.key}"), way.at, facts)
