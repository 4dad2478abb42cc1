"""Copper tubing for gas: the printed tables, from memory, against the equation of the code and the bores of ASTM B88.

The outside diameters and walls of ASTM B88 are from memory too; they come from another standard than the tables, and
one set of them gives every cell, so that a slip in either would show.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.engineering.fuel.gas_equation import HIGH_PRESSURE_FLOW, LOW_PRESSURE_FLOW
from checker.values.kinds import kind
from tests.published import shared_tables as shared

PSI = kind("pressure").units["psi"].factor
NATURAL, PROPANE, PROPANE_10_PSI = "natural-gas-copper-0-5", "propane-copper-11-in-wc", "propane-copper-10-psi"
SIZES = ("1/4", "3/8", "1/2", "5/8", "3/4", "1", "1-1/4", "1-1/2", "2")
OUTSIDE = dict(zip(SIZES, ("0.375", "0.5", "0.625", "0.75", "0.875", "1.125", "1.375", "1.625", "2.125"), strict=True))
"""ASTM B88: the nominal size and an eighth."""
WALL_K = dict(
    zip(SIZES, ("0.035", "0.049", "0.049", "0.049", "0.065", "0.065", "0.065", "0.072", "0.083"), strict=True)
)
WALL_L = dict(
    zip(SIZES, ("0.030", "0.035", "0.040", "0.042", "0.045", "0.050", "0.055", "0.060", "0.070"), strict=True)
)


def _bore(size: str, walls: dict[str, str]) -> Fraction:
    """Inside diameter in ft."""
    return (Fraction(OUTSIDE[size]) - 2 * Fraction(walls[size])) / 12


def _low(size: str, length: Fraction, factor: Fraction, walls: dict[str, str]) -> Fraction:
    return LOW_PRESSURE_FLOW.at(
        {
            "inside_diameter": _bore(size, walls),
            "length": length,
            "pressure_drop": Fraction(1, 2),
            "gas_factor": factor,
        }
    )


def _by_equation(table: str, size: str, length: Fraction, walls: dict[str, str]) -> Fraction:
    if table == NATURAL:
        return _low(size, length, shared.NATURAL_GAS, walls)
    if table == PROPANE:
        return _low(size, length, shared.PROPANE, walls) * shared.PROPANE_HEAT
    return shared.PROPANE_HEAT * HIGH_PRESSURE_FLOW.at(
        {
            "inside_diameter": _bore(size, walls),
            "length": length,
            "inlet_pressure": 10 * PSI,
            "outlet_pressure": 9 * PSI,
            "gas_factor": shared.PROPANE,
            "gas_deviation": shared.PROPANE_Y,
        }
    )


def test_bores_are_the_outside_less_two_walls_of_type_k() -> None:
    bores = dict(shared.diameters("copper-tubing-inside-diameters"))
    assert bores == {size: _bore(size, WALL_K) for size in OUTSIDE}


@pytest.mark.parametrize(
    ("table", "part", "unit"),
    [(NATURAL, Fraction(13, 1000), 1), (PROPANE, Fraction(7, 1000), 1000), (PROPANE_10_PSI, Fraction(5, 1000), 0)],
)
def test_every_cell_lies_at_the_equation(table: str, part: Fraction, unit: int) -> None:
    """As far apart as the note of each table says: one printed unit, or this part of the cell."""
    told = shared.pipe_table(table)
    assert told.sizes == tuple(OUTSIDE)
    for row in told.rows:
        for size, printed in zip(told.sizes, row.capacities, strict=True):
            if printed is not None:
                found = _by_equation(table, size, row.length, WALL_K)
                assert abs(found - printed) <= max(part * printed, Fraction(unit)), (size, row.length, float(found))


@pytest.mark.parametrize("table", [NATURAL, PROPANE, PROPANE_10_PSI])
def test_tubing_of_type_l_carries_more_than_the_table_says(table: str) -> None:
    """Its walls are thinner: the table is on the safe side by 3 to 20 %."""
    told = shared.pipe_table(table)
    for row in told.rows:
        for size, printed in zip(told.sizes, row.capacities, strict=True):
            if printed is not None:
                assert _by_equation(table, size, row.length, WALL_L) > printed, (size, row.length)


@pytest.mark.parametrize("table", [NATURAL, PROPANE, PROPANE_10_PSI])
def test_capacities_fall_with_the_length_and_rise_with_the_size(table: str) -> None:
    told = shared.pipe_table(table)
    for row in told.rows:
        printed = [each for each in row.capacities if each is not None]
        assert printed == sorted(set(printed)), row.length
    for place in range(len(told.sizes)):
        column = [each for row in told.rows if (each := row.capacities[place]) is not None]
        assert column == sorted(set(column), reverse=True)
