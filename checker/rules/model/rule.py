"""A rule as data: its grammar as frozen values, before an edition has been chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from checker.catalog.model import Stage
from checker.rules.model.citing import Checked, Citation
from checker.rules.model.conditions import Condition, FactPath
from checker.rules.model.force import Basis, Editions, Force, Harm
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class NamedException:
    """Where it holds, the rule does not apply; the finding names it."""

    id: str
    condition: Condition
    because: str
    cites: tuple[Citation, ...] = ()
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Requires:
    """Named parts, all of which must hold, or, where ``any_way``, one of which must hold."""

    parts: Mapping[str, Condition]
    any_way: bool = False


@dataclass(frozen=True, slots=True)
class Instead:
    """Where its condition holds, its requirement takes the place of the rule's own."""

    id: str
    condition: Condition
    requires: Requires
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Reading:
    """One reading of a text that is read in two ways."""

    name: str
    held_by: str
    requires: Requires
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class LabelColors:
    """The colors that a document asks of a sign, as choices of the catalog; in some editions only."""

    ground: str
    letters: str
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Label:
    """A sign, placard or marking that a rule wants.

    Exactly one of ``words`` (the lines to engrave, exactly) and ``meaning`` (what a longer sentence has to say) is
    given. ``at`` leads from the subject to the piece, or to a collection of which one carries the sign; ``where`` says
    which members of it can. ``when`` is the condition under which this sign is the one that is wanted. ``part`` names
    the part of the requirement that asks for it, where the requirement asks for more. ``letter_height`` names a
    parameter.
    """

    words: tuple[str, ...] = ()
    meaning: str = ""
    class_word: str = ""
    at: FactPath | None = None
    where: Condition | None = None
    when: Condition | None = None
    part: str | None = None
    colors: LabelColors | None = None
    letter_height: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Told:
    """A cure, a caution, or a sentence of the miss. With ``when`` a cure or a caution is told only where that does not
    surely fail: what would cure nothing here, or warn of what is not there, is left out. The condition decides no
    finding.
    """

    text: str
    when: Condition | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of a pack, in all editions or filtered to one.

    Exactly one of ``requires``, ``readings`` and ``look`` is given. ``subject`` is a kind, a group, a role, a group
    of roles, a pair, the member of a list, or connection, site, service, figure. ``sections`` holds the section per
    edition, ``checked`` who confirmed it; ``cites`` is used by rules of documents without editions. ``interim`` names,
    by edition, the interim amendment without which the rule is not in it. The first of ``says_where`` whose condition
    surely holds is told in place of ``says``.
    """

    id: str
    pack: str
    title: str
    subject: str
    basis: Basis
    says: str
    at: Position
    force: Force = Force.MANDATORY
    due: Stage = Stage.PLAN_REVIEW
    harm: Harm = Harm.NONE
    when: Condition | None = None
    unless: tuple[NamedException, ...] = ()
    instead: tuple[Instead, ...] = ()
    requires: Requires | None = None
    readings: tuple[Reading, ...] = ()
    look: str | None = None
    says_where: tuple[Told, ...] = ()
    why: str = ""
    remedy: tuple[Told, ...] = ()
    who_acts: str = "contractor"
    before: tuple[str, ...] = ()
    companions: tuple[str, ...] = ()
    cautions: tuple[Told, ...] = ()
    sections: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    cites: tuple[Citation, ...] = ()
    checked: Mapping[str, Checked] = field(default_factory=dict)
    covers: tuple[str, ...] = ()
    interim: Mapping[str, str] = field(default_factory=dict)
    labels: tuple[Label, ...] = ()
