"""Cases: what a rule must answer, on facts that are given and nothing else."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from checker.values.positions import Position
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class GivenValue:
    """One fact as a case gives it: what is possible by it, the text as typed, and where it stands."""

    value: Possible
    text: str
    at: Position


@dataclass(frozen=True, slots=True)
class GivenList:
    """A collection as a case gives it: its members in order, and whether there are no others."""

    members: tuple[Given, ...]
    complete: bool
    at: Position


@dataclass(frozen=True, slots=True)
class Given:
    """The facts and collections of the subject, or of a member, by name as the rule writes it.

    A fact that is not here is unknown; a collection that is not here is open and empty.
    """

    values: Mapping[str, GivenValue] = field(default_factory=dict)
    lists: Mapping[str, GivenList] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Case:
    """One case of one rule.

    ``given`` is the base with what the case changes; a case with ``site`` takes everything from that site file
    instead, and ``subject`` is the id of what is judged there. ``editions`` are those in which the case runs: named
    by it, or all in which its rule exists. ``needs``, ``could_be`` and ``says`` are checked where they are given
    (None where they are not).
    """

    rule: str
    shows: str
    outcome: str
    at: Position
    given: Given = Given()
    site: str | None = None
    subject: str | None = None
    needs: tuple[str, ...] | None = None
    could_be: tuple[str, ...] | None = None
    says: str | None = None
    editions: tuple[str, ...] = ()
    date: date | None = None
