"""Kinds, groups, roles, pairs, lists and facts as the catalog in ``schemas/facts/`` names them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import Enum
from fractions import Fraction

from checker.files.cache import digest
from checker.values.possible import Possible, SetSpan, Span


class ValueType(Enum):
    """What one fact holds. A quantity also names its kind of quantity; a structure holds only its parts.

    A way is a piece and one of its ways, ``P1/7``.
    """

    FLAG = "flag"
    CHOICE = "choice"
    COUNT = "count"
    QUANTITY = "quantity"
    WIRE_SIZE = "wire_size"
    DATE = "date"
    TEXT = "text"
    TAG = "tag"
    WAY = "way"
    STRUCTURE = "structure"

    @property
    def is_ordered(self) -> bool:
        """Whether values of this type lie on the number line."""
        return self in _ORDERED


_ANY_TEXT = frozenset({ValueType.TEXT, ValueType.TAG, ValueType.WAY})
_ORDERED = frozenset({ValueType.COUNT, ValueType.QUANTITY, ValueType.WIRE_SIZE, ValueType.DATE})


class Origin(Enum):
    """Whether a person writes the fact, the program works it out, or either."""

    STATED = "stated"
    DERIVED = "derived"
    EITHER = "either"


class Stage(Enum):
    """When something is due or normally known, in the order of the job."""

    PLAN_REVIEW = "plan_review"
    INSTALLATION = "installation"
    ACCEPTANCE = "acceptance"
    IN_SERVICE = "in_service"

    @property
    def order(self) -> int:
        """Place in the order of the job, from 0."""
        return list(Stage).index(self)


@dataclass(frozen=True, slots=True)
class Bounds:
    """Lowest and highest number in the base unit of the fact's kind; None where there is no such end."""

    low: Fraction | None
    high: Fraction | None

    def holds(self, number: Fraction) -> bool:
        """Whether the number lies between the two, ends included."""
        return (self.low is None or number >= self.low) and (self.high is None or number <= self.high)


@dataclass(frozen=True, slots=True)
class Fact:
    """One fact, or one part of a structured fact (then its name has a dot).

    ``stated_for`` and ``derived_for`` are the subject types for which a person writes it and for which a derivation
    exists. ``said_only`` are choices that are never taken to be possible unless somebody writes them; of a number
    ``number``: it is none unless somebody writes one. ``own_choices``: a place may add choices of its own, whose names
    have a hyphen, as no choice of the catalog has. ``part_in_use`` names the fact that says which part of a structure
    is in use: that part is not taken to be absent because it is not written. ``physical`` bounds narrow what
    is possible when nothing is said; ``plausible`` bounds only catch typing errors.
    """

    name: str
    type: ValueType
    title: str
    means: str
    stated_for: frozenset[str]
    derived_for: frozenset[str]
    quantity: str | None = None
    unit: str | None = None
    choices: Mapping[str, str] = field(default_factory=dict)
    several: bool = False
    may_be_none: bool = False
    exact: bool = False
    physical: Bounds | None = None
    plausible: Bounds | None = None
    agrees_within: Fraction | None = None
    found_on: str = ""
    known_at: Stage = Stage.PLAN_REVIEW
    parts: tuple[str, ...] = ()
    short_for: str | None = None
    reads: str | None = None
    unnamed_parts_absent: bool = False
    part_in_use: str | None = None
    said_only: frozenset[str] = frozenset()
    own_choices: bool = False

    @property
    def subjects(self) -> frozenset[str]:
        """Every subject type that has this fact."""
        return self.stated_for | self.derived_for

    def origin(self, subject_type: str) -> Origin:
        """Who gives the fact for this type of subject."""
        if subject_type not in self.derived_for:
            return Origin.STATED
        return Origin.EITHER if subject_type in self.stated_for else Origin.DERIVED

    def anything(self) -> Possible:
        """What is possible while nothing is said: any value of the type, within physical bounds, or none where
        allowed.
        """
        return Possible(
            atoms=self._any_atoms(),
            anything=self.type in _ANY_TEXT and not self.several,
            spans=_any_span(self.physical) if self.type.is_ordered and not self.said_only else (),
            sets=_any_set(frozenset(self.choices) - self.said_only) if self.several else (),
            absent=self.may_be_none,
        )

    def anything_said(self) -> Possible:
        """What a person may write of it, choices that are only possible once they are written among them."""
        return replace(self, said_only=frozenset()).anything()

    def _any_atoms(self) -> frozenset[str | bool]:
        if self.several:
            return frozenset()
        if self.type is ValueType.FLAG:
            return frozenset({True, False} - {word == "yes" for word in self.said_only})
        if self.type is ValueType.STRUCTURE:
            return frozenset({True})
        return frozenset(self.choices) - self.said_only


def _any_span(physical: Bounds | None) -> tuple[Span, ...]:
    return (Span(physical.low, physical.high) if physical else Span(None, None),)


def _any_set(choices: frozenset[str]) -> tuple[SetSpan, ...]:
    return (SetSpan(frozenset(), choices),) if choices else ()


class Feeding(Enum):
    """How a kind of equipment is fed: not at all; by one line; by one line that may be out, as a cord; by one line, or
    several into ways of their own; on the two sides of a transfer switch.
    """

    NOTHING = "nothing"
    ONE = "fed_from"
    CORD = "cord"
    SEVERAL = "several"
    BOTH_SIDES = "both_sides"

    @property
    def inputs(self) -> tuple[str, ...]:
        """The keys of a site file that say what feeds the piece; the ways of several feeds stand below it."""
        return _INPUTS[self]


_INPUTS = {
    Feeding.NOTHING: (),
    Feeding.ONE: ("fed_from",),
    Feeding.CORD: ("fed_from",),
    Feeding.SEVERAL: ("fed_from",),
    Feeding.BOTH_SIDES: ("normal", "alternate"),
}


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of equipment."""

    name: str
    title: str
    means: str
    feeding: Feeding
    has_ways: bool
    drawing_complete: bool
    seen_at: str
    without_nameplate: str = ""


@dataclass(frozen=True, slots=True)
class Pair:
    """Two things that belong together; ``members`` names the way in which the program finds them."""

    name: str
    title: str
    a: str
    b: str
    members: str


@dataclass(frozen=True, slots=True)
class Listing:
    """An open list of a site file, or of one kind of piece; one that is never empty is not complete without members."""

    name: str
    member: str
    title: str
    means: str
    on: str
    found_on: str
    never_empty: bool = False
    known_by: str = ""
    """What a member is called by what is said of it, with facts between braces."""


@dataclass(frozen=True, slots=True)
class Link:
    """A way from one thing to one other: from which types of subject, to which (the order in which a fact is looked
    for).
    """

    name: str
    title: str
    of: frozenset[str]
    to: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Collection:
    """A way from one thing to several: from which types of subject, and of which types the members are."""

    name: str
    title: str
    of: frozenset[str]
    members: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Catalog:
    """Everything that a site can say. ``facts`` holds parts too, under their dotted names.

    ``a`` and ``b``, the two ends of a pair, are links too; which kinds they lead to stands with the pair. ``digest`` is
    that of the files it was read from, empty where it was put together otherwise.
    """

    kinds: Mapping[str, Kind]
    groups: Mapping[str, tuple[str, ...]]
    roles: Mapping[str, str]
    role_groups: Mapping[str, tuple[str, ...]]
    pairs: Mapping[str, Pair]
    lists: Mapping[str, Listing]
    facts: Mapping[str, Fact]
    titles: Mapping[str, str]
    links: Mapping[str, Link] = field(default_factory=dict)
    collections: Mapping[str, Collection] = field(default_factory=dict)
    digest: str = ""

    def with_choices(self, name: str, added: Mapping[str, str]) -> Catalog:
        """The catalog of a place that has choices of its own of one fact: by their names, with their titles."""
        if not added:
            return self
        fact = self.facts[name]
        widened = replace(fact, choices={**fact.choices, **added})
        own = digest(self.digest, name, *(text for each in added.items() for text in each)) if self.digest else ""
        return replace(self, facts={**self.facts, name: widened}, digest=own)

    def kinds_of(self, name: str) -> tuple[str, ...]:
        """The kinds that a kind or a group stands for; empty where the name is neither."""
        if name in self.kinds:
            return (name,)
        return self.groups.get(name, ())

    def facts_of(self, subject_type: str) -> tuple[Fact, ...]:
        """The facts of one type of subject, parts included, in catalog order."""
        return tuple(fact for fact in self.facts.values() if subject_type in fact.subjects)

    def may_be_absent(self, fact: Fact) -> bool:
        """Whether the fact may be known not to be there: by itself, or because the whole that it is a part of is
        not.
        """
        whole = self.facts.get(fact.name.partition(".")[0])
        return fact.may_be_none or (whole is not None and whole.may_be_none)

    def fact(self, name: str, subject_type: str) -> Fact | None:
        """The fact of that name, if this type of subject has it."""
        found = self.facts.get(name)
        return found if found is not None and subject_type in found.subjects else None

    def linked(self, name: str, subject_type: str) -> tuple[str, ...]:
        """The types of subject to which a link leads from one type of subject; empty where there is no such link."""
        pair = self.pairs.get(subject_type)
        if pair is not None and name in ("a", "b"):
            return self.kinds_of(pair.a if name == "a" else pair.b)
        link = self.links.get(name)
        return link.to if link is not None and subject_type in link.of else ()

    def collection(self, name: str, subject_type: str) -> Collection | None:
        """The collection of that name, if this type of subject has it."""
        found = self.collections.get(name)
        return found if found is not None and subject_type in found.of else None

    def list_found_on(self, name: str) -> str:
        """Where somebody sees whether all that a list holds is there."""
        return self.lists[name].found_on

    @property
    def subject_types(self) -> frozenset[str]:
        """Every type of subject: kinds, members of lists, pairs, and site, way, side, connection, figure."""
        fixed = {"site", "way", "side", "connection", "figure"}
        return frozenset({*self.kinds, *self.pairs, *(each.member for each in self.lists.values()), *fixed})
