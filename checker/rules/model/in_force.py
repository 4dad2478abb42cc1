"""What is in force on one date: rules in one edition, as layers leave them, with their numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Condition
from checker.rules.model.numbers import ParameterValue, TableValues
from checker.rules.model.profile import Interpretation, May, OwnPaper, Permission, Profile
from checker.rules.model.rule import Rule
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class History:
    """What one change did to a rule, for the finding: by whom, since when by the date of which event, under which
    section, and why.
    """

    layer: str
    authority: str
    sentence: str
    since: date | None
    cites: tuple[Citation, ...]
    reason: str
    is_own_rule: bool = False
    applied: bool = True
    event: str | None = None


@dataclass(frozen=True, slots=True)
class Version:
    """How a rule stands by one authority, where two do not agree and none goes before; None where it has no such
    rule.
    """

    held_by: str
    rule: RuleInForce | None


@dataclass(frozen=True, slots=True)
class RuleInForce:
    """A rule filtered to one edition, with the numbers of that edition and the authority that adopted it.

    ``scopes`` are the conditions on the site under which the rule is in force at all.
    ``only_in`` names the layers that hold only somewhere and have made this form of the rule.
    ``versions`` are given where authorities differ and none of them goes before: the rule then has no version of its
    own, and is one of these.
    """

    rule: Rule
    edition: str | None
    authority: str
    cites: tuple[Citation, ...]
    parameters: Mapping[str, ParameterValue]
    tables: Mapping[str, TableValues]
    parameter_titles: Mapping[str, str] = field(default_factory=dict)
    history: tuple[History, ...] = ()
    versions: tuple[Version, ...] = ()
    interpretations: tuple[Interpretation, ...] = ()
    only_in: str = ""
    scopes: tuple[Condition, ...] = ()

    @property
    def id(self) -> str:
        """The id of the rule with its pack and edition, readable and stable: ``nfpa-70-2020:first-switch-service-
        rated``; with the layer behind it where the rule stands in another form elsewhere.
        """
        edition = f"-{self.edition}" if self.edition else ""
        where = f"+{self.only_in}" if self.only_in else ""
        return f"{self.rule.pack}{edition}:{self.rule.id}{where}"

    @property
    def name(self) -> str:
        """The rule as pack:id, whatever its edition."""
        return f"{self.rule.pack}:{self.rule.id}"


@dataclass(frozen=True, slots=True)
class LayerInForce:
    """One layer as used by a review."""

    layer: str
    title: str
    authority: str
    digest: str
    may: May
    changes: int
    where: str = ""


@dataclass(frozen=True, slots=True)
class DeletedHere:
    """A rule of a model code that is not in force here, by whom, and why."""

    rule: RuleInForce
    history: History


@dataclass(frozen=True, slots=True)
class LayerNotice:
    """Something about the rules in force that a reader must know: a collision, a change that could not be applied."""

    kind: str
    sentence: str
    at: Position | None = None
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class PackInForce:
    """One pack as used by a review."""

    pack: str
    title: str
    edition: str | None
    digest: str
    adopted_by: str
    since: date | None
    where: str = ""


@dataclass(frozen=True, slots=True)
class NumbersInForce:
    """Parameters and tables of the documents in force by name, for calculations; of two of one name the first.

    They carry what they cite and who checked it, so that a worksheet can say so.
    """

    parameters: Mapping[str, ParameterValue] = field(default_factory=dict)
    tables: Mapping[str, TableValues] = field(default_factory=dict)


NO_NUMBERS = NumbersInForce()


@dataclass(frozen=True, slots=True)
class RulesInForce:
    """What a profile comes to on one date. ``papers`` are those of the town's own, whatever the date: a paper has its
    name before and after it is wanted.
    """

    profile: Profile
    date: date
    rules: tuple[RuleInForce, ...]
    packs: tuple[PackInForce, ...]
    layers: tuple[LayerInForce, ...] = ()
    deleted: tuple[DeletedHere, ...] = ()
    notices: tuple[LayerNotice, ...] = ()
    elected: tuple[str, ...] = ()
    permissions: tuple[Permission, ...] = ()
    numbers: NumbersInForce = NO_NUMBERS
    papers: tuple[OwnPaper, ...] = ()
