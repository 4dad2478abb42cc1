"""An answer as YAML, and its place in the site file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.names import (
    COMPLETE,
    EQUIPMENT,
    LIST,
    PAIRS,
    PERMIT,
    RUNS,
    SITE_SECTION,
    WAYS,
    pair_name,
    way_reference,
)
from checker.facts.known import Ask, Leaf
from checker.files.editing import CannotEdit, at, tree_of, with_complete_list, with_item, with_value
from checker.files.yaml.placed import Placed, PlacedMapping, PlacedScalar, PlacedSequence
from checker.site.model import SITE, Site, Subject
from checker.tasks.drafting.yaml_text import flow, quoted
from checker.tasks.questions.asked import NO, NONE, YES

Path = list[str | int]

_BARE = re.compile(r"[A-Za-z_]+").fullmatch
_WHOLE_NUMBER = re.compile(r"0|[1-9][0-9]{0,8}").fullmatch
_UNKNOWN = "unknown"


def yaml_of(fact: Fact, words: Iterable[str]) -> str:
    """One answer as YAML, or several words of a fact that holds several."""
    texts = [_one(fact, each) for each in words]
    if fact.several and texts != [NONE]:
        return f"[{', '.join(texts)}]"
    return texts[0]


def _one(fact: Fact, word: str) -> str:
    if word in (YES, NO, NONE) or (fact.choices and word in fact.choices and _BARE(word)):
        return word
    return word if fact.type is ValueType.COUNT and _WHOLE_NUMBER(word) else quoted(word)


def with_fact(typed: bytes, site: Site, catalog: Catalog, leaf: Leaf, value: str) -> bytes:
    """The file with a value of a fact. Raises CannotEdit."""
    tree = tree_of(typed)
    base = _base(tree, site, catalog, leaf.subject)
    whole_name, _, part = leaf.name.partition(".")
    whole = catalog.facts[whole_name]
    if leaf.subject == SITE and whole_name == PERMIT:
        return with_value(typed, [PERMIT, part], value)
    here = [*base, whole_name]
    there = at(tree, here)
    if value == NONE and part and not catalog.facts[leaf.name].may_be_none:
        return with_value(typed, here, NONE)
    if not part:
        return with_value(typed, [*here, "value"] if _has_value(there) else here, value)
    if there is None or _is_unknown(there):
        return with_value(typed, here, value if part == whole.short_for else f"{{{part}: {value}}}")
    if isinstance(there, PlacedScalar):
        return with_value(typed, here, flow(_parts(there, whole, site, leaf) | {part: value}))
    below = at(tree, [*here, part])
    return with_value(typed, [*here, part, "value"] if _has_value(below) else [*here, part], value)


def with_closed(typed: bytes, leaf: Leaf) -> bytes:
    """The file with word that a list is complete, or that all pieces of a kind are drawn. Raises CannotEdit."""
    if leaf.ask is Ask.EXISTS:
        return with_item(typed, [SITE_SECTION, COMPLETE], leaf.name)
    on = leaf.subject.id
    return with_complete_list(typed, [leaf.name] if on == SITE.id else [EQUIPMENT, on, leaf.name])


def with_listed(typed: bytes, name: str, facts: Mapping[str, str]) -> bytes:
    """The file with one more member of a list of the site. Raises CannotEdit."""
    there = at(tree_of(typed), [name])
    path: Path = [name, LIST] if isinstance(there, PlacedMapping) else [name]
    return with_item(typed, path, flow(facts))


def with_piece(typed: bytes, tag: str, kind: str, facts: Mapping[str, str]) -> bytes:
    """The file with one more piece of equipment. Raises CannotEdit."""
    return with_value(typed, [EQUIPMENT, tag], flow({"kind": kind, **facts}))


def _parts(there: PlacedScalar, whole: Fact, site: Site, leaf: Leaf) -> dict[str, str]:
    """What stands as one text, taken apart, so that another part can stand beside it."""
    if whole.quantity is not None:
        return {"value": quoted(there.text)}
    if whole.short_for is not None:
        return {whole.short_for: quoted(there.text)}
    stated = {part: site.stated(leaf.subject, f"{whole.name}.{part}") for part in whole.parts}
    return {part: _word(each.text) for part, each in stated.items() if each is not None}


def _word(text: str) -> str:
    return text if text in (YES, NO) or _WHOLE_NUMBER(text) else quoted(text)


def _has_value(node: Placed | None) -> bool:
    return isinstance(node, PlacedMapping) and any(entry.key == "value" for entry in node.entries)


def _is_unknown(node: Placed) -> bool:
    return isinstance(node, PlacedScalar) and node.text.strip() == _UNKNOWN


def _base(tree: Placed, site: Site, catalog: Catalog, subject: Subject) -> Path:
    """Where the facts of a subject stand in the file."""
    if subject == SITE:
        return [SITE_SECTION]
    if subject.type in catalog.kinds:
        return [EQUIPMENT, subject.id]
    if subject.type == "connection":
        return [RUNS, subject.id]
    if subject.type in catalog.pairs:
        return [PAIRS, _pair_as_written(tree, subject.id)]
    way = way_reference(subject.id)
    if way is not None and subject.type == "way":
        return [EQUIPMENT, way[1], WAYS, way[2]]
    return _member(tree, site, subject)


def _pair_as_written(tree: Placed, name: str) -> str:
    match = pair_name(name)
    turned = f"{match[2]}~{match[1]}" if match is not None else name
    return turned if at(tree, [PAIRS, turned]) is not None else name


def _member(tree: Placed, site: Site, subject: Subject) -> Path:
    for (name, on), members in site.lists.items():
        if subject in members.members:
            listed: Path = [name] if on == SITE.id else [EQUIPMENT, on, name]
            if not isinstance(at(tree, listed), PlacedSequence):
                listed.append(LIST)
            return [*listed, members.members.index(subject)]
    raise CannotEdit
