"""What a run of conductors leaves of a fault current."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.faults.loops import Available, Fault, FaultCurrent, Loop, current_of, loop_of, write_impedance
from checker.engineering.impedance import Impedance, split
from checker.engineering.worked import Method, Paper
from checker.values.number_text import plain_text


@dataclass(frozen=True, slots=True)
class Run:
    """A run: length one way (ft), impedance of each phase conductor and of the neutral in ohms per 1000 ft (None: no
    neutral), and how many of each in parallel.
    """

    length: Fraction
    phase: Impedance
    neutral: Impedance | None = None
    sets: int = 1


def run_impedance(run: Run, fault: Fault) -> Impedance:
    """Ohms that a run adds to a loop: one conductor for three phases, two for lines, line and neutral for the third."""
    if run.length < 0 or run.sets < 1:
        raise OutsideLimits("A run has a length of zero or more and one conductor in each phase at least.")
    return _round(run, fault).times(run.length / (1000 * run.sets))


def _round(run: Run, fault: Fault) -> Impedance:
    if fault is Fault.THREE_PHASE:
        return run.phase
    if fault is Fault.LINES:
        return run.phase + run.phase
    if run.neutral is None:
        raise OutsideLimits("The run has no neutral, so there is no fault to it at its end.")
    return run.phase + run.neutral


def past(loop: Loop, run: Run) -> Loop:
    """The loop at the end of a run."""
    return Loop(loop.fault, loop.voltage, loop.impedance + run_impedance(run, loop.fault))


@dataclass(frozen=True, slots=True)
class RunsCase:
    """The loop at a place and the runs from there to the fault, in order."""

    at_source: Loop
    runs: tuple[Run, ...]


def fault_past_runs(case: RunsCase) -> FaultCurrent:
    """The fault current at the end of runs, I = V / |Z + sum of the runs|, in A, symmetrical rms.

    Falls with each length, rises with conductors in parallel. By impedance vectors. Limits: conductors at the
    temperature of the table (75 °C; cold ones pass more, see ``Impedance.warmer``), bolted fault, no motors.
    """
    paper, loop = Paper(), case.at_source
    write_impedance(paper, "at the source", "V / I of the source, by X/R", loop.impedance)
    for place, run in enumerate(case.runs, start=1):
        loop = past(loop, run)
        parallel = f" / {run.sets}" if run.sets > 1 else ""
        how = f"{plain_text(run.length)} ft{parallel}, {_WAYS[loop.fault]}"
        write_impedance(paper, f"of run {place}", how, run_impedance(run, loop.fault))
    return current_of(loop, paper, "source and runs together")


_WAYS = {
    Fault.THREE_PHASE: "one conductor",
    Fault.LINES: "out and back",
    Fault.LINE_AND_NEUTRAL: "phase conductor and neutral",
}


def greatest_past(available: Available, run: Run) -> FaultCurrent:
    """The greatest current at the end of a run, whatever the X/R of the source: the greater of its two extremes.

    |Zs + Zr| is least where the angle between the two is greatest, and that is at a source of resistance alone or of
    reactance alone.
    """
    extremes = (_with_ratio(available, Fraction(0)), _with_ratio(available, None))
    greatest = max((fault_past_runs(RunsCase(loop, (run,))) for loop in extremes), key=lambda each: each.value)
    return replace(greatest, assumptions=(*greatest.assumptions, _OPEN))


def least_past(available: Available, run: Run) -> FaultCurrent:
    """The least current at the end of a run, whatever the X/R of the source: both impedances at the same angle."""
    own = run_impedance(run, available.fault)
    ratio = own.reactance / own.resistance if own.resistance else None
    least = fault_past_runs(RunsCase(_with_ratio(available, ratio), (run,)))
    return replace(least, assumptions=(*least.assumptions, _OPEN))


_OPEN = "X/R of the source is not known; it is taken as whatever gives this bound."


def _with_ratio(available: Available, x_over_r: Fraction | None) -> Loop:
    whole = loop_of(available)
    return Loop(whole.fault, whole.voltage, split(whole.impedance.magnitude, x_over_r))


FAULT_PAST_RUNS: Method[RunsCase] = Method(
    "fault_past_runs",
    "Fault current at the end of runs",
    "I = V / |Z_source + sum of Z_run|, each run once for three phases, twice for lines, line and neutral otherwise",
    "Ohm's law with impedances as vectors; ohms per 1000 ft of NFPA 70, chapter 9, Table 9",
    "Bolted fault, no motors.",
    {"length": Direction.FALLS, "sets": Direction.RISES, "resistance": Direction.FALLS, "reactance": Direction.FALLS},
    fault_past_runs,
)
