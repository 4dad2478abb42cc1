"""Which site files the words on the command line stand for."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from checker.files.folders import regular_file
from checker.values.problems import Problem, Unreadable

SITE_FILE = "site.yaml"


def site_file(path: Path) -> Path:
    """The one site file that was meant, which is there; raises Unreadable with the path as it was typed."""
    if not path.is_dir():
        regular_file(path, path.as_posix())
        return path
    if not (path / SITE_FILE).is_file():
        raise _none_in(path)
    return path / SITE_FILE


def site_files(path: Path) -> tuple[Path, ...]:
    """The site file that was meant or, for a folder without one of its own, all that lie below it, in the order of
    their paths. Raises Unreadable.
    """
    if not path.is_dir() or (path / SITE_FILE).is_file():
        return (site_file(path),)
    found = tuple(sorted(_below(path)))
    if not found:
        raise _none_in(path)
    return found


def _below(folder: Path) -> Iterator[Path]:
    """Site files in the folders below; hidden folders and links to folders are left out."""
    for place, folders, files in os.walk(folder):
        folders[:] = [each for each in folders if not each.startswith(".")]
        if SITE_FILE in files:
            yield Path(place) / SITE_FILE


def _none_in(path: Path) -> Unreadable:
    sentence = f"There is no {SITE_FILE} in the folder {path.as_posix()}."
    remedy = f"Name the site file itself, or a folder that holds a {SITE_FILE}."
    return Unreadable([Problem(sentence, remedy=remedy)])
