"""Where a fault current begins: how many amperes, of which kinds of fault, at which voltages and angles."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.faults.along import NO_RATIO, Beginning, Conductors, least_past, most_past
from checker.engineering.faults.loops import Fault
from checker.engineering.powers import ROOT_OF_THREE
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.site.model import Subject
from checker.values.possible import Possible

READS = ("system",)

GREATEST = "greatest"
"""A figure that is of whichever kind of fault gives most."""

Ratios = tuple[Fraction, Fraction | None]
_THREE = 3


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind of fault with the voltage of its loop, at least and at most (None: no end is known)."""

    fault: Fault
    low: Fraction | None
    high: Fraction | None


@dataclass(frozen=True, slots=True)
class Start:
    """A place from which runs are counted, with its figure as it was found and the kinds that may be meant."""

    tag: str
    fact: str
    known: Known
    kinds: tuple[Kind, ...]
    x_over_r: Ratios = NO_RATIO
    angle: Subject | None = None
    """Whose X/R may be stated; it is asked for only where a run takes something."""
    less: Fraction | None = Fraction(0)
    """Amperes of the figure that need not come this way, as those of motors (None: perhaps all)."""
    steps: tuple[tuple[str, str, str], ...] = ()
    """How the figure was found from another one: quantity, how, value with unit."""

    @property
    def with_neutral(self) -> bool:
        """Whether a fault to the neutral may be meant."""
        return any(kind.fault is Fault.LINE_AND_NEUTRAL for kind in self.kinds)

    def only(self, kind: Kind) -> Start:
        """The same, of one kind of fault."""
        return replace(self, kinds=(kind,))

    @property
    def low(self) -> Fraction:
        """The least amperes that come this way."""
        hull = self.known.value.hull
        low = Fraction(0) if hull is None or hull.low is None else hull.low
        return Fraction(0) if self.less is None or self.known.value.undefined else max(low - self.less, Fraction(0))

    @property
    def high(self) -> Fraction | None:
        """The greatest amperes."""
        hull = self.known.value.hull
        return None if hull is None or self.known.value.undefined else hull.high


def most_at_end(start: Start, adds: Conductors) -> Fraction | None:
    """The greatest current past runs, over every kind of fault that may be meant; None without an end."""
    if start.high is None or start.high <= 0:
        return start.high
    return max(_most_of(start, start.high, kind, adds) for kind in start.kinds)


def _most_of(start: Start, amperes: Fraction, kind: Kind, adds: Conductors) -> Fraction:
    if kind.high is None:
        return amperes
    return most_past(Beginning(amperes, kind.high, start.x_over_r), adds.round_of(kind.fault).least)


def least_at_end(start: Start, adds: Conductors) -> Fraction:
    """The least current past runs, over every kind of fault that may be meant; zero where something has no end."""
    return min(_least_of(start, kind, adds) for kind in start.kinds)


def _least_of(start: Start, kind: Kind, adds: Conductors) -> Fraction:
    most = adds.round_of(kind.fault).most
    if start.low <= 0 or most is None or kind.low is None or kind.low <= 0:
        return Fraction(0)
    return least_past(Beginning(start.low, kind.low, start.x_over_r), most)


def kinds_of(context: Context, source: Subject, said: Possible | None) -> tuple[Kind, ...]:
    """The kinds of fault that a figure may be of: as it says, or all that the system of the source can have."""
    atoms = set() if said is None or GREATEST in said.atoms else said.atoms
    named = {Fault(str(atom)) for atom in atoms}
    possible = tuple(_possible(context, source))
    return tuple(kind for kind in possible if kind.fault in named) or possible


def _possible(context: Context, source: Subject) -> Iterator[Kind]:
    phases = context.read(source, "system.phases").hull
    between, neutral = context.read(source, "system.voltage").hull, context.read(source, "system.to_neutral")
    low, high = (None, None) if between is None else (between.low, between.high)
    if phases is None or phases.high is None or phases.high >= _THREE:
        yield Kind(Fault.THREE_PHASE, _over_root(low), _over_root(high))
    yield Kind(Fault.LINES, low, high)
    if not neutral.only_absent:
        hull = neutral.hull
        yield Kind(Fault.LINE_AND_NEUTRAL, hull.low if hull else None, hull.high if hull else None)


def to_neutral_kind(context: Context, source: Subject, *, of_one_phase: bool = False) -> Kind | None:
    """A fault to the neutral of a source; None where it has no neutral, or surely three phases where one is asked
    for.
    """
    phases = context.read(source, "system.phases").hull
    if of_one_phase and phases is not None and phases.low is not None and phases.low >= _THREE:
        return None
    return next((kind for kind in _possible(context, source) if kind.fault is Fault.LINE_AND_NEUTRAL), None)


def _over_root(volts: Fraction | None) -> Fraction | None:
    return None if volts is None else volts / ROOT_OF_THREE


def ratios(value: Possible) -> Ratios:
    """The least and the greatest X/R."""
    hull = value.hull
    if hull is None or value.undefined:
        return NO_RATIO
    return max(hull.low or Fraction(0), Fraction(0)), hull.high
