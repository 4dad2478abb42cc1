"""Calculations one by one against the full-load current, which is one division and a root."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from benchmarks.timing import Spread, in_turn, repeated
from checker.engineering.fuel.gas_equation import LOW_PRESSURE_FLOW
from checker.engineering.fuel.pipe_sizing import Equation, Printed, Sizing
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.generator.derating import SiteRating, StepRule, site_rating
from checker.engineering.generator.phase_load import PhaseLoads, SinglePhaseLoad, phase_currents
from checker.engineering.generator.power_adjustment import AdjustedRating, Exponents, Surroundings, adjusted_rating
from checker.engineering.generator.voltage_dip import VOLTAGE_DIP
from checker.engineering.sites.sound import SOUND_AT_DISTANCE, sum_of_levels

BASE = "full-load current"
F = Fraction


def engineering(rounds: int) -> dict[str, Spread]:
    """Processor seconds of one calculation each."""
    return in_turn({name: repeated(work) for name, work in _work().items()}, rounds)


def _work() -> dict[str, Callable[[], object]]:
    point = {"power": F(22_000), "voltage": F(240), "power_factor": F(1), "phases": F(1)}
    dip = {"reactance": F(1, 4), "set": F(100_000), "starting": F(126_000)}
    pipe, rating, loads = _gas(), _rating(), _loads()
    adjustment = _adjustment()
    return {
        BASE: lambda: FULL_LOAD_CURRENT.at(point),
        "voltage dip": lambda: VOLTAGE_DIP.at(dip),
        "gas equation": lambda: LOW_PRESSURE_FLOW.at(_PIPE_POINT),
        "smallest gas pipe": lambda: pipe.smallest(F(300), F(90)),
        "rating at the site": lambda: site_rating(rating),
        "power adjustment": lambda: adjusted_rating(adjustment),
        "phases of six loads": lambda: phase_currents(loads),
        "sound of two sets": _two_sets,
    }


_PIPE_POINT = {"inside_diameter": F(1, 12), "length": F(60), "pressure_drop": F(1, 2), "gas_factor": F("0.6094")}


def _gas() -> Sizing:
    sizes = tuple(F(each) / 12 for each in ("0.5", "0.75", "1", "1.25", "1.5", "2"))
    rows = {30: (95, 199, 374, 768, 1150, 2220), 100: (50, 104, 195, 400, 600, 1160)}
    cells = tuple(
        (F(length), size, F(capacity))
        for length, row in rows.items()
        for size, capacity in zip(sizes, row, strict=True)
    )
    inches = ("0.622", "0.824", "1.049", "1.38", "1.61", "2.067")
    diameters = tuple((size, F(each) / 12) for size, each in zip(sizes, inches, strict=True))
    return Sizing(Printed(cells, "table"), Equation(diameters, F(1, 2), F("0.6094"), None, "equation"), "ft3/h")


def _rating() -> SiteRating:
    height = StepRule(F(3, 100), F(1000), F(500), "instructions", begun_steps_count=True)
    heat = StepRule(F(1, 100), F(5), F(25), "instructions", begun_steps_count=True)
    return SiteRating(F(22_000), "W", F(3000), F(38), height, heat)


def _adjustment() -> AdjustedRating:
    reference, exponents = Surroundings(F(100), F(25), F(3, 10), F(25)), Exponents(F(0), F(7, 10), F(6, 5), F(1), "")
    return AdjustedRating(F(500), "kW", F(5000), F(40), F(1, 2), F(60), reference, exponents, F(4, 5))


def _loads() -> PhaseLoads:
    loads = tuple(SinglePhaseLoad(each, each, F(5000)) for each in ("A", "B", "C", "AB", "BC", "CA"))
    return PhaseLoads(F(208), F(20_000), loads)


def _two_sets() -> Fraction:
    point = {"level": F(67), "measured_at": F(23), "distance": F(60), "correction": F(0)}
    return sum_of_levels([SOUND_AT_DISTANCE.at(point), SOUND_AT_DISTANCE.at(point)])
