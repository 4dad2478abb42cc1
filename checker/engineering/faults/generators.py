"""Fault currents of a generator at its terminals, as multiples of its rated current."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.faults.loops import Fault
from checker.engineering.powers import ROOT_OF_THREE


def times_rated(fault: Fault, first: Fraction, negative: Fraction, zero: Fraction) -> Fraction:
    """How many times its rated current a three-phase generator drives into a fault at its terminals:

    1 / x1 for three phases, root of 3 / (x1 + x2) between lines, 3 / (x1 + x2 + x0) to the neutral, with the reactance
    of the time for x1 (subtransient in the first cycles, synchronous for what lasts), that of negative and of zero
    sequence, all per unit on the rating. A single-phase generator drives 1 / x1 between its lines. Falls with each
    reactance. Limits: field as at no load, resistance left out, neutral grounded solid. From textbooks on symmetrical
    components.
    """
    if first <= 0 or negative < 0 or zero < 0:
        raise OutsideLimits("A fault current needs a reactance above zero.")
    if fault is Fault.THREE_PHASE:
        return 1 / first
    if fault is Fault.LINES:
        return ROOT_OF_THREE / (first + negative)
    return 3 / (first + negative + zero)
