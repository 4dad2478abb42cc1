"""The greatest and the least fault current of a generator, over every fault that there can be at its terminals."""

from __future__ import annotations

from dataclasses import replace

from checker.engineering.faults.generators import Generator, GeneratorCase, Period, Side, generator_fault
from checker.engineering.faults.loops import Fault, FaultCurrent


def greatest_fault(generator: Generator) -> FaultCurrent:
    """The greatest of all faults at the terminals in the first cycles, the reactance at the low end of its tolerance.

    OutsideLimits where a fault that can be cannot be worked out: with a neutral the zero-sequence reactance is needed,
    as it is smaller than the others and such a fault greater.
    """
    cases = (GeneratorCase(generator, Period.SUBTRANSIENT, each, Side.LOW_REACTANCE) for each in faults_of(generator))
    return max((generator_fault(case) for case in cases), key=lambda each: each.value)


def least_fault(generator: Generator) -> FaultCurrent:
    """The least of all faults at the terminals that lasts, the reactance at the high end of its tolerance.

    Line to neutral is left out, and said to be, where what it needs is not given: with x2 + x0 below twice xd it is no
    less than the three-phase one.
    """
    to_neutral = generator.reactances.zero if generator.phases == 3 else generator.half_winding
    known = [each for each in faults_of(generator) if each is not Fault.LINE_AND_NEUTRAL or to_neutral is not None]
    cases = (GeneratorCase(generator, Period.SUSTAINED, each, Side.HIGH_REACTANCE) for each in known)
    least = min((generator_fault(case) for case in cases), key=lambda each: each.value)
    if len(known) == len(faults_of(generator)):
        return least
    return replace(least, assumptions=(*least.assumptions, "The fault from line to neutral is taken to be no less."))


def faults_of(generator: Generator) -> tuple[Fault, ...]:
    """Every kind of fault that can be at its terminals; of a single-phase set with a neutral both."""
    kinds = (Fault.THREE_PHASE, Fault.LINES) if generator.phases == 3 else (Fault.LINES,)
    return kinds if generator.to_neutral is None else (*kinds, Fault.LINE_AND_NEUTRAL)
