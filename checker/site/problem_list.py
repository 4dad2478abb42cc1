"""Collects what is wrong in a site file, so that all of it is told at once."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from checker.values.notation import nearest
from checker.values.positions import Position
from checker.values.problems import Problem, Unreadable

# A stranger's file can hold tens of thousands of mistakes: nobody reads that many, and near names take time to find.
_MOST_TOLD = 300
_MOST_NEAR_NAMES = 100
_MOST_CANDIDATES = 1000


class ProblemList:
    """Every problem once; the first few hundred are kept."""

    def __init__(self) -> None:
        self._problems: dict[Problem, None] = {}
        self._more = False
        self._near_names = 0

    def __bool__(self) -> bool:
        return bool(self._problems)

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

    def near(self, word: str, names: Iterable[str]) -> str | None:
        """The name nearest to a word, or None; also None after many questions."""
        self._near_names += 1
        if self._near_names > _MOST_NEAR_NAMES:
            return None
        return nearest(word, islice(names, _MOST_CANDIDATES), _TRADE_WORDS)

    def raise_if_any(self, main_file: str) -> None:
        """Raise Unreadable with everything in the order of the files, the main one first."""
        if not self._problems:
            return
        ordered = sorted(self._problems, key=lambda problem: _place(problem, main_file))
        if self._more:
            ordered.append(Problem(f"There are more problems than these {_MOST_TOLD}.", None, "Mend these first."))
        raise Unreadable(ordered)


def _place(problem: Problem, main_file: str) -> tuple[bool, str, int, int]:
    at = problem.at
    return (False, "", 0, 0) if at is None else (at.file != main_file, at.file, at.line, at.column)


_TRADE_WORDS = {
    "afc": "available_fault_current",
    "available_short_circuit_current": "available_fault_current",
    "aic": "interrupting_rating",
    "ampere": "current",
    "amperes": "current",
    "amps": "current",
    "ats": "transfer_switch",
    "portable": "generator",
    "petrol": "gasoline",
    "breaker": "overcurrent",
    "conductors": "phase",
    "ground": "grounding",
    "equipment_ground": "grounding",
    "egc": "grounding",
    "genset": "generator",
    "kaic": "interrupting_rating",
    "location": "place",
    "main_breaker": "ways",
    "output_breaker": "ways",
    "panel": "panelboard",
    "sccr": "short_circuit_rating",
    "signs": "labels",
    "size": "rated_current",
    "spd": "surge_protective_device",
    "utility": "utility_supply",
    "wcr": "withstand_rows",
}
"""What the trade also calls a fact, kind or section, and the word for it here."""
