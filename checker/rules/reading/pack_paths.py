"""Which files make up a pack, and how they are shown."""

from __future__ import annotations

from pathlib import Path

from checker.files.folders import regular_file
from checker.values.problems import Problem, Unreadable

HEAD_FILE = "pack.yaml"
CASES = ".cases.yaml"
_MOST_FILES = 200


def shown_folder(folder: Path) -> str:
    """How the place of a file in the folder begins: as a person named it, or only the folder's name where that is a
    place on one computer.
    """
    return folder.name if folder.is_absolute() else folder.as_posix()


def file_paths(folder: Path, shown: str) -> tuple[Path, ...]:
    """The files with rules, parameters and tables, pack.yaml first. Raises Unreadable where there is no pack."""
    if not folder.is_dir():
        raise Unreadable([Problem(f"There is no folder {shown}.", None, "Name the folder of a pack.")])
    head = folder / HEAD_FILE
    regular_file(head, f"{shown}/{HEAD_FILE}")
    others = sorted(path for path in folder.glob("*.yaml") if path != head and not path.name.endswith(CASES))
    if len(others) > _MOST_FILES:
        raise Unreadable(
            [Problem(f"{shown} holds more than {_MOST_FILES} files.", None, "Split it into several packs.")]
        )
    return head, *others
