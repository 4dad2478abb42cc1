"""Fault loops: what drives a fault current and what opposes it, for one kind of fault at one place.

A loop is the voltage of a fault and the impedance round it: for three phases the voltage to neutral and one conductor,
between two lines the voltage between them and out and back, between line and neutral the voltage to neutral, the line
and the neutral. The current is always voltage / impedance. Bolted faults, without the impedance of an arc.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.impedance import Impedance
from checker.engineering.powers import ROOT_OF_THREE
from checker.engineering.worked import Paper, Step, Worked
from checker.values.arithmetic import rounded


class Fault(Enum):
    """Which conductors touch; values are those that a site description writes."""

    THREE_PHASE = "three_phase"
    LINES = "lines"
    LINE_AND_NEUTRAL = "line_and_neutral"


FAULT_NAMES = {
    Fault.THREE_PHASE: "three-phase",
    Fault.LINES: "line-to-line",
    Fault.LINE_AND_NEUTRAL: "line-to-neutral",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FaultCurrent(Worked):
    """A fault current in A, symmetrical rms, with the kind of fault and the ratio of reactance to resistance of its
    loop, which is None where the method knows magnitudes alone or the loop has no resistance.
    """

    fault: Fault
    x_over_r: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Loop:
    """The loop of one kind of fault at one place: driving voltage in V and impedance in ohms."""

    fault: Fault
    voltage: Fraction
    impedance: Impedance

    @property
    def current(self) -> Fraction:
        """I = V / Z in A; OutsideLimits where nothing opposes the current."""
        magnitude = self.impedance.magnitude
        if magnitude == 0:
            raise OutsideLimits("Nothing opposes the fault current: give an impedance of the source.")
        return self.voltage / magnitude


def driving_voltage(fault: Fault, between_lines: Fraction, to_neutral: Fraction | None) -> Fraction:
    """The voltage of a loop in V: between lines; that over the root of three for three phases; to neutral for line to
    neutral, which has no loop where there is no neutral (``to_neutral`` None).
    """
    if fault is Fault.LINES:
        return between_lines
    if fault is Fault.THREE_PHASE:
        return between_lines / ROOT_OF_THREE
    if to_neutral is None:
        raise OutsideLimits("There is no neutral, so there is no fault to it.")
    return to_neutral


def write_impedance(paper: Paper, quantity: str, how: str, impedance: Impedance) -> tuple[Step, Step]:
    """Resistance and reactance of something, in ohms."""
    return (
        paper.write(f"resistance {quantity}", how, impedance.resistance, "ohm"),
        paper.write(f"reactance {quantity}", how, impedance.reactance, "ohm"),
    )


def current_of(loop: Loop, paper: Paper | None = None, how: str = "given") -> FaultCurrent:
    """The fault current of a loop, I = V / square root of (R2 + X2), with its steps after those on the paper; ``how``
    says where the loop comes from.
    """
    paper = paper or Paper()
    resistance, reactance = write_impedance(paper, "of the loop", how, loop.impedance)
    voltage = paper.write("voltage of the loop", FAULT_NAMES[loop.fault], loop.voltage, "V")
    how = f"{voltage.letter} / square root of ({resistance.letter}2 + {reactance.letter}2)"
    paper.write(f"{FAULT_NAMES[loop.fault]} fault current", how, loop.current, "A")
    return as_fault_current(paper.result(), loop.fault, ratio_of(loop.impedance))


def as_fault_current(worked: Worked, fault: Fault, x_over_r: Fraction | None = None) -> FaultCurrent:
    """A worked result with the kind of fault that it is of."""
    return FaultCurrent(worked.value, worked.unit, worked.steps, worked.assumptions, fault=fault, x_over_r=x_over_r)


def ratio_of(impedance: Impedance) -> Fraction | None:
    """Reactance over resistance; None where there is no resistance."""
    return rounded(impedance.reactance / impedance.resistance) if impedance.resistance else None
