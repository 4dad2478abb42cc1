"""Fault currents of a generator by its reactances: greatest in the first cycles, least when nothing holds up its field.

Three questions go to three of them: equipment must withstand the greatest, a breaker must trip on the least, and in
between the current falls from one to the other.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.loops import Fault, FaultCurrent, Loop, current_of, driving_voltage
from checker.engineering.impedance import Impedance
from checker.engineering.powers import ROOT_OF_THREE
from checker.engineering.worked import Method, Paper
from checker.values.number_text import plain_text


class Period(Enum):
    """How long after the fault: first cycles, up to some seconds, and for good."""

    SUBTRANSIENT = "subtransient"
    TRANSIENT = "transient"
    SUSTAINED = "sustained"


@dataclass(frozen=True, slots=True)
class Reactances:
    """Per unit on rating and voltage. ``negative`` None: taken as the subtransient one. ``zero`` None: a fault
    from line to neutral cannot be worked out.
    """

    subtransient: Fraction | None
    transient: Fraction | None
    synchronous: Fraction | None
    negative: Fraction | None = None
    zero: Fraction | None = None


@dataclass(frozen=True, slots=True)
class Generator:
    """A set: rating (VA), phases, voltage between lines and to neutral (V; None: none), and its reactances.

    ``tolerance`` is by how much a reactance may differ from the data sheet (0.15 is common practice; 0 takes it as it
    is). ``held_up`` is the current that its excitation keeps up in a three-phase fault, as a multiple of the rated one
    (3 with a permanent-magnet or boosted exciter; None: nothing keeps it up). ``half_winding`` is for a single-phase
    set the current from line to neutral over that between lines, from its maker (None: not known).
    """

    rating: Fraction
    phases: int
    between_lines: Fraction
    to_neutral: Fraction | None
    reactances: Reactances
    tolerance: Fraction = Fraction(0)
    held_up: Fraction | None = None
    half_winding: Fraction | None = None


class Side(Enum):
    """Which way the tolerance of the reactance is taken."""

    LOW_REACTANCE = -1
    AS_STATED = 0
    HIGH_REACTANCE = 1


@dataclass(frozen=True, slots=True)
class GeneratorCase:
    """A set, the time, the fault at its terminals, and which way its tolerance is taken."""

    generator: Generator
    period: Period
    fault: Fault
    side: Side = Side.AS_STATED


def rated_current(generator: Generator) -> Fraction:
    """I = S / (root of 3 x V), single phase S / V, in A; OutsideLimits without a rating or voltage."""
    _check(generator)
    return generator.rating / (generator.between_lines * (ROOT_OF_THREE if generator.phases == 3 else 1))


def generator_loop(case: GeneratorCase) -> Loop:
    """The loop of a fault at the terminals: Z = j x V2 / S, with x = x1; x1 + x2 between lines; (x1 + x2 + x0) / 3 for
    line to neutral, x1 by the time. A single-phase set has x1 between its lines, and half the voltage over so many
    times the current to neutral.
    """
    generator, fault = case.generator, case.fault
    _check(generator)
    voltage = driving_voltage(fault, generator.between_lines, generator.to_neutral)
    factor = 1 + case.side.value * generator.tolerance
    reactance = factor * _per_unit(case) * generator.between_lines**2 / generator.rating
    return _held_up(case, Loop(fault, voltage, Impedance(Fraction(0), reactance)))


def _check(generator: Generator) -> None:
    if generator.rating <= 0 or generator.between_lines <= 0:
        raise OutsideLimits("A generator needs a rating and a voltage above zero.")
    if generator.phases not in _OWN_FAULT or not 0 <= generator.tolerance < 1:
        raise OutsideLimits(
            "A generator has one or three phases, and reactances that are off by less than all of them."
        )


def _per_unit(case: GeneratorCase) -> Fraction:
    own = case.generator.reactances
    first = reactance_of(own, case.period)
    if case.generator.phases == 1:
        return first / _single_phase_factor(case)
    if case.fault is Fault.THREE_PHASE:
        return first
    negative = own.negative if own.negative is not None else own.subtransient
    if negative is None:
        raise OutsideLimits("This fault needs the negative-sequence or the subtransient reactance of the generator.")
    if case.fault is Fault.LINES:
        return first + negative
    if own.zero is None:
        raise OutsideLimits("A line-to-neutral fault needs the zero-sequence reactance of the generator.")
    return (first + negative + own.zero) / 3


def _single_phase_factor(case: GeneratorCase) -> Fraction:
    """By how much less impedance a loop of a single-phase set has than that between its lines."""
    generator = case.generator
    if case.fault is Fault.LINES:
        return Fraction(1)
    if case.fault is Fault.THREE_PHASE:
        raise OutsideLimits("A single-phase set has no three-phase fault.")
    if not generator.half_winding or not generator.to_neutral:
        raise OutsideLimits("A fault to the neutral of a single-phase set needs its current from the maker.")
    return generator.half_winding * generator.between_lines / generator.to_neutral


def reactance_of(own: Reactances, period: Period) -> Fraction:
    """The reactance for the time; OutsideLimits where it is not given."""
    found = {
        Period.SUBTRANSIENT: own.subtransient,
        Period.TRANSIENT: own.transient,
        Period.SUSTAINED: own.synchronous,
    }[period]
    if found is None or found <= 0:
        raise OutsideLimits(f"The fault current needs the {_NAMES[period]} reactance of the generator.")
    return found


_NAMES = {Period.SUBTRANSIENT: "subtransient", Period.TRANSIENT: "transient", Period.SUSTAINED: "synchronous"}


def _held_up(case: GeneratorCase, loop: Loop) -> Loop:
    """The loop with the current that the excitation keeps up, where that is greater."""
    generator = case.generator
    if (
        generator.held_up is None
        or case.period is not Period.SUSTAINED
        or case.fault is not _OWN_FAULT[generator.phases]
    ):
        return loop
    kept = generator.held_up * rated_current(generator)
    if kept <= loop.current:
        return loop
    return replace(loop, impedance=Impedance(Fraction(0), loop.voltage / kept))


_OWN_FAULT = {3: Fault.THREE_PHASE, 1: Fault.LINES}
"""The fault for which makers state the current that the excitation keeps up."""


def generator_fault(case: GeneratorCase) -> FaultCurrent:
    """The fault current at the terminals in A, symmetrical rms: I = k x rated current / x, with its steps.

    k is one for three phases, the root of three between lines and three for line to neutral; x as in
    ``generator_loop``. Falls with each reactance, rises with the rating. Limits: field as at rated voltage without load
    (loaded sets give somewhat more), neutral grounded solid, no run to the fault.
    """
    generator, paper, loop = case.generator, Paper(), generator_loop(case)
    paper.write("rated current", "rating / voltage", rated_current(generator), "A", "nameplate")
    reactance = paper.write("reactance", _sum_of(case), _per_unit(case), "per unit", "data sheet")
    base = generator.between_lines**2 / generator.rating
    ohms = paper.write("ohms of one per unit", "V2 / S", base, "ohm", "nameplate")
    _write_assumptions(paper, case)
    how = f"{reactance.letter} x {ohms.letter}"
    if case.side is not Side.AS_STATED and generator.tolerance:
        how += f" x {plain_text(1 + case.side.value * generator.tolerance)}"
    if loop != generator_loop(replace(case, generator=replace(generator, held_up=None))):
        how += f", or what keeps up {plain_text(generator.held_up or Fraction(0))} times the rated current"
    return current_of(loop, paper, how)


def _sum_of(case: GeneratorCase) -> str:
    """Which reactances stand in the loop, in words."""
    name = _NAMES[case.period]
    if case.generator.phases == 1:
        return name if case.fault is Fault.LINES else f"{name}, by the maker's current to neutral"
    return {
        Fault.THREE_PHASE: name,
        Fault.LINES: f"{name} and negative-sequence",
        Fault.LINE_AND_NEUTRAL: f"a third of {name}, negative- and zero-sequence",
    }[case.fault]


def _write_assumptions(paper: Paper, case: GeneratorCase) -> None:
    generator = case.generator
    if generator.phases == 3 and case.fault is not Fault.THREE_PHASE and generator.reactances.negative is None:
        paper.assume("The negative-sequence reactance is not given; the subtransient one stands for it.")
    if case.period is Period.SUSTAINED and generator.held_up is None:
        paper.assume("Nothing keeps up the excitation while the fault lasts.")
    elif case.period is Period.SUSTAINED and case.fault is not _OWN_FAULT[generator.phases]:
        paper.assume("What keeps up the excitation is not counted for this kind of fault.")
    if not generator.tolerance:
        paper.assume("The reactances are those of the data sheet, without a tolerance.")


GENERATOR_FAULT: Method[GeneratorCase] = Method(
    "generator_fault",
    "Fault current of a generator",
    "I = k x rated current / x",
    "symmetrical components, textbooks on machines; reactances from the data sheet (NFPA 70, 445.11)",
    "At the terminals, field as at no load, neutral grounded solid.",
    dict.fromkeys(("subtransient", "transient", "synchronous", "negative", "zero"), Direction.FALLS)
    | {"rating": Direction.RISES},
    generator_fault,
)
