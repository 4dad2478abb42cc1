"""The files of a pack: found, read, checked for their shape, and digested."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from checker.files.yaml.strict_yaml import read_bytes, read_text
from checker.files.yaml.tree import Entry, Mapping, Node
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.shape_check import Path as NodePath
from checker.rules.reading.shape_check import is_broken, sound_shape
from checker.rules.schemas.published import pack_shape
from checker.rules.schemas.words import Schema
from checker.values.problems import Unreadable


@dataclass(frozen=True, slots=True)
class PackFile:
    """One file: its name as shown, what it holds, its digest, and the paths in it that are not shaped as they must
    be.
    """

    name: str
    path: Path
    root: Mapping
    digest: str
    broken: frozenset[NodePath]

    def entries(self, section: str) -> Iterator[tuple[Entry, bool]]:
        """The entries of a section, each with whether its shape is sound."""
        node = self.root.get(section)
        if isinstance(node, Mapping):
            for entry in node.entries:
                yield entry, not is_broken(self.broken, (section, entry.key))

    @property
    def head_is_sound(self) -> bool:
        """Whether everything outside rules, parameters and tables is shaped as it must be."""
        return all(path[:1] and path[0] in ("rules", "parameters", "tables") for path in self.broken)


def read_files(paths: Iterable[Path], shown: str, problems: ProblemList) -> tuple[PackFile, ...]:
    """Every file that can be read; what is wrong with the others is told."""
    read = (read_pack_file(path, f"{shown}/{path.name}", problems) for path in paths)
    return tuple(each for each in read if each is not None)


def read_pack_file(path: Path, shown: str, problems: ProblemList) -> PackFile | None:
    """One file; None where it cannot be read, which is told."""
    try:
        content = read_bytes(path, shown)
        root: Node = read_text(content, shown)
    except Unreadable as error:
        problems.extend(error.problems)
        return None
    if not isinstance(root, Mapping):
        problems.add(
            "This file is no mapping of rules, parameters and tables.", root.at, "Write `rules:` and the rules below."
        )
        return None
    meant, broken = sound_shape(root, _shape(), problems)
    return PackFile(shown, path, nodes.mapping(meant), hashlib.sha256(content).hexdigest(), broken)


@cache
def _shape() -> Schema:
    return pack_shape()


def digest_of(files: Iterable[PackFile]) -> str:
    """One digest for all files: it changes with any of them and does not depend on where they lie."""
    whole = hashlib.sha256()
    for each in files:
        whole.update(f"{each.path.name} {each.digest}\n".encode())
    return whole.hexdigest()
