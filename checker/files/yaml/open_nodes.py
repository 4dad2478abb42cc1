"""Mappings and lists while they are being read."""

from __future__ import annotations

from dataclasses import dataclass, field

from checker.files.yaml.lost_text import Span
from checker.files.yaml.tree import Entry, Mapping, Node, Sequence
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class WaitingKey:
    """A key that waits for its value.

    ``text`` is None where the key itself was refused. ``has_colon`` is false only for a text that stands in braces
    without a value.
    """

    text: str | None
    at: Position
    span: Span
    has_colon: bool = True


@dataclass(slots=True)
class OpenNode:
    """A mapping, a list or a document whose end has not come yet; ``is_key`` if it stands where a key should."""

    at: Position
    is_mapping: bool
    in_flow: bool
    is_key: bool = False
    key: WaitingKey | None = None
    # The last plain value in braces or brackets and its key: a text cut off at a comma may belong to it.
    last: Span | None = None
    last_key: str = ""
    cut: Span | None = None
    first_places: dict[str, Position] = field(default_factory=dict)
    _entries: list[Entry] = field(default_factory=list)
    _items: list[Node] = field(default_factory=list)

    @property
    def wants_key(self) -> bool:
        """Whether the next node is a key."""
        return self.is_mapping and self.key is None

    @property
    def key_text(self) -> str | None:
        """The key that waits for its value, if there is one."""
        return self.key.text if self.key else None

    def put(self, node: Node) -> None:
        """Take a finished value; one without a usable key is dropped (a problem was told already)."""
        if not self.is_mapping:
            self._items.append(node)
            return
        key, self.key = self.key, None
        if key is not None and key.text is not None and key.has_colon:
            self.last_key = key.text
            self._entries.append(Entry(key.text, key.at, node))

    def only_item(self) -> Node:
        """The content of a document."""
        return self._items[0]

    def closed(self) -> Node:
        """The finished mapping or list."""
        return Mapping(tuple(self._entries), self.at) if self.is_mapping else Sequence(tuple(self._items), self.at)
