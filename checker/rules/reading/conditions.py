"""Conditions: comparisons, joined and asked about several things."""

from __future__ import annotations

from dataclasses import replace

from checker.files.yaml.tree import Entry, Node
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.grammar import BESIDE, FOLDS, GROUPS, MOST_GROUPS, RESERVED
from checker.rules.model.conditions import Condition, Count, FactPath, Fold, Group, Not
from checker.rules.model.force import Editions
from checker.rules.reading import nodes
from checker.rules.reading.citing import check_edition
from checker.rules.reading.comparisons import read_comparison, read_count_tests
from checker.rules.reading.operands import tell_not_found
from checker.rules.reading.scope import Scope
from checker.rules.vocabulary import Around, NotFound

_JOINING = frozenset({*GROUPS, *FOLDS, "not", "count"})


def read_condition(node: Node, around: Around, scope: Scope) -> Condition | None:
    """One condition; None where nothing of it could be read. What is wrong is told."""
    return _Conditions(scope).read(node, around, depth=0)


def read_editions(node: Node | None, scope: Scope) -> Editions:
    """The editions of an ``in``; those in which the rule does not exist are told."""
    known = set()
    for item in nodes.items(node):
        name = nodes.scalar(item)
        if check_edition(name.text.strip(), name.at, scope.editions, scope.problems):
            known.add(name.text.strip())
    return frozenset(known)


def check_part_name(entry_name: str, entry: Entry, scope: Scope) -> None:
    """Tell a name of a part that is a word of the grammar."""
    if entry_name in RESERVED:
        scope.problems.add(
            f"`{entry_name}` is a word of the grammar and no name of a part.", entry.at, "Take another name."
        )


class _Conditions:
    """Reads the conditions of one rule."""

    def __init__(self, scope: Scope) -> None:
        self._scope = scope

    def read(self, node: Node, around: Around, depth: int) -> Condition | None:
        """One condition inside so many groups."""
        written = nodes.mapping(node)
        entry = next(each for each in written.entries if each.key not in BESIDE)
        found = self._bare(entry, around, depth)
        if found is None:
            return None
        part = written.entry("part")
        if part is not None:
            check_part_name(nodes.text(part.value), part, self._scope)
        name = None if part is None else nodes.text(part.value)
        return replace(found, part=name, editions=read_editions(written.get("in"), self._scope))

    def _bare(self, entry: Entry, around: Around, depth: int) -> Condition | None:
        if entry.key not in _JOINING:
            return read_comparison(entry, around, self._scope)
        if depth == MOST_GROUPS:
            self._scope.problems.add(
                f"More than {MOST_GROUPS} groups stand inside one another.",
                entry.at,
                "Add a derived fact to the catalog.",
            )
            return None
        if entry.key in GROUPS:
            read = (self.read(item, around, depth + 1) for item in nodes.items(entry.value))
            return Group(entry.key, tuple(each for each in read if each is not None))
        if entry.key == "not":
            inner = self.read(entry.value, around, depth + 1)
            return None if inner is None else Not(inner)
        return self._over_collection(entry, nodes.mapping(entry.value), around, depth + 1)

    def _over_collection(self, entry: Entry, node: MappingNode, around: Around, depth: int) -> Condition | None:
        name = nodes.scalar(node.get("of"))
        found = self._scope.vocabulary.collection(name.text.strip(), around)
        if isinstance(found, NotFound):
            tell_not_found(found, name.at, self._scope)
            return None
        members = around.inside(found.collection.members)
        where = self._inner(node.get("where"), members, depth)
        path = FactPath(found.links, found.collection.name, name.at)
        if entry.key == "count":
            return Count(path, where, read_count_tests(node, around, self._scope))
        that = self._inner(node.get("that"), members, depth)
        return Fold(entry.key, path, where, that, nodes.flag(node.get("if_empty")))

    def _inner(self, node: Node | None, members: Around, depth: int) -> Condition | None:
        return None if node is None else self.read(node, members, depth)
