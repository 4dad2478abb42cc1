"""The sections of a site file."""

from __future__ import annotations

from collections.abc import Mapping as MappingOf
from dataclasses import dataclass

from checker.catalog.model import Catalog
from checker.catalog.names import COMPLETE, EQUIPMENT, PAIRS, PERMIT, RUNS, SITE_SECTION
from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, Sequence
from checker.site.lists import lists_on, names_of
from checker.site.problem_list import ProblemList
from checker.values.positions import Position
from checker.values.refusals import quoted

_MAPPINGS = {
    SITE_SECTION: "Write site: {name: ..., stage: plan_review, ...}.",
    EQUIPMENT: "Write equipment: and below it each tag with its kind.",
    RUNS: "Write runs: and below it each connection, as ATS1>P1: {length: 28 ft}.",
    PAIRS: "Write pairs: and below it two tags each, as P1~UTIL: {available_fault_current: 9 kA}.",
}


@dataclass(frozen=True, slots=True)
class Sections:
    """The file taken apart: mappings by section, the permit, lists by name. A section that is not there is left out."""

    at: Position
    mappings: MappingOf[str, Mapping]
    lists: MappingOf[str, Entry]
    permit: Entry | None

    def mapping(self, name: str) -> Mapping:
        """One section; empty where the file has none."""
        return self.mappings.get(name) or Mapping((), self.at)


def read_sections(document: Node, catalog: Catalog, problems: ProblemList) -> Sections:
    """Take the file apart and tell what has no place in it."""
    if not isinstance(document, Mapping):
        problems.add("This file is no site description.", document.at, "It begins with site: and equipment:.")
        return Sections(document.at, {}, {}, None)
    lists = frozenset(names_of(lists_on(catalog, "site")))
    known = (*_MAPPINGS, PERMIT, *sorted(lists))
    mappings: dict[str, Mapping] = {}
    for entry in document.entries:
        if entry.key not in known:
            remedy = f"The sections are {', '.join(known)}."
            near = problems.near(entry.key, known)
            problems.add(f"{quoted(entry.key)} is not a section of a site file.", entry.at, remedy, near)
        elif isinstance(entry.value, Mapping) and entry.key in _MAPPINGS:
            mappings[entry.key] = entry.value
        elif entry.key in _MAPPINGS:
            problems.add(f"{entry.key} has nothing under it that it needs.", entry.value.at, _MAPPINGS[entry.key])
    if document.entry(SITE_SECTION) is None:
        problems.add("The section site is missing.", document.at, _MAPPINGS[SITE_SECTION])
    listed = {entry.key: entry for entry in document.entries if entry.key in lists}
    return Sections(document.at, mappings, listed, document.entry(PERMIT))


def complete_kinds(site: Mapping, catalog: Catalog, problems: ProblemList) -> frozenset[str]:
    """The open kinds of equipment that the site says are all drawn."""
    node = site.get(COMPLETE)
    if node is None:
        return frozenset()
    if not isinstance(node, Sequence):
        problems.add("complete lists kinds of equipment.", node.at, "Write it in brackets, as complete: [inlet, stop].")
        return frozenset()
    open_kinds = [kind.name for kind in catalog.kinds.values() if not kind.drawing_complete]
    found: list[str] = []
    for item in node.items:
        word = item.text.strip() if isinstance(item, Scalar) else ""
        if word in open_kinds and word not in found:
            found.append(word)
        else:
            _tell_not_open(word, item.at, open_kinds, catalog, problems, twice=word in found)
    return frozenset(found)


def _tell_not_open(
    word: str, at: Position, open_kinds: list[str], catalog: Catalog, problems: ProblemList, *, twice: bool
) -> None:
    remedy = f"It lists {', '.join(open_kinds)}."
    if twice:
        problems.add(f"complete: {word} stands twice.", at, "Keep one of the two.")
    elif word in catalog.kinds:
        problems.add(f"complete: every {catalog.kinds[word].title} is taken as drawn already.", at, remedy)
    elif word in catalog.lists:
        problems.add(f"complete: {word} is a list.", at, f"Write {word}: {{complete: yes, list: [...]}}.")
    else:
        near = problems.near(word, open_kinds)
        problems.add(f"complete: {quoted(word)} is not a kind of equipment.", at, remedy, near)
