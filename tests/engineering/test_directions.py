"""Every declared direction of every calculation, sampled: the result moves as it says with each input, or stays."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from checker.engineering.calculation import Calculation, Direction, OutsideLimits
from checker.engineering.fuel import gas_demand, gas_equation, running_time
from checker.engineering.generator import voltage_dip
from checker.engineering.parallel import bus
from checker.engineering.sites import sound
from checker.engineering.timing import cranking
from checker.values.kinds import KINDS

CALCULATIONS: tuple[Calculation, ...] = (
    gas_demand.GAS_FLOW,
    gas_equation.LOW_PRESSURE_FLOW,
    gas_equation.LOW_PRESSURE_DROP,
    gas_equation.HIGH_PRESSURE_FLOW,
    running_time.PROPANE_RUNNING_TIME,
    running_time.LIQUID_RUNNING_TIME,
    running_time.TANK_VOLUME,
    voltage_dip.VOLTAGE_DIP,
    voltage_dip.DIP_FROM_RATED_START,
    voltage_dip.GREATEST_START,
    sound.SOUND_AT_DISTANCE,
    sound.SOUND_OF_LINE,
    sound.SOUND_FROM_POWER,
    sound.DISTANCE_FOR_LEVEL,
    cranking.CRANKING_CYCLE,
    cranking.CRANKING_CHARGE,
    cranking.CHARGER_CURRENT,
    bus.BUS_SUM,
)

# Whole numbers from nothing on, so that limits are met too; hundredths where a share is meant.
SHARES = st.integers(0, 120).map(lambda percent: Fraction(percent, 100))
NUMBERS = st.integers(0, 5_000).map(Fraction)


def values(quantity: str) -> st.SearchStrategy[Fraction]:
    return {"ratio": SHARES, "sound_level": st.integers(20, 130).map(Fraction)}.get(quantity, NUMBERS)


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: str(each.name))
def test_it_moves_as_it_declares(calculation: Calculation) -> None:
    names = [each.name for each in calculation.inputs]
    drawn = st.fixed_dictionaries({each.name: values(each.quantity) for each in calculation.inputs})

    @settings(max_examples=60)
    @given(drawn, st.sampled_from(names), st.integers(1, 500))
    def moves(point: dict[str, Fraction], name: str, more: int) -> None:
        moved = next(each for each in calculation.inputs if each.name == name)
        assume(moved.direction is not Direction.NEITHER)
        step = Fraction(more, 1000) if moved.quantity == "ratio" else Fraction(more, 10)
        try:
            before = calculation.at(point)
            after = calculation.at({**point, name: point[name] + step})
        except OutsideLimits:
            assume(condition=False)
        assert before <= after if moved.direction is Direction.RISES else before >= after

    moves()


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: str(each.name))
def test_kinds_and_units_are_those_of_the_program(calculation: Calculation) -> None:
    assert all(each.quantity in KINDS or each.quantity == "count" for each in calculation.inputs)
    assert calculation.unit == KINDS[calculation.gives].base_unit


@pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda each: str(each.name))
def test_names_are_told_apart_and_sentences_end(calculation: Calculation) -> None:
    names = [each.name for each in calculation.inputs]
    assert len(set(names)) == len(names)
    assert calculation.limits.endswith(".")
    assert calculation.source
