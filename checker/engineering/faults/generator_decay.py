"""How the fault current of a generator falls from its first cycles to what lasts."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.generators import Generator, Period, rated_current, reactance_of
from checker.engineering.powers import exponential
from checker.engineering.worked import Method, Paper, Worked
from checker.values.number_text import plain_text


@dataclass(frozen=True, slots=True)
class DecayCase:
    """A set, its subtransient and transient short-circuit time constants (s), and the time after the fault (s)."""

    generator: Generator
    subtransient_constant: Fraction
    transient_constant: Fraction
    time: Fraction


def current_after(case: DecayCase) -> Worked:
    """Three-phase fault current in A, symmetrical rms, some time after the fault:

    I = Ir ((1/x'' - 1/x') e^(-t/T'') + (1/x' - 1/x) e^(-t/T') + 1/x), not below what the excitation keeps up. Falls
    with the time. Limits: at the terminals, without the offset of the first cycles. From textbooks on machines.
    """
    own = case.generator.reactances
    first, then, last = (1 / reactance_of(own, period) for period in Period)
    if not first >= then >= last or case.subtransient_constant <= 0 or case.transient_constant <= 0 or case.time < 0:
        raise OutsideLimits("Reactances rise from subtransient to synchronous, and time constants are above zero.")
    rated = rated_current(case.generator)
    paper = Paper()
    step = paper.write("rated current", "rating / voltage", rated, "A", "nameplate")
    decayed = (first - then) * exponential(-case.time / case.subtransient_constant)
    decayed += (then - last) * exponential(-case.time / case.transient_constant)
    how = f"{step.letter} x sum of the three parts after {plain_text(case.time)} s"
    falling = paper.write("current by the reactances", how, rated * (decayed + last), "A")
    if case.generator.held_up is not None:
        kept = paper.write("current that the excitation keeps up", "maker", case.generator.held_up * rated, "A")
        how = f"the greater of {falling.letter} and {kept.letter}"
        paper.write("three-phase fault current", how, max(falling.value, kept.value), "A")
    return paper.result()


CURRENT_AFTER: Method[DecayCase] = Method(
    "current_after",
    "Fault current of a generator some time after the fault",
    "I = Ir ((1/x'' - 1/x') e^(-t/T'') + (1/x' - 1/x) e^(-t/T') + 1/x)",
    "textbooks on machines",
    "Three-phase fault at the terminals, without offset.",
    {"time": Direction.FALLS},
    current_after,
)
