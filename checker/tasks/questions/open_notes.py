"""Comments that `new` writes for what is still open, and that go once it is said."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.rules.reading import nodes


def note_of(fact: str, on: str) -> str:
    """The comment on what is still open of a piece, or of the site, in lines without their indent; empty for none."""
    return _notes().get((fact, on), "")


def without_note(typed: bytes, fact: str, on: str) -> bytes:
    """A site file without the comment on something that is said now; as it is where the comment is not there as it was
    written. Only whole lines of comment go.
    """
    note = note_of(fact, on).splitlines()
    lines = typed.splitlines(keepends=True)
    plain = [line.decode(errors="replace").strip() for line in lines]
    for place in range(len(lines) - len(note) + 1) if note else ():
        if plain[place : place + len(note)] == note:
            return b"".join((*lines[:place], *lines[place + len(note) :]))
    return typed


@cache
def _notes() -> Mapping[tuple[str, str], str]:
    """Each comment by the fact, or the list, and the tag of the piece that it is about."""
    root = nodes.mapping(read_file(data_folder("shared") / "starters.yaml", "starters.yaml"))
    rows = (nodes.mapping(each) for each in nodes.items(root.get("open_notes")))
    return {
        (nodes.text(row.get("about")), nodes.text(row.get("of"))): nodes.scalar(row.get("text")).text.rstrip("\n")
        for row in rows
    }
