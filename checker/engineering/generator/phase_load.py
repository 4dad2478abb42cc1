"""Single-phase loads on a three-phase set: the current of each phase, the greatest of them, and their imbalance."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.powers import square_root
from checker.engineering.worked import Method, Paper, Worked

PHASES = ("A", "B", "C")
_ROOT_3 = square_root(Fraction(3))
_HALF, _SINE = Fraction(1, 2), _ROOT_3 / 2


@dataclass(frozen=True, slots=True)
class SinglePhaseLoad:
    """A load in VA between a phase and neutral (``A``) or between two phases (``AB``, ``BC``, ``CA``)."""

    name: str
    connection: str
    power: Fraction


@dataclass(frozen=True, slots=True)
class PhaseLoads:
    """Voltage between phase conductors (V), the three-phase load (VA), and the single-phase loads, all of about the
    same power factor.
    """

    voltage: Fraction
    three_phase: Fraction
    single_phase: tuple[SinglePhaseLoad, ...]


_Phasor = tuple[Fraction, Fraction]

# The current of a load from A to neutral lies along A; that of a load between A and B runs 30 degrees ahead of it and
# leaves by B, where it lies 150 degrees back from A, that is 30 degrees behind B. Seen from the phase itself:
_AHEAD: _Phasor = (_SINE, _HALF)
_BEHIND: _Phasor = (_SINE, -_HALF)
_SEEN: dict[str, dict[str, _Phasor]] = {
    "A": {"AB": _AHEAD, "CA": _BEHIND},
    "B": {"BC": _AHEAD, "AB": _BEHIND},
    "C": {"CA": _AHEAD, "BC": _BEHIND},
}


def phase_currents(case: PhaseLoads) -> Worked:
    """The greatest phase current in A: per phase the phasor sum of the currents of all loads that it feeds.

    I(phase to neutral) = S / (V / sqrt 3), I(phase to phase) = S / V at 30 degrees, I(three-phase) = S / (sqrt 3 V).
    Rises with every load, since no two currents of a phase lie more than 60 degrees apart; falls with the voltage.
    Imbalance is the greatest distance of a phase from the mean of the three, over that mean. Limits: fundamental only,
    one power factor for all, wye set with neutral where a load goes to neutral. From the definition of phasors.
    """
    _check(case)
    paper = Paper()
    found = []
    for phase in PHASES:
        how = ", ".join(load.name for load in case.single_phase if phase in load.connection) or "three-phase load only"
        found.append(paper.write(f"current of phase {phase}", how, _current(case, phase), "A"))
    mean = sum((step.value for step in found), Fraction(0)) / 3
    letters = ", ".join(step.letter for step in found)
    average = paper.write("mean of the phases", f"mean of {letters}", mean, "A")
    apart = max(abs(step.value - mean) for step in found)
    imbalance = apart / mean if mean else Fraction(0)
    paper.write("imbalance", f"greatest distance of {letters} from {average.letter}, over it", imbalance, "pu")
    paper.assume("All loads have about the same power factor.")
    paper.write("greatest phase current", f"greatest of {letters}", max(step.value for step in found), "A")
    return paper.result()


def _current(case: PhaseLoads, phase: str) -> Fraction:
    along = case.three_phase / (_ROOT_3 * case.voltage)
    across = Fraction(0)
    for load in case.single_phase:
        if load.connection == phase:
            along += load.power * _ROOT_3 / case.voltage
        elif load.connection in _SEEN[phase]:
            part = _SEEN[phase][load.connection]
            along += load.power / case.voltage * part[0]
            across += load.power / case.voltage * part[1]
    return square_root(along**2 + across**2)


def _check(case: PhaseLoads) -> None:
    if case.voltage <= 0:
        raise OutsideLimits("Phase currents need a voltage above zero.")
    if case.three_phase < 0:
        raise OutsideLimits("A three-phase load must not be below zero.")
    for load in case.single_phase:
        if load.connection not in {*PHASES, "AB", "BC", "CA"}:
            raise OutsideLimits(f"{load.name} goes to {load.connection}; A, B, C, AB, BC or CA is meant.")
        if load.power < 0:
            raise OutsideLimits(f"{load.name} must not be below zero.")


PHASE_CURRENTS: Method[PhaseLoads] = Method(
    "phase_currents",
    "Greatest phase current of unbalanced loads",
    "phasor sum of each phase",
    "definition of phasors in a three-phase circuit",
    "One power factor for all loads.",
    {"three_phase": Direction.RISES, "power": Direction.RISES, "voltage": Direction.FALLS},
    phase_currents,
)
