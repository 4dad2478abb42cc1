"""A fault to the neutral where the figure of the source is of another kind: beside a center tap it draws more."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.faults.loops import Fault
from checker.engineering.faults.transformers import at_center_tap
from checker.facts.derivation import Context, Derived
from checker.facts.faults.along import READS as OF_RUNS
from checker.facts.faults.along import last_transformer, left_of, motors_of, transformer_between
from checker.facts.faults.numbers import run_numbers
from checker.facts.faults.sheet import fault_sheet
from checker.facts.faults.sources import (
    AVAILABLE,
    GIVEN_BY,
    HALF_OF_A_WINDING,
    center_tap_factor,
    is_stated,
    let_through,
)
from checker.facts.faults.starts import Kind, Start, to_neutral_kind
from checker.facts.known import Known, Origin
from checker.facts.pairs import halves
from checker.facts.two_ends import amount
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import ABSENT, between

TO_NEUTRAL = "fault_current_to_neutral"
READS = OF_RUNS

_HALF = "IEEE Std 242 and fault-current handbooks, from memory"


def of_pair(context: Context, subject: Subject, name: str) -> Derived:
    """At most what a fault to the neutral draws at the piece: past the runs from the center tap of the utility, or of
    the transformer between. None where the figure of the source covers every kind of fault, or there is no neutral.

    A figure that is stated for the piece as one between lines bounds it too. The factor of the center tap is that of a
    transformer on a strong primary; past a service drop it is less.
    """
    tag, source = halves(subject)
    giver = context.drawing.pieces.get(source)
    if giver is None or tag not in context.drawing.pieces or not _is_open(context, subject, giver):
        return Derived(ABSENT)
    start, numbers = _start(context, subject, giver), run_numbers(context.numbers)
    if start is None:
        return Derived(ABSENT)
    motors, own = motors_of(context), _by_own_figure(context, subject, giver)
    found = None if numbers is None or start.high is None else left_of(context, tag, start, numbers)
    most = start.high if found is None else found.most
    ends = [each for each in (_plus(most, motors.hull.high if motors.hull else None), own) if each is not None]
    if not ends:
        return Derived(between(0, None).union(ABSENT), unit="kA")
    sheet = None
    if found is not None and numbers is not None and min(ends) != own:
        sheet = fault_sheet(context, subject, name, found.counted, motors, numbers)
    # A figure that somebody states for the piece may cover it.
    return Derived(between(0, rounded(min(ends))).union(ABSENT), unit="kA", worksheet=sheet)


def _plus(most: Fraction | None, motors: Fraction | None) -> Fraction | None:
    return None if most is None or motors is None else most + motors


def _is_open(context: Context, pair: Subject, giver: Subject) -> bool:
    """Whether the figure at the piece may be one that a fault to the neutral exceeds: of the piece where one is stated,
    otherwise of the source.
    """
    if is_stated(context, pair, AVAILABLE):
        return "lines" in context.read(pair, f"{AVAILABLE}.between").atoms
    if transformer_between(context, *halves(pair)):
        return True
    if giver.type != "utility_supply":
        return False
    if is_stated(context, giver, AVAILABLE):
        return "lines" in context.read(giver, f"{AVAILABLE}.between").atoms
    return let_through(context, giver) is not None


def _tap(context: Context, pair: Subject, giver: Subject) -> Subject | None:
    """The piece whose neutral the fault goes to: the last transformer ahead, otherwise the source."""
    tag, source = halves(pair)
    return last_transformer(context, tag, source) if transformer_between(context, tag, source) else giver


def _start(context: Context, pair: Subject, giver: Subject) -> Start | None:
    """The terminals, with what a fault to the neutral draws there; None where the system has no such fault, or where it
    is of three phases and a figure is given for it.
    """
    tap = _tap(context, pair, giver)
    if tap is None:
        return _begin(giver, Kind(Fault.LINE_AND_NEUTRAL, None, None), None)
    if tap.type == "generator":
        kind, high = to_neutral_kind(context, tap), context.read(tap, GIVEN_BY[tap.type]).hull
        return None if kind is None else _begin(tap, kind, None if high is None else high.high)
    if tap.type == "utility_supply" and is_stated(context, tap, AVAILABLE):
        return _by_letter(context, tap)
    kind, found = to_neutral_kind(context, tap), let_through(context, tap)
    return None if kind is None else _begin(tap, kind, None if found is None else found.to_neutral)


def _by_letter(context: Context, giver: Subject) -> Start | None:
    """From the current between lines of a utility, or from its transformer, whatever is less."""
    kind, hull = to_neutral_kind(context, giver, of_one_phase=True), context.read(giver, AVAILABLE).hull
    if kind is None:
        return None
    factor, bound = center_tap_factor(context), let_through(context, giver)
    by_figure = None if hull is None or hull.high is None else at_center_tap(hull.high, factor)
    by_transformer = None if bound is None else bound.to_neutral
    if by_figure is None or (by_transformer is not None and by_transformer < by_figure):
        return _begin(giver, kind, by_transformer)
    return _begin(giver, kind, by_figure, ("2 / share of half a center-tapped winding, at most", _HALF, amount(factor)))


def _begin(at: Subject, kind: Kind, amperes: Fraction | None, *steps: tuple[str, str, str]) -> Start:
    known = Known(between(0, None if amperes is None else rounded(amperes)), Origin.DERIVED, frozenset(), unit="kA")
    return Start(at.id, AVAILABLE, known, (kind,), steps=steps)


def _by_own_figure(context: Context, pair: Subject, giver: Subject) -> Fraction | None:
    """From the current between lines that is stated for the piece itself; a set by the physics of coupled windings."""
    tap = _tap(context, pair, giver)
    if not is_stated(context, pair, AVAILABLE) or tap is None:
        return None
    hull = context.read(pair, AVAILABLE).hull
    if hull is None or hull.high is None or to_neutral_kind(context, tap, of_one_phase=True) is None:
        return None
    factor = HALF_OF_A_WINDING if tap.type == "generator" else center_tap_factor(context)
    return at_center_tap(hull.high, factor)
