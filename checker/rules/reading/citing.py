"""What rules, parameters and tables rest on: sections by edition or citations, and who checked them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from checker.files.yaml.tree import Entry, Node, Scalar
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.grammar import NO_EDITION, NONE
from checker.rules.model.citing import Checked, Citation
from checker.rules.model.force import Basis
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.wording import choice_of, listing
from checker.values.dates import read_date
from checker.values.notation import NotationError, nearest
from checker.values.positions import Position

_NOT_CHECKED = Checked("low", "nothing")


@dataclass(frozen=True, slots=True)
class Head:
    """What pack.yaml, or a file in shared/, says of all that follows."""

    id: str
    title: str
    document: str
    editions: tuple[str, ...]
    basis: Basis | None
    retired: Mapping[str, str]
    at: Position
    is_shared: bool = False
    interim: Mapping[str, Mapping[str, date]] = field(default_factory=dict)

    @property
    def rests_on_practice(self) -> bool:
        """Whether nothing has to be cited."""
        return self.basis is not None and not self.basis.can_correct


@dataclass(frozen=True, slots=True)
class Sources:
    """For each edition (or NO_EDITION) what is cited and who checked it."""

    cites: Mapping[str, tuple[Citation, ...]]
    checked: Mapping[str, Checked]


def read_sources(
    entry: Entry, head: Head, editions: Iterable[str], problems: ProblemList, *, may_cite_nothing: bool
) -> Sources:
    """What a rule, parameter or table cites for exactly these editions. Tells what is missing or too much."""
    node = nodes.mapping(entry.value)
    wanted = tuple(editions)
    cited = (
        _sections(entry, node, head, wanted, problems)
        if head.editions
        else _cites(entry, node, head, problems, may_cite_nothing=may_cite_nothing)
    )
    must_check = any(cited.values()) or not may_cite_nothing
    checked = _checked(entry, node, head, wanted, problems) if must_check or node.get("checked") else {}
    return Sources(
        {edition: _verified(cited.get(edition, ()), checked.get(edition)) for edition in wanted},
        {edition: checked.get(edition, _NOT_CHECKED) for edition in wanted},
    )


def _verified(cites: tuple[Citation, ...], checked: Checked | None) -> tuple[Citation, ...]:
    sure = checked is not None and checked.confirmed
    return tuple(replace(each, verify=not sure) for each in cites)


def section_editions(node: MappingNode, head: Head) -> tuple[str, ...]:
    """The editions of the pack for which there is a section, oldest first; NO_EDITION alone where the pack has none."""
    if not head.editions:
        return (NO_EDITION,)
    sections = node.get("sections")
    keys = set(as_meant(sections, head.editions).keys()) if isinstance(sections, MappingNode) else set()
    return tuple(edition for edition in head.editions if edition in keys)


def check_edition(edition: str, at: Position, editions: tuple[str, ...], problems: ProblemList) -> bool:
    """Whether the edition is one of these; tells it if not."""
    if edition in editions:
        return True
    remedy = f"Write {choice_of(editions)}." if editions else "This pack has no editions: leave it out."
    problems.add(f"There is no edition {edition} here.", at, remedy, problems.near(edition, editions))
    return False


def as_meant(written: MappingNode, editions: tuple[str, ...]) -> MappingNode:
    """What is written by edition, with an edition that is one figure off under the one that it nearly is: it is told as
    that, and not as a gap too.
    """
    names: dict[str, str] = {}
    for each in written.entries:
        near = None if each.key in editions else nearest(each.key, editions)
        if near is not None and written.entry(near) is None and near not in names.values():
            names[each.key] = near
    renamed = (Entry(names.get(each.key, each.key), each.at, each.value) for each in written.entries)
    return MappingNode(tuple(renamed), written.at) if names else written


def read_sections(node: Node | None, document: str) -> Mapping[str, tuple[Citation, ...]]:
    """The sections of one document by edition."""
    return {
        each.key: tuple(Citation(document, each.key, section) for section in nodes.texts(each.value))
        for each in nodes.entries(node)
    }


def read_cites(node: Node | None, document: str = "") -> tuple[Citation, ...]:
    """A list of citations, of this document where they name none; nothing where there is no list, or it says none."""
    if node is None or isinstance(node, Scalar):
        return ()
    return tuple(_citation(nodes.mapping(item), document) for item in nodes.items(node))


def _citation(node: MappingNode, document: str) -> Citation:
    edition = nodes.text(node.get("edition")) or None
    return Citation(nodes.text(node.get("document"), document), edition, nodes.text(node.get("section")))


def _sections(
    entry: Entry, node: MappingNode, head: Head, wanted: tuple[str, ...], problems: ProblemList
) -> Mapping[str, tuple[Citation, ...]]:
    if node.get("cites") is not None:
        at = nodes.place(node, "cites")
        problems.add(
            "This pack has editions, so what is cited stands under `sections:`.", at, "Write the section by edition."
        )
    written = node.entry("sections")
    if written is None:
        problems.add(
            f"`{entry.key}` names no section.", entry.at, "Write `sections:` with the section in each edition."
        )
        return {}
    _same_editions(entry, written, head, wanted, "section", problems)
    return read_sections(written.value, head.document)


def _cites(
    entry: Entry, node: MappingNode, head: Head, problems: ProblemList, *, may_cite_nothing: bool
) -> Mapping[str, tuple[Citation, ...]]:
    if node.get("sections") is not None:
        at = nodes.place(node, "sections")
        problems.add(
            "This pack has no editions, so what is cited stands under `cites:`.", at, "Write a list of citations."
        )
    written = node.entry("cites")
    if written is None:
        remedy = "Write `cites: none`." if may_cite_nothing else "Write `cites:` with document and section."
        problems.add(f"`{entry.key}` does not say what it rests on.", entry.at, remedy)
        return {}
    if isinstance(written.value, Scalar) and not may_cite_nothing:
        problems.add(
            f"`{entry.key}` cites nothing, which only trade and local practice can.",
            written.at,
            f"Write document and section instead of {NONE}, or `basis: trade_practice`.",
        )
    return {NO_EDITION: read_cites(written.value, head.document)}


def _same_editions(
    owner: Entry, written: Entry, head: Head, wanted: tuple[str, ...], what: str, problems: ProblemList
) -> None:
    """See that something is written for exactly the wanted editions."""
    by_edition = nodes.mapping(written.value)
    known = [each for each in by_edition.entries if check_edition(each.key, each.at, head.editions, problems)]
    meant = as_meant(by_edition, head.editions)
    missing = [edition for edition in wanted if meant.get(edition) is None]
    if missing:
        problems.add(f"`{owner.key}` has no {what} for edition {listing(missing)}.", written.at, "Add it.")
    for each in known:
        if each.key not in wanted:
            problems.add(
                f"`{owner.key}` has a {what} for edition {each.key} but no value there.", each.at, "Take it out."
            )


def _checked(
    entry: Entry, node: MappingNode, head: Head, wanted: tuple[str, ...], problems: ProblemList
) -> Mapping[str, Checked]:
    written = node.entry("checked")
    if written is None:
        sentence = f"`{entry.key}` does not say who checked it against its source."
        problems.add(sentence, entry.at, "Write `checked: {sure: low, against: memory}`, or better.")
        return {}
    notes = nodes.mapping(written.value)
    if notes.get("sure") is not None:
        return dict.fromkeys(wanted, one_check(notes, written.at, problems))
    if not head.editions:
        problems.add(
            "This pack has no editions: `checked` is written once.", written.at, "Write {sure: ..., against: ...}."
        )
        return {}
    _same_editions(entry, written, head, wanted, "note of who checked", problems)
    return {each.key: one_check(nodes.mapping(each.value), each.at, problems) for each in notes.entries}


def one_check(node: MappingNode, at: Position, problems: ProblemList) -> Checked:
    """A note of who checked something against what; one that is sure says since when and by whom."""
    sure, by = nodes.text(node.get("sure")), nodes.text(node.get("by"))
    on = day(node.get("on"), "on", problems)
    if sure == "high" and on is None:
        problems.add("It is sure, but not since when.", at, "Write `on:` with the date on which it was checked.")
    elif sure == "high" and not by:
        problems.add("It is sure, but not by whom.", at, "Write `by:` with who has held the paper and compared it.")
    return Checked(sure, nodes.text(node.get("against")), on, by)


def day(node: Node | None, name: str, problems: ProblemList) -> date | None:
    """A date; None where there is none, or where it is no day, which is told."""
    if node is None:
        return None
    written = nodes.scalar(node)
    try:
        return read_date(written.text)
    except NotationError as error:
        problems.refuse(error, written.at, name)
        return None
