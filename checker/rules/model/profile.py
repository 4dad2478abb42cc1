"""A profile: which documents and layers a place has adopted, and what stands on record there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import Enum

from checker.catalog.model import Stage
from checker.rules.grammar import SYMBOLS
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Condition
from checker.rules.model.rule import Rule
from checker.values.positions import Position


class May(Enum):
    """What an authority may do to the rules below it."""

    ANYTHING = "anything"
    TIGHTEN = "tighten"
    EASE = "ease"
    NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Adoption:
    """One edition of one document, from a date on (until the day before the next one of the same document).

    ``event`` is the event whose date counts where it is not that of the profile, ``interim`` the interim amendments
    adopted with it (``all`` for every one), ``where`` the condition on the site under which it is the edition of that
    document, ``until`` its last day, ``only`` what is asked of each subject first where another code sends there.
    """

    document: str
    edition: str
    start: date
    adopted_by: str
    at: Position
    until: date | None = None
    event: str | None = None
    interim: tuple[str, ...] = ()
    where: Condition | None = None
    where_words: str = ""
    only: Mapping[str, Condition] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Ranked:
    """A layer in a profile: what its authority may do, and its rank, the lowest first."""

    layer: str
    may: May
    rank: int
    at: Position
    start: date | None = None
    until: date | None = None
    event: str | None = None
    where: Condition | None = None
    where_words: str = ""


@dataclass(frozen=True, slots=True)
class Grace:
    """A time in which the applicant may elect the rules from before a layer or an edition began."""

    of: str
    until: date
    condition: str
    at: Position


@dataclass(frozen=True, slots=True)
class Interpretation:
    """What somebody with a say has written about a rule; it changes nothing and is always shown.

    ``reading`` names the reading that is held, where the rule has several. ``status`` is open, answered or superseded.
    """

    rule: str
    status: str
    says: str
    by: str
    on: date
    reading: str | None
    at: Position


@dataclass(frozen=True, slots=True)
class Permission:
    """A special permission: for one site and, where it is named, one piece; with its conditions and its last day."""

    rule: str
    site: str
    subject: str | None
    by: str
    on: date
    until: date | None
    conditions: tuple[str, ...]
    says: str
    at: Position


@dataclass(frozen=True, slots=True)
class Profile:
    """Which documents and layers are adopted where, from when, and which event fixes the date."""

    id: str
    title: str
    event: str
    documents: tuple[Adoption, ...]
    file: str
    digest: str
    layers: tuple[Ranked, ...] = ()
    grace: tuple[Grace, ...] = ()
    papers: tuple[Rule, ...] = ()
    interpretations: tuple[Interpretation, ...] = ()
    permissions: tuple[Permission, ...] = ()
    symbols: str = SYMBOLS[0]
    """The family in which one-lines are drawn there."""


@dataclass(frozen=True, slots=True)
class OwnPaper:
    """A paper that the fact catalog does not know, as a place declares it: its name in site files and rules, what it is
    called there and what it is, the stage at which it is wanted, and what it rests on.
    """

    name: str
    title: str
    means: str
    due: Stage
    cites: tuple[Citation, ...]
    at: Position
