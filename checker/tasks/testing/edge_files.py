"""Reads and writes the kept edges of a pack: ``edges/NAME.yaml`` in its folder."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import Mapping, Node, Scalar, Sequence
from checker.rules.model.pack import Pack
from checker.tasks.testing.edges import Edge, by_file, edge_file
from checker.values.problems import Problem, Unreadable

_HEAD = "# Worked out by `rules test --edges` from the cases, and looked at by somebody. Written by the program.\n"
_KEYS = ("case", "where", "fact", "exact", "shown", "outcome")


def kept_edges(pack: Pack) -> tuple[Edge, ...]:
    """The edges that somebody looked at, of every file of the pack; none where there is no such folder."""
    folder = Path(pack.folder) / "edges"
    return tuple(edge for path in sorted(folder.glob("*.yaml")) for edge in _read(path))


def _read(path: Path) -> Iterator[Edge]:
    node = read_file(path, f"{path.parent.parent.name}/edges/{path.name}")
    rules = node.get("edges") if isinstance(node, Mapping) else None
    if not isinstance(rules, Mapping):
        remedy = "Delete it and let `rules test --edges --keep NAME` write it again."
        raise Unreadable([Problem("This file holds no edges.", node.at, remedy)])
    for entry in rules.entries:
        for item in entry.value.items if isinstance(entry.value, Sequence) else ():
            yield _edge(entry.key, item)


def _edge(rule: str, node: Node) -> Edge:
    texts = {key: _text(node, key) for key in (*_KEYS, "in")}
    return Edge(
        rule,
        texts["in"] or None,
        texts["case"],
        texts["where"],
        texts["fact"],
        texts["exact"],
        texts["shown"],
        texts["outcome"],
    )


def _text(node: Node, key: str) -> str:
    value = node.get(key) if isinstance(node, Mapping) else None
    return value.text if isinstance(value, Scalar) else ""


def keep_edges(pack: Pack, edges: tuple[Edge, ...], kept_by: str) -> tuple[Path, ...]:
    """Write the edges of a pack, one file beside each file of rules, with the name of who looked at them."""
    written: list[Path] = []
    for name, group in sorted(by_file(pack, edges).items()):
        path = edge_file(pack, name)
        path.parent.mkdir(exist_ok=True)
        path.write_text(_file_text(group, kept_by), encoding="utf-8", newline="\n")
        written.append(path)
    return tuple(written)


def _file_text(edges: tuple[Edge, ...], kept_by: str) -> str:
    lines = [_HEAD, f"kept_by: {json.dumps(kept_by)}\n", "edges:\n"]
    rule = None
    for edge in edges:
        if edge.rule != rule:
            lines.append(f"  {edge.rule}:\n")
            rule = edge.rule
        lines.append(f"    - {{{', '.join(_pairs(edge))}}}\n")
    return "".join(lines)


def _pairs(edge: Edge) -> Iterator[str]:
    if edge.edition:
        yield f"in: {json.dumps(edge.edition)}"
    for key in _KEYS:
        value = getattr(edge, key)
        if value:
            yield f"{key}: {json.dumps(value, ensure_ascii=False)}"
