"""What is asked before anything else: what a person knows best, and all else hangs on; and what before any paper."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from functools import cache

from checker.facts.known import Ask, Leaf
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping as MappingNode
from checker.rules.reading import nodes


class Turn(Enum):
    """When something that a person knows best is asked."""

    FIRST = "first"
    THEN = "then"
    BEFORE_PAPERS = "before_papers"


@dataclass(frozen=True, slots=True)
class _Asked:
    """When something is asked, its place in that turn, and whether only the whole of a structure is asked then."""

    turn: Turn
    place: int
    whole_alone: bool


@cache
def _places() -> Mapping[tuple[str, str], _Asked]:
    """When each is asked, by fact and type of subject, of a list or a kind by its name."""
    rows = (
        (turn, place, nodes.mapping(each))
        for turn in Turn
        for place, each in enumerate(nodes.items(_root().get(turn.value)))
    )
    return {
        key: _Asked(turn, place, nodes.flag(row.get("whole")) is True)
        for turn, place, row in rows
        for key in _keys_of(row)
    }


def _keys_of(row: MappingNode) -> tuple[tuple[str, str], ...]:
    if row.get("list") is not None:
        return ((nodes.text(row.get("list")), _LIST),)
    if row.get("exists") is not None:
        return ((nodes.text(row.get("exists")), _EXISTS),)
    return tuple((nodes.text(row.get("fact")), kind) for kind in nodes.texts(row.get("of")))


_LIST, _EXISTS = "list", "exists"
"""What stands for the type of subject where it is asked whether a list is whole, or another piece of a kind there."""


def turn_of(leaf: Leaf) -> tuple[Turn, int] | None:
    """When something is asked that a person knows best, the whole of a structure for its parts, unless it is listed as
    the whole alone; None for all else.
    """
    whole, _, part = leaf.name.partition(".")
    if leaf.ask is not Ask.FACT:
        found, part = _places().get((leaf.name, _LIST if leaf.ask is Ask.MORE else _EXISTS)), ""
    else:
        found = _places().get((whole, leaf.subject.type))
    return None if found is None or (part and found.whole_alone) else (found.turn, found.place)


def listed(turn: Turn) -> tuple[tuple[str, str], ...]:
    """Every fact that is asked in a turn, with its type of subject; a list with ``list``, a kind with ``exists``."""
    return tuple(each for each, found in _places().items() if found.turn is turn)


def waits_for(leaf: Leaf) -> tuple[Leaf, ...]:
    """What has to be asked of the same thing before a fact, or before a part of it: the whole before its parts, too."""
    if leaf.ask is not Ask.FACT:
        return ()
    whole, _, part = leaf.name.partition(".")
    before = tuple(Leaf(leaf.subject, before) for fact, before in one_before_another() if fact == whole)
    return (*before, Leaf(leaf.subject, whole)) if part else before


@cache
def one_before_another() -> tuple[tuple[str, str], ...]:
    """Facts, each with one that is asked of the same thing before it."""
    rows = (nodes.mapping(each) for each in nodes.items(_root().get("one_before_another")))
    return tuple((nodes.text(row.get("fact")), nodes.text(row.get("waits_for"))) for row in rows)


@cache
def _root() -> MappingNode:
    return nodes.mapping(read_file(data_folder("shared") / "first-questions.yaml", "first-questions.yaml"))
