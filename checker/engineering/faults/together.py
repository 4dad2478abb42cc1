"""Several sources that feed one fault while all of them are closed onto it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.loops import FAULT_NAMES, FaultCurrent, Loop, as_fault_current, current_of
from checker.engineering.worked import Method, Paper


@dataclass(frozen=True, slots=True)
class ClosedTogether:
    """The loop of the same fault at the same place from each source that is closed onto it."""

    loops: tuple[Loop, ...]


def fault_of_all(case: ClosedTogether) -> FaultCurrent:
    """The fault current while all sources are closed, in A: V / Z of all loops in parallel, as vectors.

    The plain sum of the currents is a step of its own; it is never less. Rises with every source. Limits: sources of
    one voltage, in step; for the time of an overlap, closed transition or paralleled sets, not for open transfer.
    """
    loops = case.loops
    if not loops:
        raise OutsideLimits("No source is closed onto the fault.")
    if len({(loop.fault, loop.voltage) for loop in loops}) > 1:
        raise OutsideLimits("Sources can be added for one kind of fault and one voltage.")
    paper = Paper()
    name = f"{FAULT_NAMES[loops[0].fault]} fault current"
    steps = [
        paper.write(f"{name} of source {place}", "V / Z", loop.current, "A") for place, loop in enumerate(loops, 1)
    ]
    how = " + ".join(step.letter for step in steps)
    paper.write("sum of the currents", how, sum((step.value for step in steps), Fraction(0)), "A")
    impedance = loops[0].impedance
    for loop in loops[1:]:
        impedance = impedance.beside(loop.impedance)
    return current_of(Loop(loops[0].fault, loops[0].voltage, impedance), paper)


def plain_sum(currents: tuple[FaultCurrent, ...]) -> FaultCurrent:
    """The sum of fault currents of one kind as numbers, in A: what is safe where nothing is known of X/R."""
    if not currents or len({each.fault for each in currents}) > 1:
        raise OutsideLimits("Fault currents can be added for one kind of fault.")
    paper = Paper()
    steps = [paper.write("fault current of a source", "given", each.value, "A") for each in currents]
    how = " + ".join(step.letter for step in steps)
    paper.write("sum of the currents", how, sum((step.value for step in steps), Fraction(0)), "A")
    return as_fault_current(paper.result(), currents[0].fault)


FAULT_OF_ALL: Method[ClosedTogether] = Method(
    "fault_of_all",
    "Fault current while several sources are closed",
    "I = V / (Z1 in parallel with Z2 ...)",
    "Ohm's law with impedances as vectors",
    "Sources of one voltage, in step.",
    {"current of a source": Direction.RISES},
    fault_of_all,
)
