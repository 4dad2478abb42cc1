"""The steps of MAINTAINERS.md: files that it writes, commands that it gives, what it says they print."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

_MARKED = re.compile(
    r"^<!-- (?P<what>[a-z]+)(?:: (?P<name>\S+))? -->\n```(?P<kind>[a-z]+)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL
)
_FENCED = re.compile(r"^```[a-z]", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Step:
    """One block: ``what`` is file, add, run or prints; ``line`` is where it stands."""

    what: str
    name: str
    text: str
    line: int


def steps_of(page: Path) -> tuple[Step, ...]:
    """The steps of a page, in order."""
    return tuple(_steps(page.read_text(encoding="utf-8")))


def _steps(text: str) -> Iterator[Step]:
    for match in _MARKED.finditer(text):
        yield Step(match["what"], match["name"] or "", match["text"], text[: match.start()].count("\n") + 1)


def blocks_of(page: Path) -> int:
    """How many fenced blocks a page has, marked or not."""
    return len(_FENCED.findall(page.read_text(encoding="utf-8")))
