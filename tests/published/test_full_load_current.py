"""Full-load current against printed charts, practice tests and a general-purpose units library."""

from __future__ import annotations

import math
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pint
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.full_load_current import FULL_LOAD_CURRENT

CHECKS: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "full_load_currents.yaml").read_text(encoding="utf-8")
)


def current(kilowatts: Fraction, voltage: Fraction, power_factor: Fraction, phases: int) -> Fraction:
    return FULL_LOAD_CURRENT.at(
        {"power": kilowatts * 1000, "voltage": voltage, "power_factor": power_factor, "phases": Fraction(phases)}
    )


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: str(check["id"]))
def test_printed_currents(check: dict[str, Any]) -> None:
    found = current(Fraction(check["kw"]), Fraction(check["voltage"]), Fraction(check["pf"]), check["phases"])
    assert abs(found - Fraction(check["amperes"])) <= Fraction(check["tolerance"])


def test_a_twelve_kilowatt_set_gives_fifty_amperes() -> None:
    """Fact of the trade, common practice and no source: 12 kW, single phase, 120/240 V is 50 A."""
    assert current(Fraction(12), Fraction(240), Fraction(1), 1) == 50


@cache
def units() -> Any:
    """The registry of the library; it reads its units from a file and takes long to make."""
    return pint.UnitRegistry()


@given(st.integers(1, 3000), st.integers(100, 1000), st.integers(50, 100), st.sampled_from([1, 3]))
def test_against_a_units_library(kilowatts: int, voltage: int, percent: int, phases: int) -> None:
    """pint (general-purpose units library) converts; the formula is the definition of power in a balanced circuit."""
    unit = units()
    power = kilowatts * unit.kilowatt
    factor = 1 if phases == 1 else math.sqrt(3)
    wanted = (power / (factor * voltage * unit.volt * (percent / 100))).to(unit.ampere).magnitude
    found = current(Fraction(kilowatts), Fraction(voltage), Fraction(percent, 100), phases)
    assert float(found) == pytest.approx(wanted, rel=1e-8)
