"""Conductors and fault currents one by one against the full-load current."""

from __future__ import annotations

from fractions import Fraction

from benchmarks.timing import Spread, in_turn, repeated
from checker.engineering.conductors.ampacity import AmpacityCase, AmpacityTables, Conductors, Surroundings, ampacity
from checker.engineering.conductors.tables import Ampacities, Column, CountFactors, LimitedRow, TemperatureFactors
from checker.engineering.conductors.voltage_drop import VOLTAGE_DROP_BY_IMPEDANCE
from checker.engineering.faults.along import Beginning, least_past, most_past, point_to_point_factor
from checker.engineering.faults.generators import times_rated
from checker.engineering.faults.loops import Fault
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
SOURCE = Beginning(Fraction(9_600), Fraction(240), (Fraction(1), Fraction(3)))
RUN = Impedance(Fraction("0.0056"), Fraction("0.0023"))
TRANSFORMER = Transformer(
    Fraction(300_000), Fraction("0.02"), Fraction("0.9"), Fraction(3), 3, Fraction(208), Fraction(120)
)
REACTANCES = (Fraction("0.12"), Fraction("0.15"), Fraction("0.03"))
"""Subtransient, negative and zero sequence, per unit."""

WORK = {
    BASE: lambda: FULL_LOAD_CURRENT.at(POINT),
    "voltage drop by impedance": lambda: VOLTAGE_DROP_BY_IMPEDANCE.at(DROP),
    "ampacity": lambda: ampacity(CARRIED),
    "greatest fault past a run": lambda: most_past(SOURCE, RUN),
    "least fault past a run": lambda: least_past(SOURCE, RUN),
    "fault behind a transformer": lambda: secondary_fault(TransformerCase(TRANSFORMER, None, Fault.THREE_PHASE)),
    "factor f of a run": lambda: point_to_point_factor(SOURCE, RUN),
    "fault of a set": lambda: times_rated(Fault.LINE_AND_NEUTRAL, *REACTANCES),
}


def electrical(rounds: int) -> dict[str, Spread]:
    """Each calculation in turn, round after round; the base is ``BASE``."""
    return in_turn({name: repeated(work) for name, work in WORK.items()}, rounds)
