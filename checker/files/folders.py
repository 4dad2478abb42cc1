"""Where the program keeps its data, and which files a file may name."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Literal

from checker.files.wording import shown
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

DataFolder = Literal["rulesets", "schemas", "shared", "fixtures"]

_PACKAGE = Path(__file__).parent.parent
_MEANING = {
    "rulesets": "rule packs",
    "schemas": "fact catalog",
    "shared": "reference tables",
    "fixtures": "example sites",
}
_DRIVE = re.compile(r"[A-Za-z]:")
# Enough for the folder of a project; a whole disk is not searched for a similar name.
_MOST_NAMES = 2000


def data_folder(name: DataFolder, package: Path = _PACKAGE) -> Path:
    """The folder with the program's own data: inside the installed package, else at the top of the repository.

    Raises Unreadable if it is in neither place.
    """
    # Beside an installed package may lie folders of others with the same name.
    carried = package / "_data"
    folder = (carried if carried.is_dir() else package.parent) / name
    if folder.is_dir():
        return folder
    sentence = f"The folder with the {_MEANING[name]} that belongs to this program is missing."
    raise Unreadable([Problem(sentence, None, "Install the program again.")])


def regular_file(path: Path, shown_as: str, at: Position | None = None) -> None:
    """See that ``path`` is a file that can be read to its end; ``at`` is the place where another file names it.

    Raises Unreadable for what is missing, a folder or a device.
    """
    kind = _kind(path)
    if kind == "folder":
        raise _refusal(f"{shown(shown_as)} is a folder, not a file.", at, "Name a file in it.")
    if kind == "other":
        raise _refusal(f"{shown(shown_as)} is not a regular file.", at, "Name a text file.")
    if kind == "missing":
        raise _refusal(f"There is no file {shown(shown_as)}.", at, "Check the name.", _nearest_beside(path, shown_as))


def inside(root: Path, wanted: str, at: Position | None = None) -> Path:
    """The real path of the file that a file in ``root`` names, relative to ``root`` and with forward slashes.

    Raises Unreadable for a path that is absolute or leads out of ``root``, also through a link, and for what is missing
    or no file.
    """
    _check_spelling(wanted, at)
    try:
        base = root.resolve()
        path = (base / wanted).resolve()
    except (OSError, RuntimeError, ValueError):
        raise _refusal(f"`{shown(wanted)}` cannot be followed to a file.", at, "Name a file of this folder.") from None
    if not path.is_relative_to(base):
        raise _refusal(
            f"`{shown(wanted)}` leads out of the folder of the file.", at, "Put a copy into the folder and name that."
        )
    if _kind(path) == "missing":
        near = _nearest(wanted, _names_below(base))
        raise _refusal(f"There is no file `{shown(wanted)}` in the folder.", at, "Check the name.", near)
    regular_file(path, wanted, at)
    return path


def _check_spelling(wanted: str, at: Position | None) -> None:
    if not wanted.strip() or not wanted.isprintable():
        raise _refusal(
            "The name of a file is missing or holds signs that no name has.", at, "Write the name of a file."
        )
    if "\\" in wanted:
        remedy = f"Write it with forward slashes: {shown(wanted.replace(chr(92), '/'))}"
        raise _refusal(f"`{shown(wanted)}` has a backslash.", at, remedy)
    if wanted.startswith("/") or _DRIVE.match(wanted):
        raise _refusal(
            f"`{shown(wanted)}` names a place on one computer.", at, "Write the path from the folder of the file."
        )


def _kind(path: Path) -> Literal["file", "folder", "other", "missing"]:
    try:
        if path.is_file():
            return "file"
        if path.is_dir():
            return "folder"
        return "other" if path.exists() else "missing"
    except (OSError, ValueError):  # a name that no system allows
        return "missing"


def _names_below(folder: Path) -> list[str]:
    return list(islice(_walk(folder), _MOST_NAMES))


def _walk(folder: Path) -> Iterator[str]:
    for place, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(files):
            yield (Path(place) / name).relative_to(folder).as_posix()


def _nearest_beside(path: Path, shown_as: str) -> str | None:
    """The most similar file name in the same folder, written as the person wrote the path."""
    try:
        names = sorted(entry.name for entry in islice(path.parent.iterdir(), _MOST_NAMES))
    except (OSError, ValueError):
        return None
    near = _nearest(path.name, names)
    return near and shown_as.removesuffix(path.name) + near


def _nearest(wanted: str, names: list[str]) -> str | None:
    import difflib  # only a wrong name needs it

    return next(iter(difflib.get_close_matches(wanted, names, n=1)), None)


def _refusal(sentence: str, at: Position | None, remedy: str, near: str | None = None) -> Unreadable:
    return Unreadable([Problem(sentence, at, remedy, near)])
