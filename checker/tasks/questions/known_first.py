"""What is asked before anything else: what a person knows best, and all else hangs on."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from checker.facts.known import Ask, Leaf
from checker.files.folders import data_folder
from checker.files.strict_yaml import read_file
from checker.rules import nodes


@cache
def _places() -> Mapping[tuple[str, str], int]:
    """The place in the order by fact and type of subject."""
    root = nodes.mapping(read_file(data_folder("shared") / "first-questions.yaml", "first-questions.yaml"))
    rows = [nodes.mapping(each) for each in nodes.items(root.get("first"))]
    return {
        (nodes.text(row.get("fact")), kind): place
        for place, row in enumerate(rows)
        for kind in nodes.texts(row.get("of"))
    }


def place_among_the_first(leaf: Leaf) -> int | None:
    """The place of what is asked first, the whole of a structure for its parts; None for everything else."""
    if leaf.ask is not Ask.FACT:
        return None
    return _places().get((leaf.name.partition(".")[0], leaf.subject.type))
