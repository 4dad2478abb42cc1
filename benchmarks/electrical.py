"""Conductors and fault currents one by one against the full-load current."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.faults.generator_bounds import greatest_fault
from checker.engineering.faults.point_to_point import PointToPoint, Segment, point_to_point
from checker.engineering.faults.runs import Run, RunsCase, fault_past_runs
from checker.engineering.faults.together import ClosedTogether, fault_of_all

from benchmarks.timing import Spread, in_turn, repeated
from checker.engineering.conductors.ampacity import AmpacityCase, AmpacityTables, Conductors, Surroundings, ampacity
from checker.engineering.conductors.tables import Ampacities, Column, CountFactors, LimitedRow, TemperatureFactors
from checker.engineering.conductors.voltage_drop import VOLTAGE_DROP_BY_IMPEDANCE
from checker.engineering.faults.generators import Generator, Reactances
from checker.engineering.faults.loops import Available, Fault, loop_of
from checker.engineering.faults.transformers import Transformer, TransformerCase, secondary_fault
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.impedance import Impedance
from checker.values.wire_sizes import SIZES

BASE = "full-load current"
ONE = Fraction(1)
POINT = {"power": Fraction(20_000), "voltage": Fraction(240), "power_factor": ONE, "phases": ONE}
DROP = {
    "resistance": Fraction("0.25"),
    "reactance": Fraction("0.047"),
    "power_factor": Fraction("0.85"),
    "current": Fraction(80),
    "length": Fraction(200),
    "sets": ONE,
    "phases": ONE,
}
HOT = Fraction(90)
TABLES = AmpacityTables(
    Ampacities((Column("copper", HOT, dict.fromkeys(SIZES.values(), Fraction(100))),), "a table"),
    TemperatureFactors({HOT: (LimitedRow(None, ONE),)}, "a table"),
    CountFactors((LimitedRow(None, ONE),), "a table"),
)
CARRIED = AmpacityCase(Conductors(SIZES["3 AWG"], "copper", HOT), Surroundings(Fraction(30), 3), HOT, TABLES)
SOURCE = loop_of(Available(Fault.LINES, Fraction(9_600), Fraction(240), Fraction(3)))
EACH = Impedance(Fraction("0.10"), Fraction("0.041"))
RUN = Run(Fraction(28), EACH, EACH)
TRANSFORMER = Transformer(
    Fraction(300_000), Fraction("0.02"), Fraction("0.9"), Fraction(3), 3, Fraction(208), Fraction(120)
)
SET = Generator(
    Fraction(625_000),
    3,
    Fraction(480),
    Fraction(277),
    Reactances(Fraction("0.12"), Fraction("0.18"), Fraction("2.6"), Fraction("0.15"), Fraction("0.03")),
    Fraction("0.15"),
)
SEGMENT = Segment(Fraction(20), 2, Fraction(22_185))

WORK = {
    BASE: lambda: FULL_LOAD_CURRENT.at(POINT),
    "voltage drop by impedance": lambda: VOLTAGE_DROP_BY_IMPEDANCE.at(DROP),
    "ampacity": lambda: ampacity(CARRIED),
    "fault past a run": lambda: fault_past_runs(RunsCase(SOURCE, (RUN,))),
    "fault behind a transformer": lambda: secondary_fault(TransformerCase(TRANSFORMER, None, Fault.THREE_PHASE)),
    "fault by f and M, two runs": lambda: point_to_point(
        PointToPoint(Fraction(46_278), Fault.THREE_PHASE, Fraction(208), (SEGMENT, SEGMENT))
    ),
    "greatest fault of a set": lambda: greatest_fault(SET),
    "two sources together": lambda: fault_of_all(ClosedTogether((SOURCE, SOURCE))),
}


def electrical(rounds: int) -> dict[str, Spread]:
    """Each calculation in turn, round after round; the base is ``BASE``."""
    return in_turn({name: repeated(work) for name, work in WORK.items()}, rounds)
