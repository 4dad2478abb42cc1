"""Voltage lost along a run, step by step: by effective impedance, and by resistance to direct current alone."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction
from checker.engineering.conductors.voltage_drop import (
    DROP_IN_PERCENT,
    VOLTAGE_DROP_BY_IMPEDANCE,
    effective_impedance,
)
from checker.engineering.worked import Method, Paper, Worked
from checker.values.arithmetic import rounded
from checker.values.number_text import plain_text

_ONE = Fraction(1)


@dataclass(frozen=True, slots=True)
class RunDrop:
    """Resistance and reactance of each conductor (ohm per 1000 ft; no reactance: resistance to direct current alone),
    power factor and current of the load (A), length one way (ft), conductors in parallel, phases, voltage between
    phase conductors (V), and where the resistance comes from.
    """

    resistance: Fraction
    reactance: Fraction | None
    power_factor: Fraction
    current: Fraction
    length: Fraction
    sets: int
    phases: int
    voltage: Fraction
    source: str


def run_drop(case: RunDrop) -> Worked:
    """The share of the voltage that is lost: k I Z L / (1000 n V), k = 2 for one phase, the root of three for three.

    Z = R pf + X sin(arccos pf) (chapter 9, Table 9, note 2), or R alone. Rises with resistance, reactance, current and
    length, falls with parallel conductors and voltage; with the power factor it moves either way.
    """
    paper = Paper()
    resistance = paper.write("resistance of each conductor", "per 1000 ft", case.resistance, "ohm", case.source)
    if case.reactance is not None:
        reactance = paper.write("reactance of each conductor", "per 1000 ft", case.reactance, "ohm", case.source)
        pf = plain_text(case.power_factor)
        paper.write(
            "effective impedance",
            f"{resistance.letter} x {pf} + {reactance.letter} x sin(arccos {pf})",
            effective_impedance(case.resistance, case.reactance, case.power_factor),
            "ohm",
        )
    each = paper.steps[-1]
    k = "2" if case.phases == 1 else "1.732"
    drop = paper.write(
        "voltage lost",
        f"{k} x {plain_text(case.current)} A x {each.letter} x {plain_text(case.length)} ft / (1000 x {case.sets})",
        _volts(case),
        "V",
    )
    share = DROP_IN_PERCENT.function({"drop": drop.value, "voltage": case.voltage})
    paper.write("share of the voltage", f"{drop.letter} / {plain_text(case.voltage)} V", 100 * share, "%")
    return Worked(rounded(share), "", tuple(paper.steps))


def _volts(case: RunDrop) -> Fraction:
    alone = case.reactance is None
    return VOLTAGE_DROP_BY_IMPEDANCE.function(
        {
            "resistance": case.resistance,
            "reactance": case.reactance or Fraction(0),
            "power_factor": _ONE if alone else case.power_factor,
            "current": case.current,
            "length": case.length,
            "sets": Fraction(case.sets),
            "phases": Fraction(case.phases),
        }
    )


RUN_DROP: Method[RunDrop] = Method(
    "run_drop",
    "Voltage drop of a run",
    "k x I x Z x L / (1000 n V)",
    "NFPA 70, chapter 9, Tables 8 and 9",
    "A balanced load that lags; conductors at 75 °C.",
    {
        "resistance": Direction.RISES,
        "reactance": Direction.RISES,
        "current": Direction.RISES,
        "length": Direction.RISES,
        "sets": Direction.FALLS,
        "voltage": Direction.FALLS,
    },
    run_drop,
)
