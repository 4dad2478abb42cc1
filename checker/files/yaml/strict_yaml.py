"""The strict reader of site files, rule packs and the fact catalog.

It reads the part of YAML that all readers take alike, keeps every text as typed with its place, and refuses the rest in
plain words. All problems of a file are told at once.
"""

from __future__ import annotations

from pathlib import Path

from checker.files.folders import regular_file
from checker.files.limits import USUAL_LIMITS, Limits
from checker.files.yaml.reading import parsed
from checker.files.yaml.source import too_large
from checker.files.yaml.tree import Node
from checker.values.problems import Problem, Unreadable

__all__ = ["USUAL_LIMITS", "Limits", "read_bytes", "read_documents", "read_file", "read_text"]


def read_text(text: str | bytes, file: str, limits: Limits = USUAL_LIMITS) -> Node:
    """The content of a text that holds one document; ``file`` is the name shown in messages.

    Raises Unreadable with all problems in the order of the file; one that stops the reader comes last.
    """
    return parsed(text, file, limits, single=True)[0]


def read_documents(text: str | bytes, file: str, limits: Limits = USUAL_LIMITS) -> tuple[Node, ...]:
    """The contents of a text that holds one or more documents, parted by ``---``. Raises Unreadable."""
    return parsed(text, file, limits, single=False)


def read_file(path: Path, shown_as: str, limits: Limits = USUAL_LIMITS) -> Node:
    """The content of a file that holds one document. Raises Unreadable, also if there is no such file."""
    return read_text(read_bytes(path, shown_as, limits), shown_as, limits)


def read_bytes(path: Path, shown_as: str, limits: Limits = USUAL_LIMITS) -> bytes:
    """The bytes of a regular file, no more than the limit of size. Raises Unreadable."""
    regular_file(path, shown_as)
    try:
        with path.open("rb") as stream:
            content = stream.read(limits.bytes + 1)
    except OSError:
        remedy = "Check that you may read it."
        raise Unreadable([Problem(f"The file {shown_as} cannot be opened.", None, remedy)]) from None
    if len(content) > limits.bytes:
        raise Unreadable([too_large(shown_as, limits)])
    return content
