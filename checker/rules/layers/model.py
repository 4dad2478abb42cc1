"""A layer as data: the changes of one authority, each with its dates, its reason and what it rests on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from checker.rules.model.citing import Checked, Citation
from checker.rules.model.conditions import Condition
from checker.rules.model.force import Basis
from checker.rules.model.numbers import ParameterValue, TableValues
from checker.rules.model.profile import OwnPaper
from checker.rules.model.rule import NamedException, Rule
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class Terms:
    """What every change has: its number in the layer, from when until when, what it rests on, and which other change
    it goes over.

    ``over`` names layers of the same rank whose change of the same thing gives way to this one.
    """

    number: int
    word: str
    start: date | None
    until: date | None
    cites: tuple[Citation, ...]
    reason: str
    over: tuple[str, ...]
    at: Position

    def holds_on(self, day: date) -> bool:
        """Whether the change is in force on a day; the last day counts."""
        return (self.start is None or self.start <= day) and (self.until is None or day <= self.until)


@dataclass(frozen=True, slots=True)
class AddRule:
    """A rule of the authority's own."""

    rule: Rule


@dataclass(frozen=True, slots=True)
class ReplaceRule:
    """Another rule in the place of the target; it keeps the target's id."""

    rule: Rule


@dataclass(frozen=True, slots=True)
class SetNumber:
    """Another value of a parameter. ``exceptions_apply`` is None where no rule that reads it has an exception."""

    pack: str
    parameter: str
    title: str
    stricter: str | None
    value: ParameterValue
    exceptions_apply: bool | None


@dataclass(frozen=True, slots=True)
class AddException:
    """One exception more."""

    exception: NamedException


@dataclass(frozen=True, slots=True)
class EndException:
    """An exception or a replacement that no longer counts."""

    id: str


@dataclass(frozen=True, slots=True)
class AddWay:
    """One way more in which the requirement can be met."""

    name: str
    condition: Condition


@dataclass(frozen=True, slots=True)
class Widen:
    """The rule applies there too."""

    condition: Condition


@dataclass(frozen=True, slots=True)
class Narrow:
    """The rule applies only there."""

    condition: Condition


@dataclass(frozen=True, slots=True)
class DeleteRule:
    """The rule is not adopted."""


@dataclass(frozen=True, slots=True)
class LimitRule:
    """The rule counts from its day on and until its day, and at no other time."""


@dataclass(frozen=True, slots=True)
class Renumber:
    """The rule stands under sections of the authority's own document."""

    cites: tuple[Citation, ...]


@dataclass(frozen=True, slots=True)
class Confirm:
    """Somebody compared the rule with its source."""

    checked: Checked


@dataclass(frozen=True, slots=True)
class Redirect:
    """What is cited from one document stands in another here. A section that is None means all of the document."""

    document: str
    section: str | None
    to_document: str
    to_edition: str | None
    to_section: str | None


def is_redirected(cite: Citation, what: Redirect) -> bool:
    """Whether a citation is one that is redirected: of the document and, if one is named, of the section or a part."""
    return cite.document == what.document and (what.section is None or is_part(cite.section, what.section))


def is_part(section: str, whole: str) -> bool:
    """Whether a section is this one or one of its parts: 230.67(A) is a part of 230.67, and 230.671 is not."""
    return section == whole or (section.startswith(whole) and not section[len(whole)].isalnum())


@dataclass(frozen=True, slots=True)
class PreEmpt:
    """No layer of a later rank may change the rule, or none of these layers where they are named."""

    layers: tuple[str, ...]


What = (
    AddRule
    | ReplaceRule
    | SetNumber
    | AddException
    | EndException
    | AddWay
    | Widen
    | Narrow
    | DeleteRule
    | LimitRule
    | Renumber
    | Confirm
    | Redirect
    | PreEmpt
)


@dataclass(frozen=True, slots=True)
class Change:
    """One change of one rule. What a layer writes once for several rules is one change for each, with one number.

    ``rule`` is the rule that it changes as pack:id, empty for a redirected reference and for a number that only
    calculations read; ``written`` the target as the
    layer names it.
    """

    layer: str
    rule: str
    written: str
    what: What
    terms: Terms

    @property
    def name(self) -> str:
        """The change in words: its layer and its number in it."""
        return f"{self.layer}, change {self.terms.number}"


@dataclass(frozen=True, slots=True)
class Layer:
    """Everything that one authority changes. ``amends`` is the document and the edition that it was written against."""

    id: str
    title: str
    document: str
    authority: str
    basis: Basis
    amends: tuple[str, str] | None
    changes: tuple[Change, ...]
    parameters: Mapping[str, ParameterValue]
    tables: Mapping[str, TableValues]
    parameter_titles: Mapping[str, str]
    file: str
    digest: str
    at: Position
    notes: tuple[str, ...] = field(default=())
    numbers_at: Mapping[str, Position] = field(default_factory=dict)
    papers: tuple[OwnPaper, ...] = ()
    """Papers of its own, which rules of this layer and of those above can ask for."""

    @property
    def added(self) -> tuple[Rule, ...]:
        """The rules of its own."""
        return tuple(each.what.rule for each in self.changes if isinstance(each.what, AddRule))
