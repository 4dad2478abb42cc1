"""A schedule as plain frozen data for any report."""

from __future__ import annotations

from dataclasses import dataclass, field

from checker.findings.finding import Finding, InForce, LoadOfSet
from checker.values.positions import Position
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class Value:
    """One value, or all numbers of a stretch: whether it stays, the notes of the rules that turn it down, and of those
    that may once more is known.
    """

    text: str
    value: Possible
    stays: bool
    notes: tuple[int, ...]
    open: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class ByTheTables:
    """The least size in an ordinary run, and smaller ones that may do there too once ``until`` is known."""

    must: str
    undecided: str = ""
    until: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Bound:
    """What is left of a fact under the rules, in words, and the numbers of the notes that say which rules bound it.

    ``must`` is empty where no mandatory rule bounds it, ``better`` where trade practice asks for nothing more.
    ``undecided`` is what is not turned down only because a rule that others meet cannot tell of it.
    ``open`` are the notes of mandatory rules that may bound it further once more is known, ``brings`` those of rules
    that some of what is left brings into play, and that ask for something else.
    ``until`` is what would tell of what is undecided, in the words of the catalog; where nothing is left apart, of what
    is open.
    ``elsewhere`` are rules that are missed as drawn and that this fact is not the one to settle: whatever would, the
    other rules turn down. ``gives_up`` is what the owner has chosen, where what is left is to choose otherwise.

    Of sizes alone: ``never`` is the smallest that may do at all, ``by_the_tables`` the least in an ordinary run where
    this one is open, ``larger`` the size above which the notes ask more of something else.
    """

    must: str = ""
    must_notes: tuple[int, ...] = ()
    undecided: str = ""
    undecided_notes: tuple[int, ...] = ()
    better: str = ""
    better_notes: tuple[int, ...] = ()
    open: tuple[int, ...] = ()
    brings: tuple[int, ...] = ()
    nothing_left: bool = False
    values: tuple[Value, ...] = ()
    until: tuple[str, ...] = ()
    never: str = ""
    by_the_tables: ByTheTables | None = None
    larger: str = ""
    larger_notes: tuple[int, ...] = ()
    elsewhere: tuple[int, ...] = ()
    gives_up: str = ""

    @property
    def says_something(self) -> bool:
        """Whether anything bounds the fact, or may."""
        told = self.must or self.undecided or self.undecided_notes or self.better or self.open or self.brings
        return bool(told or self.elsewhere)


@dataclass(frozen=True, slots=True)
class Cell:
    """One fact of one piece: what is shown of it, and what it must be while everything else stays as shown.

    ``kept`` is whether what is shown is among what is left; None where nothing is shown, or more than one value.
    ``follows`` is whether the rest of the drawing gives the fact by itself, so that another value would contradict it.
    """

    subject: str
    fact: str
    title: str
    shown: str
    at: Position | None
    bound: Bound
    kept: bool | None
    hangs_on: tuple[str, ...] = ()
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """One piece, or one run, with its cells by row."""

    tag: str
    title: str
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """The columns of one kind of piece."""

    title: str
    columns: tuple[Column, ...]


@dataclass(frozen=True, slots=True)
class Combination:
    """One combination of the first facts in words, and what it leaves of the last.

    ``turned_down`` are the notes that leave nothing of it.
    ``is_more`` is whether it has more of something, as poles, than another that does.
    """

    given: tuple[str, ...]
    values: tuple[Possible, ...]
    bound: Bound
    as_shown: bool
    turned_down: tuple[int, ...] = ()
    is_more: bool = False

    @property
    def is_offered(self) -> bool:
        """Whether somebody would order it."""
        return not self.turned_down and (self.as_shown or not self.is_more)


@dataclass(frozen=True, slots=True)
class Together:
    """Facts that hang together: their names, and every combination that was tried; ``left_out`` counts those that
    were not.
    """

    title: str
    facts: tuple[str, ...]
    titles: tuple[str, ...]
    combinations: tuple[Combination, ...]
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class Note:
    """One rule at one subject that bounds something; the finding stands for a value that it turns down."""

    number: int
    finding: Finding


@dataclass(frozen=True, slots=True)
class Schedule:
    """What each piece must be."""

    site_name: str
    file: str
    digest: str
    in_force: InForce
    tables: tuple[Table, ...]
    together: tuple[Together, ...]
    notes: tuple[Note, ...]
    not_told: tuple[str, ...]
    by_the_tables: str
    limits: tuple[str, ...] = field(default=())
    sets: tuple[LoadOfSet, ...] = ()
