"""Calculations one by one against the full-load current, which is one division and a root."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from benchmarks.timing import Spread, in_turn, repeated
from checker.engineering.fuel.gas_equation import LOW_PRESSURE_FLOW
from checker.engineering.fuel.gas_pipe import ByEquation, Pipe, PipeRow, PipeTable
from checker.engineering.fuel.gas_system import Lengths, Section, System, size_system
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.generator.derating import SiteRating, StepRule, site_rating
from checker.engineering.generator.phase_load import PhaseLoads, SinglePhaseLoad, phase_currents
from checker.engineering.generator.power_adjustment import Adjustment, Air, Exponents, power_adjustment
from checker.engineering.generator.voltage_dip import VOLTAGE_DIP
from checker.engineering.sites.sound import SOUND_AT_DISTANCE, sum_of_levels
from checker.engineering.timing.restoration import LoadClass, TimedStep, restoration

BASE = "full-load current"
F = Fraction


def engineering(rounds: int) -> dict[str, Spread]:
    """Processor seconds of one calculation each."""
    return in_turn({name: repeated(work) for name, work in _work().items()}, rounds)


def _work() -> dict[str, Callable[[], object]]:
    point = {"power": F(22_000), "voltage": F(240), "power_factor": F(1), "phases": F(1)}
    dip = {"reactance": F(1, 4), "set": F(100_000), "starting": F(126_000)}
    system, rating, loads = _gas(), _rating(), _loads()
    adjustment = _adjustment()
    steps = tuple(TimedStep(f"step {place}", F(1), F(2)) for place in range(5))
    return {
        BASE: lambda: FULL_LOAD_CURRENT.at(point),
        "voltage dip": lambda: VOLTAGE_DIP.at(dip),
        "gas equation": lambda: LOW_PRESSURE_FLOW.at(_PIPE_POINT),
        "gas system of six sections": lambda: size_system(system),
        "rating at the site": lambda: site_rating(rating),
        "power adjustment": lambda: power_adjustment(adjustment),
        "phases of six loads": lambda: phase_currents(loads),
        "sound of two sets": _two_sets,
        "time to the last load": lambda: restoration(steps, LoadClass("emergency", (), F(10))),
    }


_PIPE_POINT = {"inside_diameter": F(1, 12), "length": F(60), "pressure_drop": F(1, 2), "gas_factor": F("0.6094")}


def _gas() -> System:
    sizes = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")
    rows = {30: (95, 199, 374, 768, 1150, 2220), 100: (50, 104, 195, 400, 600, 1160)}
    table = PipeTable(
        sizes, tuple(PipeRow(F(each), tuple(map(F, row))) for each, row in rows.items()), "ft3/h", "table"
    )
    inches = ("0.622", "0.824", "1.049", "1.38", "1.61", "2.067")
    diameters = tuple((size, F(each) / 12) for size, each in zip(sizes, inches, strict=True))
    sections = (
        Section("A", F(20), None),
        Section("B", F(20), "A"),
        *(Section(name, F(10), "B", F(80)) for name in ("C", "D", "E")),
        Section("F", F(40), "A", F(300)),
    )
    return System(sections, Pipe(table, ByEquation(diameters, F(1, 2), F("0.6094"))), Lengths.BRANCH)


def _rating() -> SiteRating:
    height = StepRule(F(3, 100), F(1000), F(500), "instructions", begun_steps_count=True)
    heat = StepRule(F(1, 100), F(5), F(25), "instructions", begun_steps_count=True)
    return SiteRating(F(22_000), "W", F(3000), F(38), height, heat)


def _adjustment() -> Adjustment:
    reference = Air(F(100), F("3.17"), F(3, 10), F(298), F(298))
    return Adjustment(
        reference, Air(F(80), F(7), F(1, 2), F(313), F(310)), Exponents(F(0), F(7, 10), F(6, 5), F(1), ""), F(4, 5)
    )


def _loads() -> PhaseLoads:
    loads = tuple(SinglePhaseLoad(each, each, F(5000)) for each in ("A", "B", "C", "AB", "BC", "CA"))
    return PhaseLoads(F(208), F(20_000), loads)


def _two_sets() -> Fraction:
    point = {"level": F(67), "measured_at": F(23), "distance": F(60), "correction": F(0)}
    return sum_of_levels([SOUND_AT_DISTANCE.at(point), SOUND_AT_DISTANCE.at(point)])
