"""One fact as the review sees it, with everything it rests on."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from checker.engineering.worksheet import Worksheet
from checker.site.model import Subject
from checker.values.positions import Position
from checker.values.possible import Possible


class Ask(Enum):
    """What a person would have to say to settle a leaf."""

    FACT = "fact"
    MORE = "more"
    EXISTS = "exists"


@dataclass(frozen=True, slots=True)
class Leaf:
    """Something that only a person can say: a fact of a subject, whether a list is complete, or whether there is such
    a piece.
    """

    subject: Subject
    name: str
    ask: Ask = Ask.FACT

    def __str__(self) -> str:
        return (
            self.name if self.subject.type == "site" and self.ask is not Ask.FACT else f"{self.subject.id}.{self.name}"
        )

    @property
    def order(self) -> tuple[str, int, str, str, str]:
        """A stable order that does not depend on the order of the file; of members of a list by their numbers."""
        head, _, last = self.subject.id.rpartition(" ")
        number = int(last) if head and last.isdecimal() else 0
        return (self.subject.type, number, self.subject.id, self.name, self.ask.value)


class Origin(Enum):
    """Where a value comes from."""

    STATED = "stated"
    DERIVED = "derived"
    NOT_SHOWN = "not shown"


@dataclass(frozen=True, slots=True)
class Known:
    """What is possible for one fact, in which unit it is shown, where it stands, and which leaves it rests on."""

    value: Possible
    origin: Origin
    leaves: frozenset[Leaf]
    unit: str | None = None
    text: str | None = None
    at: Position | None = None
    per: str | None = None
    worksheet: Worksheet | None = None
    reasons: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    state: str | None = None
