"""What a rule can name while it is read: facts, parameters and tables; and what it has named so far."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from checker.rules.model.numbers import Parameter, Table
from checker.rules.problem_list import ProblemList
from checker.rules.vocabulary import Vocabulary
from checker.values.positions import Position

_Known = TypeVar("_Known", Parameter, Table)


@dataclass(frozen=True, slots=True)
class Numbers:
    """The parameters and tables of a pack; one that is named but could not be read is None."""

    parameters: Mapping[str, Parameter | None]
    tables: Mapping[str, Table | None]


@dataclass(frozen=True, slots=True)
class Scope:
    """One rule under way. ``editions`` are those in which it exists, ``named_at`` where it first names a parameter or
    table.
    """

    rule: str
    vocabulary: Vocabulary
    numbers: Numbers
    editions: tuple[str, ...]
    problems: ProblemList
    notes: ProblemList
    named_at: dict[str, Position] = field(default_factory=dict)

    def parameter(self, name: str, at: Position) -> Parameter | None:
        """A parameter; None where there is none, which is told, or where it could not be read."""
        return self._named(name, at, self.numbers.parameters, "parameter")

    def table(self, name: str, at: Position) -> Table | None:
        """A table; None where there is none, which is told, or where it could not be read."""
        return self._named(name, at, self.numbers.tables, "table")

    def _named(self, name: str, at: Position, known: Mapping[str, _Known | None], what: str) -> _Known | None:
        self.named_at.setdefault(name, at)
        if name not in known:
            self.problems.add(
                f"There is no {what} `{name}` in this pack.",
                at,
                f"Write it under `{what}s:`.",
                self.problems.near(name, known),
            )
        return known.get(name)
