"""Changes one value in a YAML text and leaves every other character as it stands: comments, order, layout, line ends.

A text is changed by the places that the events of the reader give. What comes out is read again and compared: a change
that would have touched anything else is refused.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from checker.files.yaml.placed import Content, Placed, PlacedMapping, PlacedScalar, PlacedSequence, content, placed

Path = Sequence[str | int]
"""Keys, and places in lists from 0, from the top of a file."""

_WIDEST = 150
"""Columns up to which a line in braces may grow; past them the new key begins a line of its own."""
_LINE = "\n"
_BYTE_ORDER_MARK = "\ufeff"


class CannotEdit(Exception):
    """The text cannot take this value at this place without more being changed than that value."""


@dataclass(frozen=True, slots=True)
class Edit:
    """What stands in a text from ``start`` to before ``end`` gives way to ``text``."""

    start: int
    end: int
    text: str


def with_value(typed: bytes, path: Path, value: str) -> bytes:
    """The file with ``value``, YAML on one line, at ``path``: in the place of what is there, or new, with every mapping
    on the way that is not there yet. Raises CannotEdit.
    """
    text = _normal(typed)
    root = placed(text)
    edit = _put(text, root, list(path), value)
    after = _applied(text, edit)
    _check(after, _with(content(root), list(path), content(placed(value))))
    return _as_typed(typed, edit)


def with_item(typed: bytes, path: Path, item: str) -> bytes:
    """The file with one more item, YAML on one line, at the end of the list at ``path``, which is made where it is not
    there: at the top of a file with a line for each item. Raises CannotEdit.
    """
    text = _normal(typed)
    root = placed(text)
    listed = at(root, path)
    if listed is None and len(path) == 1 and not root_is_flow(root):
        return with_value(typed, path, f"\n  - {item}")
    if listed is None:
        return with_value(typed, path, f"[{item}]")
    if not isinstance(listed, PlacedSequence):
        raise CannotEdit
    edit = _append(text, listed, item)
    before = content(listed)
    assert isinstance(before, list)
    _check(_applied(text, edit), _with(content(root), list(path), [*before, content(placed(item))]))
    return _as_typed(typed, edit)


def with_complete_list(typed: bytes, path: Path) -> bytes:
    """The file with word that the list at ``path`` is complete; what it lists stays. Raises CannotEdit."""
    text = _normal(typed)
    root = placed(text)
    listed = at(root, path)
    if listed is None:
        return with_value(typed, path, "{complete: yes, list: []}")
    if not isinstance(listed, PlacedSequence):
        return with_value(typed, [*path, "complete"], "yes")
    edits = tuple(_wrapped(text, listed))
    after = text
    for each in reversed(edits):
        after = _applied(after, each)
    _check(after, _with(content(root), list(path), {"complete": "yes", "list": content(listed)}))
    return _as_typed(typed, *edits)


def at(root: Placed, path: Path) -> Placed | None:
    """What stands at a path, or None."""
    here: Placed | None = root
    for step in path:
        here = _below(here, step)
        if here is None:
            return None
    return here


def tree_of(typed: bytes) -> Placed:
    """The content of a file with its places. Raises CannotEdit where it is no single YAML document."""
    return placed(_normal(typed))


def _below(here: Placed | None, step: str | int) -> Placed | None:
    if isinstance(here, PlacedMapping) and isinstance(step, str):
        return next((entry.value for entry in here.entries if entry.key == step), None)
    if isinstance(here, PlacedSequence) and isinstance(step, int) and 0 <= step < len(here.items):
        return here.items[step]
    return None


# --- where the change goes -------------------------------------------------------------------------------------------


def _put(text: str, root: Placed, path: list[str | int], value: str) -> Edit:
    here = root
    for depth, step in enumerate(path):
        below = _below(here, step)
        if below is None:
            rest = path[depth + 1 :]
            if not isinstance(here, PlacedMapping) or not isinstance(step, str):
                raise CannotEdit
            return _new_entry(text, here, step, rest, value)
        here = below
    if (isinstance(here, PlacedScalar) and here.block) or (not isinstance(here, PlacedScalar) and not here.flow):
        raise CannotEdit
    return Edit(here.start, here.end, value)


def root_is_flow(root: Placed) -> bool:
    """Whether a file stands in braces, so that no line of it can begin a list."""
    return not isinstance(root, PlacedMapping) or root.flow


def _new_entry(text: str, mapping: PlacedMapping, key: str, rest: list[str | int], value: str) -> Edit:
    if mapping.flow:
        return _into_braces(text, mapping, f"{_as_key(key)}: {_nested(rest, value)}")
    column = _column(text, mapping.entries[0].start) if mapping.entries else 0
    lines = _lines(key, rest, value, " " * column)
    last = mapping.entries[-1]
    end = _end_of_line(text, last.value.end)
    if isinstance(last.value, PlacedScalar) and last.value.block:
        raise CannotEdit
    return Edit(end, end, f"\n{lines}")


def _lines(key: str, rest: list[str | int], value: str, indent: str) -> str:
    """A section of its own begins a line below its key, everything deeper stands in braces."""
    if rest and not indent:
        first = str(rest[0])
        return f"{_as_key(key)}:\n  {_as_key(first)}: {_nested(rest[1:], value)}"
    nested = _nested(rest, value)
    return f"{indent}{_as_key(key)}:{nested if nested.startswith(_LINE) else f' {nested}'}"


def _nested(rest: list[str | int], value: str) -> str:
    for step in reversed(rest):
        value = f"{{{_as_key(str(step))}: {value}}}"
    return value


def _into_braces(text: str, mapping: PlacedMapping, entry: str) -> Edit:
    if not mapping.entries:
        return Edit(mapping.start + 1, mapping.start + 1, entry)
    place = mapping.entries[-1].value.end
    width = _column(text, place) + len(entry) + 2
    if width <= _WIDEST:
        return Edit(place, place, f", {entry}")
    indent = " " * _column(text, mapping.entries[0].start)
    return Edit(place, place, f",\n{indent}{entry}")


def _append(text: str, listed: PlacedSequence, item: str) -> Edit:
    if listed.flow and listed.items:
        return Edit(listed.items[-1].end, listed.items[-1].end, f", {item}")
    if listed.flow:
        return Edit(listed.start + 1, listed.start + 1, item)
    end = _end_of_line(text, listed.items[-1].end)
    return Edit(end, end, f"\n{' ' * _column(text, listed.start)}- {item}")


def _wrapped(text: str, listed: PlacedSequence) -> Iterable[Edit]:
    """A list with the mapping round it that can say that it is complete."""
    if listed.flow:
        yield Edit(listed.start, listed.start, "{complete: yes, list: ")
        yield Edit(listed.end, listed.end, "}")
        return
    indent = " " * _column(text, listed.start)
    line = listed.start - len(indent)
    yield Edit(line, line, f"{indent}complete: yes\n{indent}list:\n")


def _as_key(key: str) -> str:
    """Keys are tags, connections and names of facts, which YAML reads as they are; anything else is not written."""
    if not key or not all(char.isalnum() or char in "_-.>~/" for char in key) or key[0] in "->~":
        raise CannotEdit
    return key


def _column(text: str, index: int) -> int:
    return index - (text.rfind("\n", 0, index) + 1)


def _end_of_line(text: str, index: int) -> int:
    end = text.find("\n", index)
    return len(text) if end < 0 else end


# --- the same but for one value --------------------------------------------------------------------------------------


def _with(tree: Content, path: list[str | int], value: Content) -> Content:
    if not path:
        return value
    step, *rest = path
    if isinstance(tree, dict) and isinstance(step, str):
        return {**tree, step: _with(tree.get(step, {}), rest, value)}
    if isinstance(tree, list) and isinstance(step, int):
        return [_with(each, rest, value) if place == step else each for place, each in enumerate(tree)]
    raise CannotEdit


def _check(after: str, wanted: Content) -> None:
    try:
        found = content(placed(after))
    except ValueError:
        raise CannotEdit from None
    if found != wanted:
        raise CannotEdit


# --- the characters of the file --------------------------------------------------------------------------------------


def _normal(typed: bytes) -> str:
    return typed.decode("utf-8").removeprefix(_BYTE_ORDER_MARK).replace("\r\n", "\n")


def _applied(text: str, edit: Edit) -> str:
    return text[: edit.start] + edit.text + text[edit.end :]


def _as_typed(typed: bytes, *edits: Edit) -> bytes:
    """The changes made in the file itself, whose lines may end in two characters."""
    text = typed.decode("utf-8")
    mark = len(text) - len(text.removeprefix(_BYTE_ORDER_MARK))
    ends = [place for place, char in enumerate(_normal(typed)) if char == "\n"]
    pairs = _pairs(text[mark:])
    double = [end for end, is_pair in zip(ends, pairs, strict=True) if is_pair]
    line_end = "\r\n" if pairs[:1] == [True] else "\n"
    for each in reversed(edits):
        start, end = (mark + place + sum(1 for end in double if end < place) for place in (each.start, each.end))
        text = text[:start] + each.text.replace("\n", line_end) + text[end:]
    return text.encode("utf-8")


def _pairs(text: str) -> list[bool]:
    """Of each line feed, whether a carriage return stands before it."""
    return [place > 0 and text[place - 1] == "\r" for place, char in enumerate(text) if char == "\n"]
