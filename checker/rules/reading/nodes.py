"""Reading nodes whose shape has been checked: a wrong shape here is a mistake of the program, not of the file."""

from __future__ import annotations

from collections.abc import Iterator

from checker.files.yaml.tree import Entry, Mapping, Node, Scalar, Sequence
from checker.values.positions import Position

_FLAGS = {"yes": True, "true": True, "no": False, "false": False}


class ShapeMistake(TypeError):
    """A node is not what the schema promised."""


def mapping(node: Node | None) -> Mapping:
    """The node as a mapping."""
    if not isinstance(node, Mapping):
        raise ShapeMistake(f"a mapping was promised, not {type(node).__name__}")
    return node


def entries(node: Node | None) -> tuple[Entry, ...]:
    """The entries of a mapping; none where there is no node."""
    return () if node is None else mapping(node).entries


def items(node: Node | None) -> tuple[Node, ...]:
    """The items of a list; none where there is no node, and a single thing counts as a list of one."""
    if node is None:
        return ()
    return node.items if isinstance(node, Sequence) else (node,)


def scalar(node: Node | None) -> Scalar:
    """The node as a single text."""
    if not isinstance(node, Scalar):
        raise ShapeMistake(f"a text was promised, not {type(node).__name__}")
    return node


def text(node: Node | None, otherwise: str = "") -> str:
    """The text of a node, or what to take where there is none."""
    return otherwise if node is None else scalar(node).text.strip()


def texts(node: Node | None) -> tuple[str, ...]:
    """The texts of a list, or of a single text."""
    return tuple(text(item) for item in items(node))


def flag(node: Node | None) -> bool | None:
    """Yes or no; None where there is no node."""
    return None if node is None else _FLAGS[scalar(node).text]


def is_flag(node: Node) -> bool:
    """Whether the node says yes or no, not as a quoted text."""
    return isinstance(node, Scalar) and not node.quoted and not node.block and node.text in _FLAGS


def place(owner: Mapping, key: str) -> Position:
    """Where a key stands; the place of its owner if it does not."""
    entry = owner.entry(key)
    return owner.at if entry is None else entry.at


def scalars(node: Node) -> Iterator[Scalar]:
    """Every text at or below a node."""
    if isinstance(node, Scalar):
        yield node
        return
    children = (entry.value for entry in node.entries) if isinstance(node, Mapping) else iter(node.items)
    for child in children:
        yield from scalars(child)
