"""The head of a layer and what its changes share: its document, its numbers, its sources, who checked them."""

from __future__ import annotations

from dataclasses import dataclass

from checker.files.yaml.tree import Entry, Mapping, Node, Scalar
from checker.rules.documents import no_such_document
from checker.rules.grammar import NONE
from checker.rules.layers.shelf import Shelf
from checker.rules.layers.targets import Targets
from checker.rules.model.citing import Checked, Citation
from checker.rules.model.force import Basis
from checker.rules.model.numbers import Parameter, Table
from checker.rules.model.profile import OwnPaper
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import Head, one_check
from checker.rules.reading.parameters import read_parameter
from checker.rules.reading.scope import Numbers
from checker.rules.reading.tables import read_table
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import choice_of
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class LayerHead:
    """A layer without its changes, and what reading them needs. ``amends`` are document and edition, the edition empty
    for a document without editions. ``papers`` are those that it declares, once they are read.
    """

    root: Mapping
    head: Head
    amends: tuple[str, str] | None
    numbers: Numbers
    targets: Targets
    shelf: Shelf
    vocabulary: Vocabulary
    problems: ProblemList
    notes: ProblemList
    papers: tuple[OwnPaper, ...] = ()

    def sourced(self, entry: Entry, cites: Node | None = None) -> Entry:
        """The entry with what the change cites, and with what the head of the layer says of all: who checked it."""
        return _sourced(self.root, entry, self.problems, cites)

    def cites(self, node: Node | None) -> tuple[Citation, ...]:
        """What a change rests on; a citation that names no document is of the layer's own."""
        if node is None or isinstance(node, Scalar):
            return ()
        checked = self.root.get("checked")
        sure = checked is not None and nodes.text(nodes.mapping(checked).get("sure")) == "high"
        return tuple(
            Citation(
                nodes.text(each.get("document"), self.head.document),
                nodes.text(each.get("edition")) or None,
                nodes.text(each.get("section")),
                verify=not sure,
            )
            for each in map(nodes.mapping, nodes.items(node))
        )

    def checked(self) -> Checked:
        """Who has checked the layer as a whole."""
        node = self.root.get("checked")
        return Checked("low", "nothing") if node is None else self.noted(nodes.mapping(node))

    def noted(self, node: Mapping) -> Checked:
        """One note of who checked something against what."""
        return one_check(node, node.at, self.problems)


def read_head(
    root: Mapping, vocabulary: Vocabulary, shelf: Shelf, problems: ProblemList, notes: ProblemList
) -> LayerHead:
    """The head of a layer, from a file whose shape is sound; what is wrong is added to the problems."""
    head = _head(root)
    amends = _amends(root, shelf, problems)
    numbers = _numbers(root, head, problems)
    return LayerHead(root, head, amends, numbers, Targets(shelf, amends, problems), shelf, vocabulary, problems, notes)


def _head(root: Mapping) -> Head:
    title = nodes.text(root.get("title"))
    document = nodes.text(root.get("document"), title)
    basis = Basis(nodes.text(root.get("basis")))
    return Head(nodes.text(root.get("layer")), title, document, (), basis, {}, root.at)


def _amends(root: Mapping, shelf: Shelf, problems: ProblemList) -> tuple[str, str] | None:
    node = root.get("amends")
    if node is None:
        return None
    amended = nodes.mapping(node)
    document, edition = nodes.text(amended.get("document")), nodes.text(amended.get("written_against"))
    editions = shelf.documents.get(document)
    if editions is None:
        problems.extend([no_such_document(document, shelf.packs, amended.at)])
    elif editions and edition not in editions:
        problems.add(
            f"The layer does not say against which edition of {document} it was written.",
            amended.at,
            f"Write `written_against:` with {choice_of(editions)}.",
            problems.near(edition, editions),
        )
    return document, edition


def _numbers(root: Mapping, head: Head, problems: ProblemList) -> Numbers:
    parameters: dict[str, Parameter | None] = {}
    for entry in nodes.entries(root.get("parameters")):
        parameters[entry.key] = read_parameter(_sourced(root, entry, problems), head, problems)
    tables: dict[str, Table | None] = {}
    for entry in nodes.entries(root.get("tables")):
        tables[entry.key] = read_table(_sourced(root, entry, problems), head, problems)
    return Numbers(parameters, tables)


_CHECKED_REMEDY = (
    "One line at the top does it for the whole layer: "
    "`checked: {sure: low, against: not yet compared with the paper as filed}`; once somebody has compared it: "
    '`checked: {sure: high, against: the paper as filed, on: "2026-03-14", by: the town clerk}`.'
)


def _text(key: str, value: str, at: Position) -> Entry:
    return Entry(key, at, Scalar(value, at))


def _sourced(root: Mapping, entry: Entry, problems: ProblemList, cites: Node | None = None) -> Entry:
    """A number or a rule of the layer with the source and the check that one line at the top gives for all of them."""
    node = nodes.mapping(entry.value)
    entries = {each.key: each for each in node.entries if each.key != "id"}
    given = cites if cites is not None else node.get("cites")
    if given is not None:
        entries["cites"] = Entry("cites", given.at, given)
    checked = root.get("checked")
    cites_nothing = "cites" in entries and isinstance(entries["cites"].value, Scalar)
    if checked is None and "checked" not in entries and not cites_nothing:
        # Told once, however many there are: one line does for all.
        problems.add("The layer does not say who compared it with the paper.", root.at, _CHECKED_REMEDY)
        checked = Mapping((_text("sure", "low", root.at), _text("against", NONE, root.at)), root.at)
    if checked is not None and "checked" not in entries:
        entries["checked"] = Entry("checked", checked.at, checked)
    return Entry(entry.key, entry.at, Mapping(tuple(entries.values()), node.at))
