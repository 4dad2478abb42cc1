"""A site description as stated facts with positions; nothing in it is worked out."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.catalog.reading.stated import Stated
from checker.values.positions import Position

__all__ = ["PLAIN_INPUT", "SITE", "Claim", "DrawingNotice", "Feed", "Members", "Site", "Stated", "Subject", "Thing"]


@dataclass(frozen=True, slots=True, order=True)
class Subject:
    """Something that has facts: its type (a kind of equipment, ``site``, ``way``, ``side``, ``connection``, a pair, or
    the member of a list) and its id, which is readable and unique within the type: ``ATS1``, ``GEN1/1``,
    ``ATS1.normal``, ``GEN1/1>ATS1.alternate``, ``INLET1>P1.7``, ``P1~UTIL``, ``label 1``.
    """

    type: str
    id: str

    def __str__(self) -> str:
        return self.id


PLAIN_INPUT = "fed_from"
"""The input of a piece that is fed in one way only."""

SITE = Subject("site", "site")
"""The site as a whole, the permit included."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A subject of the file with the facts stated for it. A part of a structured fact stands under its dotted name."""

    subject: Subject
    at: Position
    facts: Mapping[str, Stated]


@dataclass(frozen=True, slots=True)
class Feed:
    """One connection: from a piece (and one of its ways, where named) to one input of another piece.

    ``input`` is ``fed_from``, the side of a transfer switch, or the way by which a board is fed (``main``, ``7``).
    """

    source: str
    way: str | None
    to: str
    input: str
    at: Position

    @property
    def subject(self) -> Subject:
        """The connection as a subject; its id is written as in ``runs:``."""
        start = self.source if self.way is None else f"{self.source}/{self.way}"
        end = self.to if self.input == PLAIN_INPUT else f"{self.to}.{self.input}"
        return Subject("connection", f"{start}>{end}")


@dataclass(frozen=True, slots=True)
class Members:
    """One list of the file: its members in order, and whether the file says that it is complete."""

    members: tuple[Subject, ...]
    complete: bool
    at: Position | None = None


@dataclass(frozen=True, slots=True)
class Claim:
    """What a paper says of a fact; it is compared and never used."""

    paper: str
    subject: Subject
    fact: str
    stated: Stated


@dataclass(frozen=True, slots=True)
class DrawingNotice:
    """Something wrong with the drawing that does not stop the review; what it touches is unknown for this reason."""

    sentence: str
    at: Position
    touches: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Site:
    """Everything that a site file (with what it includes) states.

    ``pieces`` are the pieces of equipment by tag, in the order of the file. ``lists`` is keyed by list name and the
    id of what it is on (``("labels", "site")``, ``("withstand_rows", "ATS1")``).
    ``complete_kinds`` are the open kinds of equipment that the file says are all drawn. ``names`` are those of members
    of lists by what is said of them.
    """

    file: str
    digest: str
    things: Mapping[Subject, Thing]
    pieces: Mapping[str, Subject]
    feeds: tuple[Feed, ...]
    lists: Mapping[tuple[str, str], Members]
    complete_kinds: frozenset[str]
    claims: tuple[Claim, ...] = ()
    notices: tuple[DrawingNotice, ...] = ()
    names: Mapping[Subject, str] = field(default_factory=dict)

    def name_of(self, subject: Subject) -> str:
        """What a subject is called whatever line it stands on: by what is said of it, where that is enough."""
        return self.names.get(subject, subject.id)

    def stated(self, subject: Subject, fact: str) -> Stated | None:
        """What the file says of one fact, or None."""
        thing = self.things.get(subject)
        return None if thing is None else thing.facts.get(fact)

    def members(self, name: str, on: str = "site") -> Members:
        """One list; a list that the file does not have is open and empty."""
        return self.lists.get((name, on), Members((), complete=False))
