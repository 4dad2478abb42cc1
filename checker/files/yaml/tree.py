"""What a file says, as typed: texts, mappings and lists, each with the place where it stands.

Nothing is resolved here: ``017``, ``1:30``, ``2024-03-11``, ``no`` and ``1e3`` stay text until the fact catalog says
what they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import TypeAlias

from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class Scalar:
    """A single text.

    ``quoted`` is true for text in single or double quotes, ``block`` for text below ``|`` or ``>``, where ``#`` begins
    no comment. ``line_text`` is the line on which the text begins, as typed; None for a text that no file holds.
    """

    text: str
    at: Position
    quoted: bool = False
    line_text: str | None = field(default=None, repr=False)
    block: bool = False


@dataclass(frozen=True, slots=True)
class Entry:
    """A key and its value; ``at`` is the place of the key."""

    key: str
    at: Position
    value: Node


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order of the file, every key once."""

    entries: tuple[Entry, ...]
    at: Position
    _by_key: dict[str, Entry] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_key", {entry.key: entry for entry in self.entries})

    def get(self, key: str) -> Node | None:
        """The value under ``key``, or None."""
        entry = self._by_key.get(key)
        return entry.value if entry else None

    def entry(self, key: str) -> Entry | None:
        """The entry of ``key`` with the place of the key, or None."""
        return self._by_key.get(key)

    def keys(self) -> tuple[str, ...]:
        """All keys in the order of the file."""
        return tuple(self._by_key)


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple[Node, ...]
    at: Position


Node: TypeAlias = Scalar | Mapping | Sequence
Plain: TypeAlias = "dict[str, Plain] | list[Plain] | str | int | bool"

_FLAGS = {"yes": True, "true": True, "no": False, "false": False}
# Eighteen digits are more than any count needs; an endless run of digits is slow to convert and stays text.
_WHOLE_NUMBER = re.compile(r"-?[1-9][0-9]{0,17}|0")


def plain(node: Node) -> Plain:
    """The same content as dict, list, str, int and bool, for schema validators.

    Unquoted yes, no, true and false become bool; an unquoted whole number without leading zero becomes int; all else
    stays text, so ``230.85`` remains "230.85".
    """
    if isinstance(node, Mapping):
        return {entry.key: plain(entry.value) for entry in node.entries}
    if isinstance(node, Sequence):
        return [plain(item) for item in node.items]
    if node.quoted or node.block:
        return node.text
    if node.text in _FLAGS:
        return _FLAGS[node.text]
    return int(node.text) if _WHOLE_NUMBER.fullmatch(node.text) else node.text


def find(node: Node, path: Iterable[str | int]) -> Node | None:
    """What stands at ``path`` (keys, and places in lists from 0) below ``node``, or None if the path leads nowhere."""
    here: Node | None = node
    for step in path:
        if here is None:
            return None
        here = _below(here, step)
    return here


def find_deepest(node: Node, path: Iterable[str | int]) -> Node:
    """The last node on the way along ``path`` that exists; ``node`` itself if not even the first step does."""
    here = node
    for step in path:
        below = _below(here, step)
        if below is None:
            break
        here = below
    return here


def _below(node: Node, step: str | int) -> Node | None:
    if isinstance(node, Mapping) and isinstance(step, str):
        return node.get(step)
    if isinstance(node, Sequence) and isinstance(step, int) and 0 <= step < len(node.items):
        return node.items[step]
    return None
