"""How a fact is worked out: one function that reads only the facts that it declares."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from checker.catalog.model import Catalog
from checker.engineering.worksheet import Worksheet
from checker.facts.drawing import Drawing
from checker.facts.known import Known
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Members, Site, Subject
from checker.values.possible import Possible, undefined


class Context(Protocol):
    """What a derivation may look at. Everything read through it is remembered as what the result rests on."""

    @property
    def site(self) -> Site:
        """The site that is read."""
        ...

    @property
    def catalog(self) -> Catalog:
        """The fact catalog."""
        ...

    @property
    def drawing(self) -> Drawing:
        """The drawing as a graph."""
        ...

    def read(self, subject: Subject, name: str) -> Possible:
        """What is possible for a fact, stated or derived."""
        ...

    def known(self, subject: Subject, name: str) -> Known:
        """The same with where it comes from."""
        ...

    def stated(self, subject: Subject, name: str) -> Possible:
        """What the drawing alone says of a fact, without anything derived."""
        ...

    def members(self, name: str, on: str = "site") -> Members:
        """A list of the file; whether it is complete is remembered too."""
        ...

    @property
    def numbers(self) -> NumbersInForce:
        """The numbers that the documents in force set."""
        ...

    def all_drawn(self, kind: str) -> bool:
        """Whether pieces of an open kind are all on the drawing."""
        ...


@dataclass(frozen=True, slots=True)
class Derived:
    """What a derivation found: the value, in which unit to show it, and how an inspector can follow it."""

    value: Possible
    unit: str | None = None
    worksheet: Worksheet | None = None
    reasons: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    state: str | None = None


Work = Callable[[Context, Subject, str], Derived]
"""Works out the named fact (or part of a fact) of a subject."""


@dataclass(frozen=True, slots=True)
class Derivation:
    """One derived fact with its parts: for which types of subject, from which facts, by which function."""

    fact: str
    subjects: frozenset[str]
    reads: frozenset[str]
    work: Work


def entry(fact: str, subjects: tuple[str, ...], reads: tuple[str, ...], work: Work) -> Derivation:
    """One entry of the registry."""
    return Derivation(fact, frozenset(subjects), frozenset(reads), work)


def no_answer(reason: str) -> Derived:
    """Nothing can be worked out, and why."""
    return Derived(undefined(reason), reasons=(reason,))
