"""Collects what is wrong in a pack, a profile or a case file, so that all of it is told at once."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from checker.values.notation import NotationError, nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

# A stranger's file can hold tens of thousands of mistakes: nobody reads that many, and looking for near names takes
# time.
_MOST_TOLD = 300
_MOST_NEAR_NAMES = 100
_MOST_CANDIDATES = 4000


class ProblemList:
    """Every problem once; the first few hundred are kept."""

    def __init__(self) -> None:
        self._problems: dict[Problem, None] = {}
        self._more = False
        self._near_names = 0

    def __len__(self) -> int:
        return len(self._problems)

    def add(self, sentence: str, at: Position | None, remedy: str = "", near: str | None = None) -> None:
        """Keep one problem."""
        self.extend([Problem(sentence, at, remedy, near)])

    def extend(self, problems: Iterable[Problem]) -> None:
        """Keep several problems."""
        for problem in problems:
            if len(self._problems) < _MOST_TOLD:
                self._problems[problem] = None
            else:
                self._more = True

    def refuse(self, error: NotationError, at: Position, name: str) -> None:
        """Keep why the value of something cannot be understood."""
        self.add(f"{name}: {error.sentence}", at, error.remedy, error.near)

    def near(self, word: str, names: Iterable[str]) -> str | None:
        """The name nearest to a word, or None; also None after many questions."""
        self._near_names += 1
        if self._near_names > _MOST_NEAR_NAMES:
            return None
        return nearest(word, islice(names, _MOST_CANDIDATES))

    def in_order(self) -> tuple[Problem, ...]:
        """Everything in the order of the files."""
        ordered = sorted(self._problems, key=_place)
        if self._more:
            ordered.append(Problem(f"There are more problems than these {_MOST_TOLD}.", None, "Mend these first."))
        return tuple(ordered)

    def raise_if_any(self) -> None:
        """Raise Unreadable with everything, if there is anything."""
        if self._problems:
            raise Unreadable(self.in_order())


def _place(problem: Problem) -> tuple[str, int, int]:
    at = problem.at
    return ("", 0, 0) if at is None else (at.file, at.line, at.column)
