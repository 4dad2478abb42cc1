"""Pieces of YAML as a person would write them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from checker.files.folders import data_folder
from checker.files.yaml.tree import Mapping as MappingNode
from checker.files.yaml.tree import Node, Scalar, Sequence

_PLAIN = re.compile(
    r"[A-Za-z][A-Za-z0-9_. ()/'%+-]*[A-Za-z0-9)%]|[A-Za-z]|[0-9][0-9.,]* [A-Za-z0-9 ]*[A-Za-z0-9]"
).fullmatch
_WORDS = frozenset({"yes", "no", "true", "false", "on", "off", "null", "none", "unknown", "y", "n"})


def quoted(text: str) -> str:
    """A text as a value: bare where nobody can take it for anything else, otherwise in quotes."""
    bare = _PLAIN(text) and text.lower() not in _WORDS and ": " not in text and " #" not in text and "," not in text
    return text if bare else json.dumps(text, ensure_ascii=False)


def in_quotes(text: str) -> str:
    """A text in quotes, whatever stands in it."""
    return json.dumps(text, ensure_ascii=False)


def flow(values: Mapping[str, str]) -> str:
    """A mapping on one line; the values are YAML already."""
    return "{" + ", ".join(f"{key}: {value}" for key, value in values.items()) + "}"


def listed(values: Iterable[str]) -> str:
    """A list on one line; the values are YAML already."""
    return f"[{', '.join(values)}]"


def node_text(node: Node) -> str:
    """What was read, written on one line again."""
    if isinstance(node, MappingNode):
        return flow({_key(entry.key): node_text(entry.value) for entry in node.entries})
    if isinstance(node, Sequence):
        return listed(map(node_text, node.items))
    assert isinstance(node, Scalar)
    return json.dumps(node.text, ensure_ascii=False) if node.quoted or node.block or "," in node.text else node.text


def _key(key: str) -> str:
    return key if re.fullmatch(r"[A-Za-z0-9_.-]+", key) else json.dumps(key, ensure_ascii=False)


def comment(lines: Iterable[str], indent: str = "") -> str:
    """Lines that only a person reads."""
    return "".join(f"{indent}# {line}".rstrip() + "\n" for line in lines)


def schema_line(folder: Path, name: str) -> str:
    """The first line of a file, by which an editor with a YAML language server finds its schema.

    A path from the file where the schemas lie in the same project, otherwise the address of the installed file.
    """
    schemas = data_folder("schemas").resolve()
    target, here = schemas / f"{name}.schema.json", folder.resolve()
    if here.is_relative_to(schemas.parent):
        up = len(here.relative_to(schemas.parent).parts)
        return f"# yaml-language-server: $schema={'../' * up or './'}{schemas.name}/{target.name}\n"
    return f"# yaml-language-server: $schema={target.as_uri()}\n"
