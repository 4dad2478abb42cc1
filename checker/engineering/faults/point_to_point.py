"""The point-to-point method as handbooks and plan reviewers' handouts print it: f, M, and the current past a run.

It adds magnitudes where impedances are vectors, so it errs to the low side, by up to about 2 % in ordinary buildings;
an interrupting rating that is met by less than that asks for ``runs.py``.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.loops import FAULT_NAMES, Fault, FaultCurrent, as_fault_current
from checker.engineering.powers import ROOT_OF_THREE
from checker.engineering.worked import Method, Paper, Step

_WAYS = {Fault.THREE_PHASE: ROOT_OF_THREE, Fault.LINES: Fraction(2), Fault.LINE_AND_NEUTRAL: Fraction(2)}
"""A three-phase fault by the voltage between lines; the other two out and back by the voltage of their loop."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A run: length one way (ft), conductors of each phase in parallel, and the constant C of the conductor in its
    raceway (1 / ohms per foot, published tables).
    """

    length: Fraction
    sets: int
    constant: Fraction


@dataclass(frozen=True, slots=True)
class PointToPoint:
    """Fault current at the beginning (A), which fault, and the voltage (V): between lines for three phases and for
    lines, to neutral for line to neutral; and the segments in order.
    """

    amperes: Fraction
    fault: Fault
    voltage: Fraction
    segments: tuple[Segment, ...]


def point_to_point(case: PointToPoint) -> FaultCurrent:
    """The fault current past the segments in A: f = k L I / (C n E), M = 1 / (1 + f), I' = M I, one after another.

    k is the root of three for three phases and two (out and back) for the others. Falls with each length, rises with
    the current at the beginning, with C and with the conductors in parallel. Limits: see the module; no motors.
    """
    paper = Paper()
    current = paper.write(f"{FAULT_NAMES[case.fault]} fault current at the beginning", "given", case.amperes, "A")
    for segment in case.segments:
        current = _past(paper, case, segment, current)
    return as_fault_current(paper.result(), case.fault)


def _past(paper: Paper, case: PointToPoint, segment: Segment, current: Step) -> Step:
    if segment.length < 0 or segment.sets < 1 or segment.constant <= 0 or case.voltage <= 0:
        raise OutsideLimits("A segment has a length, conductors and a constant, and the source a voltage above zero.")
    ways = _WAYS[case.fault]
    opposes = segment.constant * segment.sets * case.voltage
    factor = ways * segment.length * current.value / opposes
    sign = "square root of 3" if case.fault is Fault.THREE_PHASE else "2"
    f = paper.write("f", f"{sign} x {segment.length} ft x {current.letter} / (C x n x E)", factor, "")
    m = paper.write("M", f"1 / (1 + {f.letter})", 1 / (1 + factor), "")
    return paper.write("fault current at the end", f"{m.letter} x {current.letter}", m.value * current.value, "A")


def past_transformer(
    amperes: Fraction, rating: Fraction, impedance: Fraction, primary: Fraction, secondary: Fraction, phases: int
) -> Fraction:
    """The current in A at the secondary of a transformer by f = k I Vp z / S, M = 1 / (1 + f), I' = (Vp / Vs) M I.

    Rating in VA, impedance per unit as it is counted, voltages between lines; k is the root of three for three phases
    and one for a single phase, line to line. Rises with the current at the primary.
    """
    if min(rating, primary, secondary) <= 0 or impedance < 0:
        raise OutsideLimits("A transformer needs a rating and voltages above zero.")
    factor = amperes * primary * impedance / rating * (ROOT_OF_THREE if phases == 3 else 1)
    return primary / secondary * amperes / (1 + factor)


def at_center_tap(between_lines: Fraction, factor: Fraction) -> Fraction:
    """Line-to-neutral current in A at the terminals of a center-tapped transformer: a published factor (1.5, within
    1.33 and 1.67) times the current between lines. Past a run it falls faster, as its voltage is half.
    """
    return between_lines * factor


POINT_TO_POINT: Method[PointToPoint] = Method(
    "point_to_point",
    "Fault current by the point-to-point method",
    "f = k L I / (C n E), M = 1 / (1 + f), I' = M I",
    "point-to-point method of published fault-current handbooks and plan-review handouts",
    "Magnitudes alone: errs to the low side by up to about 2 %.",
    {"amperes": Direction.RISES, "length": Direction.FALLS, "sets": Direction.RISES, "constant": Direction.RISES},
    point_to_point,
)
