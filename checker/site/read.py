"""From a site file to the stated facts of a site."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from checker.catalog.model import Catalog
from checker.catalog.names import COMPLETE, EQUIPMENT, JURISDICTION, PAIRS, PERMIT, RUNS, SITE_SECTION
from checker.files.yaml.tree import Entry, Mapping, Scalar
from checker.site.between import PairReader, RunReader
from checker.site.claims import ClaimReader
from checker.site.drawing import Drawing
from checker.site.equipment import EquipmentReader
from checker.site.feeding import FeedReader
from checker.site.flat import FlatReader
from checker.site.gas_ends import loose_ends
from checker.site.interlocks import InterlockReader
from checker.site.known_by import names_of_members
from checker.site.lists import ListReader
from checker.site.model import SITE, Site, Stated
from checker.site.pieces import PieceReader, Pieces, tags_remedy
from checker.site.problem_list import ProblemList
from checker.site.rings import rings
from checker.site.sections import Sections, complete_kinds, read_sections
from checker.site.sheets import SiteFiles, SiteText, open_site
from checker.site.ways import Ways
from checker.values.problems import Problem


def jurisdiction_written(text: SiteText) -> str | None:
    """The jurisdiction that the file names, where it stands in its usual place: it tells of which town the words of
    the file are.
    """
    site = text.document.get(SITE_SECTION) if isinstance(text.document, Mapping) else None
    named = site.get(JURISDICTION) if isinstance(site, Mapping) else None
    return named.text.strip() or None if isinstance(named, Scalar) else None


def read_site(path: Path, catalog: Catalog, root: Path | None = None) -> Site:
    """What the file states, with positions; nothing is worked out.

    ``root`` is the folder that nothing may lead out of and that file names are relative to: without it, or where the
    file lies elsewhere, the folder of the file. Raises Unreadable with all that is wrong in the file and its sheets.
    """
    return site_of(open_site(path, root), catalog)


def site_of(text: SiteText, catalog: Catalog) -> Site:
    """What the file states in the words of a catalog: the one of the program, or that of a town. Raises Unreadable."""
    problems = ProblemList()
    files = SiteFiles(text, problems)
    sections = read_sections(text.document, catalog, problems)
    pieces = PieceReader(catalog, files, problems).pieces(sections.mapping(EQUIPMENT))
    drawing = _Reader(catalog, files, pieces, problems).drawing(sections)
    closed = complete_kinds(sections.mapping(SITE_SECTION), catalog, problems)
    problems.raise_if_any(files.name)
    return Site(
        file=files.name,
        digest=files.digest(),
        things=drawing.things,
        pieces={piece.tag: piece.subject for piece in pieces.values()},
        feeds=tuple(drawing.feeds),
        lists=drawing.lists,
        complete_kinds=closed,
        claims=tuple(drawing.claims),
        notices=(
            *(*drawing.notices, *rings(drawing.feeds)),
            *loose_ends(catalog, drawing.things, drawing.lists, problems.near),
        ),
        names=names_of_members(drawing.lists, drawing.things, catalog),
    )


class _Reader:
    """Reads one section after another, each when what it refers to is known."""

    def __init__(self, catalog: Catalog, files: SiteFiles, pieces: Pieces, problems: ProblemList) -> None:
        self._catalog = catalog
        self._pieces = pieces
        self._problems = problems
        self._drawing = Drawing()
        self._ways = Ways(pieces, self._drawing, problems)
        self._flat = FlatReader(catalog, self._missing_piece, self._ways.missing, problems)
        self._lists = ListReader(catalog, files, self._flat, self._drawing, problems)

    def drawing(self, sections: Sections) -> Drawing:
        """Everything that the sections state."""
        catalog, pieces, problems = self._catalog, self._pieces, self._problems
        drawing, flat, ways = self._drawing, self._flat, self._ways
        self._read_site(sections)
        equipment = EquipmentReader(catalog, flat, self._lists, ways, drawing, problems)
        for piece in pieces.values():
            if piece.kind is not None:
                equipment.read(piece, piece.kind)
        FeedReader(catalog, pieces, ways, drawing, problems).read()
        RunReader(flat, drawing, problems).read(sections.mapping(RUNS))
        PairReader(catalog, pieces, flat, drawing, problems).read(sections.mapping(PAIRS))
        for name, entry in sections.lists.items():
            self._lists.read(catalog.lists[name], entry, SITE.id)
        InterlockReader(drawing, ways, problems).read()
        ClaimReader(catalog, pieces, flat, drawing, problems).read()
        return drawing

    def _read_site(self, sections: Sections) -> None:
        site = sections.mapping(SITE_SECTION)
        entries = [entry for entry in site.entries if entry.key != COMPLETE and not self._is_permit(entry)]
        if sections.permit is not None:
            entries.append(sections.permit)
        facts = self._flat.facts("site", entries, site.at, (COMPLETE,))
        self._drawing.add(SITE, site.at, facts)

    def _is_permit(self, entry: Entry) -> bool:
        if entry.key == PERMIT:
            remedy = "Write permit: at the beginning of a line, beside site:."
            self._problems.add("permit is a section of its own.", entry.at, remedy)
        return entry.key == PERMIT

    def _missing_piece(self, name: str, stated: Stated) -> Iterator[Problem]:
        for tag in sorted(str(atom) for atom in stated.value.atoms):
            if tag not in self._pieces:
                near = self._problems.near(tag, self._pieces)
                sentence = f"{name}: there is no piece {tag} on the drawing."
                yield Problem(sentence, stated.at, tags_remedy(self._pieces), near)
