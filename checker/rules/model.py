"""A rule as data: its grammar as frozen values, before and after one edition has been chosen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import Enum

from checker.catalog.model import Stage
from checker.rules.grammar import SYMBOLS
from checker.values.dates import CalendarSpan
from checker.values.positions import Position
from checker.values.possible import Possible

Editions = frozenset[str]
"""The editions in which something exists; empty means every edition of the document."""


class Basis(Enum):
    """What a rule rests on; it bounds what may come out."""

    LAW = "law"
    ADOPTED_STANDARD = "adopted_standard"
    LISTING = "listing_or_instructions"
    WRITTEN_POLICY = "written_policy"
    TRADE_PRACTICE = "trade_practice"
    LOCAL_PRACTICE = "local_practice"

    @property
    def can_correct(self) -> bool:
        """Whether a miss may be a correction; practice gives at most a recommendation."""
        return self not in (Basis.TRADE_PRACTICE, Basis.LOCAL_PRACTICE)


class Force(Enum):
    """How binding the text is."""

    MANDATORY = "mandatory"
    RECOMMENDED = "recommended"
    INFORMATIONAL = "informational"


class Harm(Enum):
    """The worst that a miss can bring, the worst first: somebody killed (by exhaust, shock, backfeed, gas, or a fault
    that nothing opens), fire, equipment broken or dead when it is wanted; none of these, as where a paper or a sign is
    missing. It puts findings in order and decides none.
    """

    LIFE = "life"
    FIRE = "fire"
    EQUIPMENT = "equipment"
    NONE = "none"

    @property
    def order(self) -> int:
        """Place in a report, from 0."""
        return list(Harm).index(self)


@dataclass(frozen=True, slots=True)
class FactPath:
    """A fact as a rule names it: links to walk, then the name of the fact (with its part)."""

    links: tuple[str, ...]
    name: str
    at: Position | None = field(default=None, compare=False)

    def __str__(self) -> str:
        return ".".join((*self.links, self.name))


# --- operands -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Words:
    """Choices or a flag written in the rule; a list stands for all of them together."""

    words: tuple[str | bool, ...]
    is_list: bool


@dataclass(frozen=True, slots=True)
class FactOperand:
    """The value of a fact."""

    path: FactPath


@dataclass(frozen=True, slots=True)
class ParameterOperand:
    """The value of a parameter."""

    name: str


@dataclass(frozen=True, slots=True)
class Combined:
    """``largest_of``, ``smallest_of`` or ``sum_of``."""

    how: str
    operands: tuple[Operand, ...]
    skip_absent: bool = False


@dataclass(frozen=True, slots=True)
class Scaled:
    """The product of a quantity and a ratio."""

    operand: Operand
    factor: Operand


@dataclass(frozen=True, slots=True)
class NextSize:
    """The smallest value of a table of sizes that is not below the operand."""

    operand: Operand
    table: str


@dataclass(frozen=True, slots=True)
class Lookup:
    """The cell of a table for these keys."""

    table: str
    keys: Mapping[str, Operand]


Operand = Words | FactOperand | ParameterOperand | Combined | Scaled | NextSize | Lookup


# --- conditions -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Test:
    """One relation with what stands on its other side; ``between`` has two operands, all others one."""

    relation: str
    operands: tuple[Operand, ...]


@dataclass(frozen=True, slots=True)
class Compare:
    """A fact with one or more relations, all of which must hold."""

    path: FactPath
    tests: tuple[Test, ...]
    if_absent: bool | None = None
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Group:
    """``all`` or ``any`` of several conditions."""

    how: str
    conditions: tuple[Condition, ...]
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Not:
    """The opposite of a condition."""

    condition: Condition
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Fold:
    """``some``, ``every`` or ``none`` of a collection."""

    how: str
    collection: FactPath
    where: Condition | None
    that: Condition | None
    if_empty: bool | None = None
    part: str | None = None
    editions: Editions = frozenset()


@dataclass(frozen=True, slots=True)
class Count:
    """How many members of a collection there are."""

    collection: FactPath
    where: Condition | None
    tests: tuple[Test, ...]
    part: str | None = None
    editions: Editions = frozenset()


Condition = Compare | Group | Not | Fold | Count


# --- rules ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Citation:
    """A section of a document; ``verify`` when nobody has confirmed it against the book."""

    document: str
    edition: str | None
    section: str
    verify: bool = False


@dataclass(frozen=True, slots=True)
class Checked:
    """Who compared a value or a section with its source: when, with what, and how sure (high, medium, low)."""

    sure: str
    against: str
    on: date | None = None
    by: str = ""

    @property
    def confirmed(self) -> bool:
        """Whether it may be printed without asking the reader to verify it."""
        return self.sure == "high"


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


# --- parameters and tables ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ParameterValue:
    """The value of a parameter in one edition: a set of possibilities with one member, a calendar span, or no limit."""

    text: str
    value: Possible | CalendarSpan | None
    unit: str | None
    cites: tuple[Citation, ...]
    checked: Checked

    @property
    def no_limit(self) -> bool:
        """Whether any comparison with it holds."""
        return self.value is None


@dataclass(frozen=True, slots=True)
class Parameter:
    """A number, date, length of time or list of choices that a document sets, by edition. ``stricter`` is higher or
    lower.
    """

    name: str
    title: str
    type: str
    stricter: str | None
    values: Mapping[str, ParameterValue]
    at: Position


@dataclass(frozen=True, slots=True)
class TableKey:
    """One key of a table. ``match`` is exact, at_or_above (the first row whose key is not below) or band."""

    name: str
    match: str
    type: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row: for each key the possibilities that it stands for (a word, a number, or a band), and its value."""

    keys: Mapping[str, Possible]
    value: Possible
    text: str


@dataclass(frozen=True, slots=True)
class TableValues:
    """The rows of a table in one edition, as in the book; ``beyond`` is the reason given past the last row."""

    rows: tuple[Row, ...]
    beyond: str
    cites: tuple[Citation, ...]
    checked: Checked


@dataclass(frozen=True, slots=True)
class Table:
    """A table of a document, by edition. A table without keys is a list of sizes."""

    name: str
    title: str
    keys: tuple[TableKey, ...]
    gives: str
    unit: str | None
    values: Mapping[str, TableValues]
    at: Position


@dataclass(frozen=True, slots=True)
class Reference:
    """A standard to which a code sends: it counts wherever the code is adopted and the place has not adopted the
    standard itself.

    ``editions`` says for each edition of the code which one of the standard it names, ``cites`` where it names it,
    ``only`` for which of each subject the code sends there; a subject that is not in it is sent as a whole.
    """

    document: str
    editions: Mapping[str, str]
    cites: Mapping[str, tuple[Citation, ...]]
    only: Mapping[str, Condition]
    at: Position


@dataclass(frozen=True, slots=True)
class Pack:
    """One document in all its editions, or one body of practice. ``editions`` is empty where there are none.

    ``interim`` holds the interim amendments of each edition by number, with the day from which each counts,
    ``sends_to`` the standards that come into force with it.
    """

    id: str
    title: str
    document: str
    editions: tuple[str, ...]
    digest: str
    rules: tuple[Rule, ...]
    parameters: Mapping[str, Parameter]
    tables: Mapping[str, Table]
    folder: str
    retired: Mapping[str, str] = field(default_factory=dict)
    interim: Mapping[str, Mapping[str, date]] = field(default_factory=dict)
    sends_to: tuple[Reference, ...] = ()


# --- profiles and rules in force ------------------------------------------------------------------------------------


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
