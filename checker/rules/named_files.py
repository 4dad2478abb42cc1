"""Finds the file of a profile or a layer by the name that stands in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path

from checker.files.folders import data_folder
from checker.rules.wording import choice_of, listing
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

_MOST_FILES = 500
_MOST_SCANNED = 4096


def find_profile(name: str, folders: Iterable[Path]) -> Path:
    """The file of the profile of that name, from the first folder that has it.

    Looks at the ``*.yaml`` files of each folder for a line ``profile: NAME``. Raises Unreadable with the nearest name.
    """
    return _find("profile", "jurisdiction profile", name, folders)


def find_layer(name: str, folders: Iterable[Path]) -> Path:
    """The file of the layer of that name, found like a profile by a line ``layer: NAME``."""
    return _find("layer", "layer", name, folders)


def named_files(key: str, folder: Path) -> Iterator[tuple[str, Path]]:
    """The files of a folder that have this key, each with the name behind it."""
    pattern = re.compile(rf"^{key}:[ \t]*[\"']?([A-Za-z0-9_-]+)", re.MULTILINE)
    for path in sorted(folder.glob("*.yaml"))[:_MOST_FILES]:
        match = pattern.search(_head(path))
        if match:
            yield match[1], path


def _find(key: str, what: str, name: str, folders: Iterable[Path]) -> Path:
    known: dict[str, Path] = {}
    places = tuple(dict.fromkeys(folders))
    for folder in places:
        found = [(each, path) for each, path in named_files(key, folder) if each not in known]
        known.update(reversed(found))
        files = [path.name for each, path in found if each == name]
        if len(files) > 1:
            remedy = "Rename one of them, or move it out of the folder."
            raise Unreadable([Problem(f"The {what} {name} stands in {listing(files)}.", None, remedy)])
        if name in known:
            return known[name]
    remedy = f"Write {choice_of(sorted(known))}." if known else f"Put a file with `{key}:` beside the site file."
    sentence = f"There is no {what} {name}."
    raise Unreadable([Problem(sentence, None, f"{remedy} {_looked_in(places)}", nearest(name, sorted(known)))])


def _looked_in(places: Iterable[Path]) -> str:
    """In which folders a name was looked for, as they were named; those of the program by that word."""
    program = data_folder("rulesets")
    told = [f"the folder {each.as_posix()}" for each in places if not each.is_relative_to(program)]
    if any(each.is_relative_to(program) for each in places):
        told.append("what comes with the program")
    return f"Looked for in {listing(told)}; --folder names another." if told else ""


def _head(path: Path) -> str:
    """The beginning of a file; nothing where it cannot be read."""
    try:
        with path.open("rb") as stream:
            return stream.read(_MOST_SCANNED).decode("utf-8", errors="replace")
    except OSError:
        return ""
