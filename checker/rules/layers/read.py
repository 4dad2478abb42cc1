"""Reads a layer: a file in which an authority says what it changes."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

from checker.catalog.model import Catalog
from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import Entry, Mapping, Node
from checker.rules.grammar import NO_EDITION
from checker.rules.layers import model
from checker.rules.layers.declared import declared_papers
from checker.rules.layers.head import LayerHead, read_head
from checker.rules.layers.operations import OperationReader
from checker.rules.layers.own_papers import knowing, papers_of
from checker.rules.layers.shelf import Shelf
from checker.rules.model.force import Basis
from checker.rules.model.numbers import Parameter, Table
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.block_texts import printed_notes
from checker.rules.reading.citing import day
from checker.rules.reading.shape_check import sound_shape
from checker.rules.schemas.layers import OPERATIONS
from checker.rules.schemas.published import layer_shape
from checker.rules.schemas.words import Schema
from checker.rules.vocabulary import Vocabulary
from checker.rules.wording import choice_of, listing
from checker.values.positions import Position

_PRACTICE_MAY = ("add", "ask_for", "confirm")
"""What unwritten practice can do: advise, and say what it has looked up. It changes nobody's rule."""

_COMMON = ("from", "until", "cites", "reason", "over")
_WITH: dict[str, tuple[str, ...]] = {
    "replace": ("with",),
    "set": ("to", "exceptions"),
    "widen": ("when",),
    "narrow": ("when",),
    "confirm": ("checked",),
    "redirect": ("to",),
    "pre_empt": ("layers",),
}
"""The words that stand beside an operation."""
_NEEDS = {"replace": "with", "set": "to", "widen": "when", "narrow": "when", "confirm": "checked", "redirect": "to"}


def read_layer(path: Path, catalog: Catalog, shelf: Shelf, shown_as: str | None = None) -> model.Layer:
    """The layer in a file, its targets found on the shelf. Raises Unreadable with everything that is wrong in it."""
    return read_layer_noting(path, catalog, shelf, ProblemList(), shown_as)


def read_layer_noting(
    path: Path, catalog: Catalog, shelf: Shelf, notes: ProblemList, shown_as: str | None = None
) -> model.Layer:
    """The same; what is no mistake but deserves a second look is added to the notes."""
    shown = shown_as or (path.name if path.is_absolute() else path.as_posix())
    content = read_bytes(path, shown)
    root: Node = read_text(content, shown)
    problems = ProblemList()
    sound_shape(root, _shape(), problems)
    problems.raise_if_any()
    notes.extend(printed_notes(root))
    below = knowing(catalog, papers_of(shelf.layers))
    head = read_head(nodes.mapping(root), Vocabulary(below), shelf, problems, notes)
    papers = declared_papers(head)
    head = replace(head, vocabulary=Vocabulary(knowing(below, papers)), papers=papers)
    layer = _LayerReader(head).read(shown, hashlib.sha256(content).hexdigest())
    problems.raise_if_any()
    return layer


@cache
def _shape() -> Schema:
    return layer_shape()


class _LayerReader:
    """Reads the changes below a head: which operation each is, its dates and what it rests on."""

    def __init__(self, head: LayerHead) -> None:
        self._layer = head
        self._problems = head.problems
        self._operations = OperationReader(head)

    def read(self, file: str, digest: str) -> model.Layer:
        """The whole layer."""
        changes = tuple(self._changes())
        self._check_ids(changes)
        numbers = self._layer.numbers
        return model.Layer(
            self._layer.head.id,
            self._layer.head.title,
            self._layer.head.document,
            nodes.text(self._layer.root.get("authority")),
            self._layer.head.basis or Basis.LAW,
            self._layer.amends,
            changes,
            {name: each.values[NO_EDITION] for name, each in numbers.parameters.items() if each and each.values},
            {name: each.values[NO_EDITION] for name, each in numbers.tables.items() if each and each.values},
            {name: each.title for name, each in numbers.parameters.items() if each is not None},
            file,
            digest,
            self._layer.root.at,
            numbers_at={name: each.at for name, each in self._own_numbers()},
            papers=self._layer.papers,
        )

    def _own_numbers(self) -> Iterator[tuple[str, Parameter | Table]]:
        for known in (self._layer.numbers.parameters, self._layer.numbers.tables):
            yield from ((name, each) for name, each in known.items() if each is not None)

    def _changes(self) -> Iterator[model.Change]:
        for number, item in enumerate(nodes.items(self._layer.root.get("changes")), start=1):
            node = nodes.mapping(item)
            entry = self._operation(node)
            if entry is not None:
                yield from self._operations.read(entry, node, self._terms(entry, node, number))

    def _operation(self, node: Mapping) -> Entry | None:
        """The one operation of a change; what else is written beside it must belong to it."""
        found = [each for each in node.entries if each.key in OPERATIONS]
        if len(found) != 1:
            named = listing([f"`{each.key}`" for each in found])
            sentence = f"This change does {len(found)} things: {named}." if found else "This change does nothing."
            self._problems.add(sentence, node.at, f"Write one of {choice_of(OPERATIONS)}.")
            return None
        entry = found[0]
        beside = {*_COMMON, *_WITH.get(entry.key, ())}
        for each in node.entries:
            if each is not entry and each.key not in beside:
                self._problems.add(
                    f"`{each.key}` does not belong to `{entry.key}`.",
                    each.at,
                    f"Beside `{entry.key}` stand {choice_of(sorted(beside))}.",
                )
        needed = _NEEDS.get(entry.key)
        if needed is not None and node.get(needed) is None:
            self._problems.add(f"`{entry.key}` does not say to what.", entry.at, f"Write `{needed}:` beside it.")
            return None
        if self._layer.head.rests_on_practice and entry.key not in _PRACTICE_MAY:
            self._problems.add(
                f"Practice cannot {entry.key.replace('_', ' ')} a rule of somebody else.",
                entry.at,
                "Add a recommendation of its own, or give the layer the basis on which it changes the rule.",
            )
            return None
        return entry

    def _terms(self, entry: Entry, node: Mapping, number: int) -> model.Terms:
        start, until = (day(node.get(key), key, self._problems) for key in ("from", "until"))
        if start is not None and until is not None and until < start:
            self._problems.add(
                "This change ends before it begins.", nodes.place(node, "until"), "Turn the dates round."
            )
        cites = self._layer.cites(node.get("cites"))
        if not cites and not self._layer.head.rests_on_practice:
            self._problems.add(
                "This change does not say what it rests on.",
                entry.at,
                "Write `cites: [{section: ...}]` with the section of the ordinance.",
            )
        reason, over = nodes.text(node.get("reason")), nodes.texts(node.get("over"))
        return model.Terms(number, entry.key, start, until, cites, reason, over, entry.at)

    def _check_ids(self, changes: tuple[model.Change, ...]) -> None:
        seen: dict[str, Position] = {}
        for each in changes:
            if isinstance(each.what, model.AddRule):
                name = each.what.rule.id
                if name in seen:
                    self._problems.add(f"`{name}` is added twice.", each.terms.at, f"The other stands at {seen[name]}.")
                seen.setdefault(name, each.terms.at)
