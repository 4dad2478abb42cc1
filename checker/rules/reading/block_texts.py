"""Texts below ``|`` or ``>``, in which a ``#`` begins no comment."""

from __future__ import annotations

from collections.abc import Iterator

from checker.files.yaml.tree import Node
from checker.rules.reading import nodes
from checker.values.problems import Problem


def printed_notes(root: Node) -> Iterator[Problem]:
    """Blocks of text with a ``#`` that reads like a note: it is printed to whoever reads the text."""
    for scalar in nodes.scalars(root):
        if scalar.block and any(_reads_like_a_note(line) for line in scalar.text.splitlines()):
            yield Problem(
                "A # in this block of text is printed: it begins no comment here.",
                scalar.at,
                "Put the note above the key.",
            )


def _reads_like_a_note(line: str) -> bool:
    return line.lstrip().startswith("#") or " # " in line
