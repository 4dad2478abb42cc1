"""A value as it stands in the file, and what it was converted to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.catalog.model import Fact
from checker.catalog.reading.stated import Stated
from checker.files.yaml.tree import Node
from checker.values.notation import NotationError
from checker.values.positions import Position
from checker.values.possible import Possible
from checker.values.problems import Problem, Unreadable

ASSUMED = "assumed"
"""Written as the paper, it says that there is none: the value is assumed."""


@dataclass(frozen=True, slots=True)
class Written:
    """What stands under the name of a fact; ``per`` is the paper that the whole gives, where this is a part."""

    fact: Fact
    node: Node
    per: str | None = None
    none_allowed: bool = False

    @property
    def may_be_none(self) -> bool:
        """Whether ``none`` may be written: the catalog says so, or the whole of which this is a part may be none."""
        return self.none_allowed or self.fact.may_be_none


@dataclass(frozen=True, slots=True)
class Reading:
    """One text read as a value of a fact."""

    value: Possible
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Converted:
    """The facts that one field states (a structure states its parts too), and what is wrong with it."""

    facts: Mapping[str, Stated] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()


def stated(reading: Reading, text: str, at: Position, per: str | None) -> Stated:
    """The stated fact with its paper, or as assumed."""
    assumed = per == ASSUMED
    return Stated(reading.value, text, at, reading.unit, None if assumed else per, assumed)


def refusal(sentence: str, at: Position | None, remedy: str = "", near: str | None = None) -> Unreadable:
    """One problem, to be raised and collected further up."""
    return Unreadable([Problem(sentence, at, remedy, near)])


def refusal_of(error: NotationError, at: Position, fact: Fact) -> Unreadable:
    """A value that cannot be understood, with the name of its fact."""
    return refusal(f"{fact.name}: {error.sentence}", at, error.remedy, error.near)
