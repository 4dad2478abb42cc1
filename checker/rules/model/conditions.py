"""Conditions as frozen values: facts as a rule names them, operands, comparisons and what joins them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.rules.model.force import Editions
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class FactPath:
    """A fact as a rule names it: links to walk, then the name of the fact (with its part)."""

    links: tuple[str, ...]
    name: str
    at: Position | None = field(default=None, compare=False)

    def __str__(self) -> str:
        return ".".join((*self.links, self.name))


@dataclass(frozen=True, slots=True)
class Words:
    """Choices or a flag written in the rule; a list stands for all of them together."""

    words: tuple[str | bool, ...]
    is_list: bool


@dataclass(frozen=True, slots=True)
class FactOperand:
    """The value of a fact."""

    path: FactPath


@dataclass(frozen=True, slots=True)
class ParameterOperand:
    """The value of a parameter."""

    name: str


@dataclass(frozen=True, slots=True)
class Combined:
    """``largest_of``, ``smallest_of`` or ``sum_of``."""

    how: str
    operands: tuple[Operand, ...]
    skip_absent: bool = False


@dataclass(frozen=True, slots=True)
class Scaled:
    """The product of a quantity and a ratio."""

    operand: Operand
    factor: Operand


@dataclass(frozen=True, slots=True)
class NextSize:
    """The smallest value of a table of sizes that is not below the operand."""

    operand: Operand
    table: str


@dataclass(frozen=True, slots=True)
class Lookup:
    """The cell of a table for these keys."""

    table: str
    keys: Mapping[str, Operand]


Operand = Words | FactOperand | ParameterOperand | Combined | Scaled | NextSize | Lookup


@dataclass(frozen=True, slots=True)
class Test:
    """One relation with what stands on its other side; ``between`` has two operands, all others one."""

    relation: str
    operands: tuple[Operand, ...]


@dataclass(frozen=True, slots=True)
class Compare:
    """A fact with one or more relations, all of which must hold."""

    path: FactPath
    tests: tuple[Test, ...]
    if_absent: bool | None = None
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Group:
    """``all`` or ``any`` of several conditions."""

    how: str
    conditions: tuple[Condition, ...]
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Not:
    """The opposite of a condition."""

    condition: Condition
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Fold:
    """``some``, ``every`` or ``none`` of a collection."""

    how: str
    collection: FactPath
    where: Condition | None
    that: Condition | None
    if_empty: bool | None = None
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Count:
    """How many members of a collection there are."""

    collection: FactPath
    where: Condition | None
    tests: tuple[Test, ...]
    part: str | None = None
    editions: Editions = frozenset()


Condition = Compare | Group | Not | Fold | Count
