"""What was typed before somebody stopped, kept in the folder of the draft, so that the questions go on from there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from checker.files.yaml.strict_yaml import read_file
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.shape_check import check_shape
from checker.rules.schemas.words import TEXT, Schema, a_list, a_map, an_object
from checker.tasks.drafting.yaml_text import comment, flow, in_quotes
from checker.values.problems import Problem, Unreadable

KEPT = "answers-so-far.yaml"


@dataclass(frozen=True, slots=True)
class Kept:
    """What was typed, in its order, and what options said before."""

    typed: tuple[str, ...]
    given: Mapping[str, str]


def read_kept(folder: Path) -> Kept | None:
    """What is kept in a folder; None where nothing is. Raises Unreadable."""
    path = folder / KEPT
    if not path.is_file():
        return None
    problems = ProblemList()
    root = read_file(path, path.name if path.is_absolute() else path.as_posix())
    check_shape(root, _shape(), problems)
    problems.raise_if_any()
    read = nodes.mapping(root)
    given = {each.key: nodes.text(each.value) for each in nodes.entries(read.get("options"))}
    return Kept(nodes.texts(read.get("typed")), given)


def keep_if_any(folder: Path, kept: Kept) -> Path | None:
    """Write what was typed, in the place of what was kept before; None where nothing was. Raises Unreadable."""
    if not kept.typed or (folder.exists() and not folder.is_dir()):
        return None
    given = flow({key: in_quotes(value) for key, value in kept.given.items()})
    options = f"options: {given}\n" if kept.given else ""
    lines: Sequence[str] = [f"  - {in_quotes(each)}\n" for each in kept.typed]
    told = comment(
        ["What was typed so far. Run rules draft for this folder again to go on; undo takes back the last line."]
    )
    path = folder / KEPT
    try:
        folder.mkdir(parents=True, exist_ok=True)
        path.write_text(f"{told}{options}typed:\n{''.join(lines)}", encoding="utf-8", newline="\n")
    except OSError as error:
        raise Unreadable([Problem(f"{path.name} cannot be written: {error.strerror}.", None, "")]) from error
    return path


def forget(folder: Path) -> None:
    """Take away what is kept, once it stands in the draft."""
    (folder / KEPT).unlink(missing_ok=True)


def _shape() -> Schema:
    return an_object(
        "file of answers so far",
        {"options": a_map("options", TEXT), "typed": a_list("list of what was typed", TEXT)},
        ["typed"],
    )
