"""Findings and what a whole review comes to, as plain frozen data for any report."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from checker.catalog.model import Stage
from checker.engineering.worksheet import Worksheet
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.rules.grammar import SYMBOLS
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis, Force, Harm
from checker.rules.model.in_force import LayerInForce, PackInForce
from checker.rules.model.profile import OwnPaper
from checker.values.positions import Position
from checker.values.problems import Problem
from checker.values.truth import Truth


@dataclass(frozen=True, slots=True)
class Figure:
    """One side of a comparison as it is printed: the fact, its text and unit, exact ends in the base unit, and its
    place; of what is worked out the names of what it rests on.
    """

    fact: str | None
    title: str
    text: str
    unit: str | None = None
    low: str | None = None
    high: str | None = None
    at: Position | None = None
    per: str | None = None
    worksheet: str | None = None
    state: str | None = None
    rests_on: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Check:
    """One comparison that was made; ``direct`` when its part cannot hold without it. ``missing`` holds, in words, the
    choices that are surely not there of several that are wanted at once.
    """

    part: str | None
    holds: Truth
    relation: str
    found: Figure
    wanted: Figure | None
    direct: bool = True
    missing: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Way:
    """One of several ways of meeting a rule, and whether it is met."""

    name: str
    holds: Truth
    lacks: tuple[Check, ...]


@dataclass(frozen=True, slots=True)
class ReadingResult:
    """One reading of a text that is read in two ways, and what it comes to."""

    name: str
    held_by: str
    holds: Truth


@dataclass(frozen=True, slots=True)
class VersionResult:
    """One authority's version of a rule of which several stand, and what it comes to."""

    held_by: str
    could_be: tuple[Outcome, ...]


@dataclass(frozen=True, slots=True)
class ExceptionResult:
    """One named exception and whether it holds."""

    id: str
    holds: Truth
    because: str
    cites: tuple[Citation, ...]


@dataclass(frozen=True, slots=True)
class Need:
    """What would settle a finding: a fact, word that a list is complete, word whether there is such a piece, or a
    person. ``in_place_of`` names another need: given all that stands in its place, the program works it out.
    """

    ask: str
    fact: str
    title: str
    paper: str
    stage: Stage
    in_place_of: str = ""


@dataclass(frozen=True, slots=True)
class BreakEven:
    """The value of one fact at which a finding would turn: an open one, or one that falls short in several ways."""

    fact: str
    relation: str
    text: str
    value: str
    unit: str | None
    holds: str


@dataclass(frozen=True, slots=True)
class Sign:
    """A sign, placard or marking that a rule wants here.

    ``places`` holds the tags of the pieces at which it stands, of several at one of them; ``among`` names what they are
    where the rule speaks of several, also where none of them is drawn. ``letter_feet`` is the least height of its
    letters as an exact number of feet. ``only_if`` is the condition under which it is wanted, where that is open.
    ``holds`` tells whether it is there, where the rule asks for more than the sign. ``shown`` holds the labels that are
    shown at its places, in words.
    """

    words: tuple[str, ...]
    meaning: str
    class_word: str
    places: tuple[str, ...]
    among: str
    ground: str
    letters: str
    letter_height: str
    letter_feet: str
    only_if: str
    holds: Truth | None
    shown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaperAsked:
    """A paper that a rule wants in the packet: by the choices of the catalog of which one does, whether it is there,
    what it has to show with whether it does, and what else is asked of it, in words.
    """

    papers: tuple[str, ...]
    there: Truth
    shows: tuple[tuple[str, Truth], ...]
    further: tuple[tuple[str, Truth], ...]


@dataclass(frozen=True, slots=True)
class PaperShown:
    """A paper of the packet with what it is said to show, by the choices of the catalog."""

    paper: str
    shows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SubjectName:
    """A subject for readers: the names by part (``piece``, ``with``, ``from`` ...), the words, and the piece to walk
    to. ``known_as`` is the name that stays when lines move: of a member of a list what is said of it.
    """

    parts: Mapping[str, str]
    words: str
    id: str
    type: str
    walk: tuple[int, str]
    known_as: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One rule applied to one subject."""

    id: str
    number: int
    rule: str
    title: str
    subject: SubjectName
    outcome: Outcome
    could_be: tuple[Outcome, ...]
    without_permission: Outcome | None
    due: Stage
    force: Force
    basis: Basis
    authority: str
    cites: tuple[Citation, ...]
    checks: tuple[Check, ...]
    exceptions: tuple[ExceptionResult, ...]
    ways: tuple[Way, ...]
    readings: tuple[ReadingResult, ...]
    history: tuple[str, ...]
    break_even: BreakEven | None
    follows_from: str | None
    before: tuple[str, ...]
    companions: tuple[str, ...]
    who_acts: str
    needs: tuple[Need, ...]
    assumed: tuple[str, ...]
    unconfirmed: tuple[str, ...]
    says: str
    why: str
    remedy: tuple[str, ...]
    cautions: tuple[str, ...]
    because: str = ""
    look: str = ""
    covers: tuple[str, ...] = ()
    reasons: tuple[str, ...] = ()
    versions: tuple[VersionResult, ...] = ()
    interpretations: tuple[str, ...] = ()
    permission: str = ""
    pack: str = ""
    signs: tuple[Sign, ...] = ()
    papers: tuple[PaperAsked, ...] = ()
    harm: Harm = Harm.NONE
    under: str | None = None

    @property
    def key(self) -> tuple[str, str]:
        """The finding whatever its edition: the pack, and the rule with its subject."""
        return self.pack, self.id.partition(":")[2]

    def is_open_at(self, stage: Stage) -> bool:
        """Whether the finding is due by this stage and not settled."""
        waits = self.outcome in (Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE)
        rests = bool(self.assumed) and self.outcome in SETTLED_OUTCOMES
        return (waits or rests) and self.due.order <= stage.order


@dataclass(frozen=True, slots=True)
class Notice:
    """Something about the run that is no finding: a drawing error, a fact that nobody read, a choice that was made."""

    kind: str
    sentence: str
    at: Position | None = None
    remedy: str = ""


@dataclass(frozen=True, slots=True)
class PieceOfLine:
    """A piece of the one-line as the program understood it."""

    tag: str
    kind: str
    title: str
    role: str
    first: bool


@dataclass(frozen=True, slots=True)
class ConnectionOfLine:
    """A connection of the one-line."""

    id: str
    source: str
    to: str
    input: str


@dataclass(frozen=True, slots=True)
class OneLine:
    """The drawing as the program understood it, from the sources down. ``apart`` tells of each source that no line
    joins to anything, so that it is not looked for in vain.
    """

    pieces: tuple[PieceOfLine, ...]
    connections: tuple[ConnectionOfLine, ...]
    bonds: tuple[str, ...]
    apart: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FiguresOfPiece:
    """What was worked out for a piece or a side of a switch, in words; empty where such a thing has no such figure."""

    words: str
    fed_by: str
    to_carry: str
    greatest_fault: str
    least_fault: str
    opened: str


@dataclass(frozen=True, slots=True)
class ListedLoads:
    """The loads that are listed past a set, with all of them on: how many, what they take together, in words, and
    whether that is surely more than the set gives.

    ``starting`` is the most that one of their motors takes to start, ``starter`` that load, and ``motors_open`` how
    many motors do not tell it. ``is_all`` is whether the list is said to be complete.
    """

    count: int
    power: str
    starting: str
    starter: str
    motors_open: int
    is_all: bool
    is_more: bool


@dataclass(frozen=True, slots=True)
class LoadOfSet:
    """What a generating set gives at its site and what is put on it, in words; empty where a figure is not known.

    ``findings`` are the ids of the findings that compare the two; ``by_hand`` is said only of a set that surely does
    not start by itself, and only that set has its ``listed`` loads told. ``to_amperes`` are the titles of what is open
    between the power and the current, as the load is in amperes.
    """

    tag: str
    power: str
    current: str
    load: str
    managed: str
    selected: str
    findings: tuple[str, ...]
    by_hand: bool
    to_amperes: tuple[str, ...] = ()
    listed: ListedLoads | None = None


@dataclass(frozen=True, slots=True)
class StateOfLine:
    """An operating state that was walked, with what each source feeds in it if it runs."""

    name: str
    feeds: tuple[tuple[str, tuple[str, ...]], ...]


@dataclass(frozen=True, slots=True)
class States:
    """The operating states that were walked, and how many combinations of positions were not."""

    walked: tuple[StateOfLine, ...]
    not_walked: int


@dataclass(frozen=True, slots=True)
class Deleted:
    """A rule of a model code that is not in force here: its title and sections, and who deleted it where and why."""

    rule: str
    title: str
    cites: tuple[Citation, ...]
    layer: str
    told: str
    deleted_by: tuple[Citation, ...]


@dataclass(frozen=True, slots=True)
class DateTaken:
    """Where the date of a review comes from: from the site file, or given in its place; and what the file says."""

    given: bool = False
    in_file: date | None = None


FROM_FILE = DateTaken()


@dataclass(frozen=True, slots=True)
class InForce:
    """Which rules a review used."""

    profile: str
    title: str
    date: date
    event: str
    packs: tuple[PackInForce, ...]
    layers: tuple[LayerInForce, ...] = ()
    elected: tuple[str, ...] = ()
    dated: DateTaken = FROM_FILE
    symbols: str = SYMBOLS[0]
    """The family in which the one-line is drawn there."""


@dataclass(frozen=True, slots=True)
class Described:
    """What a review rests on: ``names`` of members of lists that stay when lines move, by their ids; everything that is
    described, by such names; each stated fact as it reads; the rules in force, by pack and id.
    """

    names: Mapping[str, str] = field(default_factory=dict)
    subjects: frozenset[str] = frozenset()
    stated: Mapping[str, str] = field(default_factory=dict)
    rules: frozenset[tuple[str, str]] = frozenset()


NOT_DESCRIBED = Described()


@dataclass(frozen=True, slots=True)
class Review:
    """Everything that one review found, in the order in which it is printed."""

    site_name: str
    file: str
    digest: str
    stage: Stage
    in_force: InForce
    states: States
    one_line: OneLine
    findings: tuple[Finding, ...]
    notices: tuple[Notice, ...]
    worksheets: Mapping[str, Worksheet]
    not_covered: tuple[str, ...]
    cautions: tuple[str, ...]
    problems: tuple[Problem, ...] = ()
    deleted: tuple[Deleted, ...] = ()
    figures: tuple[FiguresOfPiece, ...] = ()
    sets: tuple[LoadOfSet, ...] = ()
    packet: tuple[PaperShown, ...] = ()
    packet_complete: bool = False
    own_papers: tuple[OwnPaper, ...] = ()
    described: Described = NOT_DESCRIBED

    def totals(self) -> Mapping[Outcome, int]:
        """How many findings of each outcome the plan came to."""
        counted = dict.fromkeys(Outcome, 0)
        for finding in self.findings:
            counted[finding.outcome] += 1
        return counted
