"""What a person is told when a file cannot be read as meant."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a file, in the trade's words.

    ``sentence`` says what is wrong, ``remedy`` what to write or do, ``near`` the nearest valid name if one is near.
    ``at`` is None only where the file has no place to show (it is missing, empty or unreadable).
    """

    sentence: str
    at: Position | None = None
    remedy: str = ""
    near: str | None = None

    def __str__(self) -> str:
        place = f" ({self.at})" if self.at else ""
        near = f" Nearest: {self.near}." if self.near else ""
        remedy = f" {self.remedy}" if self.remedy else ""
        return f"{self.sentence}{place}{remedy}{near}"


class Unreadable(Exception):
    """A file or an argument could not be used; carries every problem that was found in it, in the order of the file."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))
