"""The air that an engine breathes against a library's standard atmosphere, and against printed steam tables."""

from __future__ import annotations

from fractions import Fraction

import pytest
from fluids.atmosphere import ATMOSPHERE_1976

from checker.engineering.generator.air import barometric_pressure, steam_pressure

STEAM = {0: 0.6113, 10: 1.228, 20: 2.339, 25: 3.169, 30: 4.246, 40: 7.384, 50: 12.35}
"""kPa of saturated steam by °C as textbooks of thermodynamics print it; from memory."""


@pytest.mark.parametrize("feet", [-1000, 0, 500, 5000, 10_000, 14_000, 30_000])
def test_pressure_of_the_standard_atmosphere(feet: int) -> None:
    """The library (fluids, from the Python package index) follows the U.S. Standard Atmosphere of 1976, which takes
    heights as geopotential ones: up to 0.1 % apart at these altitudes.
    """
    wanted = ATMOSPHERE_1976(feet * 0.3048).P / 1000
    assert float(barometric_pressure(Fraction(feet))) == pytest.approx(wanted, rel=2e-3)


@pytest.mark.parametrize("degrees", STEAM)
def test_pressure_of_steam(degrees: int) -> None:
    """The formula lies up to 0.4 % from the tables; of the air that is up to 0.02 kPa."""
    assert float(steam_pressure(Fraction(degrees))) == pytest.approx(STEAM[degrees], rel=4e-3)
