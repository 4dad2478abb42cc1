"""Locked-rotor currents by horsepower, from memory, against what must hold between them and other published tables."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest

from checker.values.kinds import kind
from tests.published import shared_tables as shared

ONE, THREE = "single-phase-locked-rotor-currents", "three-phase-locked-rotor-currents"
DESIGN_L = {
    Fraction(1): 45,
    Fraction(3, 2): 50,
    Fraction(2): 65,
    Fraction(3): 90,
    Fraction(5): 135,
    Fraction(15, 2): 200,
    Fraction(10): 260,
}
"""Amperes at 230 V that a single-phase motor of design L may take at the most (NEMA MG 1, 12.34; from memory)."""
DESIGN_N = {
    Fraction(1, 6): 20,
    Fraction(1, 4): 26,
    Fraction(1, 3): 31,
    Fraction(1, 2): 45,
    Fraction(3, 4): 61,
    Fraction(1): 80,
}
"""The same at 115 V of design N (NEMA MG 1, 12.33; from memory)."""
DESIGN_O = {Fraction(1, 6): 50, Fraction(1, 4): 50, Fraction(1, 3): 50, Fraction(1, 2): 50}
"""The same at 115 V of design O (NEMA MG 1, 12.33; from memory)."""


def _currents(table: str) -> dict[tuple[Fraction, Fraction], Fraction]:
    """By horsepower and volts."""
    return {(shared.key(row, "power"), shared.key(row, "voltage")): shared.number(row) for row in shared.rows(table)}


def test_single_phase_is_six_times_the_running_current() -> None:
    """Table 430.251(A) was made so: six times Table 430.248, rounded up by up to 1.1 %."""
    running = _currents("single-phase-motor-currents")
    for (power, volts), current in _currents(ONE).items():
        assert Fraction(0) <= current / (6 * running[power, volts]) - 1 <= Fraction(11, 1000), (power, volts)


def test_three_phases_of_one_size_take_one_power_at_every_voltage() -> None:
    found: dict[Fraction, list[Fraction]] = {}
    for (power, volts), current in _currents(THREE).items():
        found.setdefault(power, []).append(volts * current)
    assert len(found) == 13
    for power, powers in found.items():
        assert len(powers) == 5
        assert max(powers) / min(powers) - 1 <= Fraction(1, 100), power


@pytest.mark.parametrize("table", [ONE, THREE])
def test_a_larger_motor_takes_more_and_less_for_each_horsepower(table: str) -> None:
    """Small motors start the hardest, but for the rounding of two rows, so a row may stand for every smaller motor."""
    at_230 = sorted((power, current) for (power, volts), current in _currents(table).items() if volts == 230)
    currents = [current for _, current in at_230]
    each = [current / power for power, current in at_230]
    assert currents == sorted(set(currents))
    assert all(larger <= smaller * Fraction(101, 100) for smaller, larger in pairwise(each))


@pytest.mark.parametrize(("limits", "volts"), [(DESIGN_L, 230), (DESIGN_N, 115), (DESIGN_O, 115)], ids=["L", "N", "O"])
def test_the_limits_of_the_standard_of_motors_lie_below(limits: dict[Fraction, int], volts: int) -> None:
    """Of the row at or above each size: what makes the table an upper bound for motors with these design letters."""
    table = {power: current for (power, at), current in _currents(ONE).items() if at == volts}
    unit = kind("motor_power").units["hp"].factor
    for size, most in limits.items():
        row = min(power for power in table if power >= size * unit)
        assert most <= table[row], size
