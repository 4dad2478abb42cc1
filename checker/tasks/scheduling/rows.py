"""Which facts a schedule lists for which kind of piece, and which of them hang together: ``shared/schedule.yaml``."""

from __future__ import annotations

from dataclasses import dataclass

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping, Node, Scalar, Sequence


@dataclass(frozen=True, slots=True)
class Section:
    """One table of a schedule: its title, the kinds of its columns, and the facts of its rows in order."""

    title: str
    kinds: tuple[str, ...]
    facts: tuple[str, ...]
    ways: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Hanging:
    """Facts that are told together, seen from a piece of one kind; the last one for each combination of the others."""

    title: str
    of: str
    facts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ordinary:
    """Facts of a run, as typed in a site file, under which a size is told besides where they are open; and the same in
    words.
    """

    says: str
    facts: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Rows:
    """Everything that the file says. ``figures`` names for each figure the piece of the run of which it is a figure;
    ``decisions`` are facts that somebody has chosen, ``of_the_supply`` those that the supply gives, ``no_more`` those
    of which no more is ordered than is wanted, ``by_size`` those that are bought in standard sizes, ``of_its_own``
    those that only rules about the piece itself bound.
    """

    sections: tuple[Section, ...]
    together: tuple[Hanging, ...]
    figures: tuple[tuple[str, str], ...] = ()
    ordinary: Ordinary = Ordinary("")
    decisions: tuple[str, ...] = ()
    of_the_supply: tuple[str, ...] = ()
    no_more: tuple[str, ...] = ()
    by_size: tuple[str, ...] = ()
    of_its_own: tuple[str, ...] = ()


FILE = "schedule.yaml"


def read_rows() -> Rows:
    """The rows of every schedule."""
    node = read_file(data_folder("shared") / FILE, FILE)
    assert isinstance(node, Mapping)
    return Rows(
        tuple(
            Section(_text(each, "title"), _texts(each, "kinds"), _texts(each, "facts"), _texts(each, "ways"))
            for each in _items(node, "columns")
        ),
        tuple(
            Hanging(_text(each, "title"), _text(each, "of"), _texts(each, "facts")) for each in _items(node, "together")
        ),
        _pairs(node, "figures"),
        Ordinary(_text(_under(node, "ordinary"), "says"), _pairs(_under(node, "ordinary"), "facts")),
        *(_texts(node, key) for key in ("decisions", "of_the_supply", "no_more", "by_size", "of_its_own")),
    )


def _under(node: Mapping, key: str) -> Mapping:
    found = node.get(key)
    assert isinstance(found, Mapping)
    return found


def _pairs(node: Mapping, key: str) -> tuple[tuple[str, str], ...]:
    found = _under(node, key)
    return tuple((entry.key, _text(found, entry.key)) for entry in found.entries)


def _items(node: Mapping, key: str) -> tuple[Node, ...]:
    found = node.get(key)
    assert isinstance(found, Sequence)
    return tuple(found.items)


def _text(node: Node, key: str) -> str:
    assert isinstance(node, Mapping)
    found = node.get(key)
    assert isinstance(found, Scalar)
    return found.text


def _texts(node: Node, key: str) -> tuple[str, ...]:
    assert isinstance(node, Mapping)
    found = node.get(key)
    if found is None:
        return ()
    assert isinstance(found, Sequence)
    return tuple(item.text for item in found.items if isinstance(item, Scalar))
