"""What the tests of the project as a whole know about its files."""

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
EXAMPLE = "fixtures/harrow-lane/site.yaml"
# What the wheel carries beside the package, by its place in the tree.
DATA = ("rulesets", "schemas", "shared", "fixtures/harrow-lane")


def project_table() -> dict[str, Any]:
    """Everything pyproject.toml says."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


def files_below(folder: Path) -> set[str]:
    """Paths of the files below `folder`, relative to the project, without what Python and npm leave behind."""
    return {
        path.relative_to(ROOT).as_posix()
        for path in folder.rglob("*")
        if path.is_file() and not {"__pycache__", "node_modules"}.intersection(path.parts)
    }


def readme_block(mark: str) -> str:
    """The fenced block after the comment `<!-- mark -->` in README.md, before any other comment or heading.

    Raises LookupError if the comment or the block is not there.
    """
    lines = iter((ROOT / "README.md").read_text(encoding="utf-8").splitlines())
    for line in lines:
        if line == f"<!-- {mark} -->":
            return "\n".join(_fenced(lines, mark))
    raise LookupError(f"README.md has no comment <!-- {mark} -->")


def _fenced(lines: Iterator[str], mark: str) -> Iterator[str]:
    opening = next((line for line in lines if line.strip()), "")
    if not opening.startswith("```"):
        raise LookupError(f"README.md has no fenced block after <!-- {mark} -->")
    for line in lines:
        if line.startswith("```"):
            return
        yield line
    raise LookupError(f"README.md does not close the block after <!-- {mark} -->")
