"""Fuel: what is asked, what pipe and tank let through, how it moves, and where there is no answer."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.fuel.gas_equation import HIGH_PRESSURE_FLOW, LOW_PRESSURE_FLOW
from checker.engineering.fuel.part_load import FUEL_AT_LOAD, Curve, PartLoad, Point, fuel_at_load
from checker.engineering.fuel.pipe_sizing import Equation, Printed, Sizing
from checker.engineering.fuel.propane import VAPORIZATION, FactorRow, Tank, VaporizationFactors, vaporization
from checker.engineering.fuel.running_time import LIQUID_RUNNING_TIME, PROPANE_RUNNING_TIME, TANK_VOLUME

F = Fraction

# --- part load -------------------------------------------------------------------------------------------------------

CURVE = Curve((Point(F(1, 2), F(200)), Point(F(3, 4), F(260)), Point(F(1), F(340))), "ft3/h", "sheet of the set")
LOADS = st.integers(0, 1000).map(lambda thousandth: F(thousandth, 1000))


def test_between_two_printed_loads_the_fuel_lies_on_a_line() -> None:
    worked = fuel_at_load(PartLoad(CURVE, F(5, 8)))
    assert (worked.value, worked.unit) == (F(230), "ft3/h")
    assert not worked.assumptions


def test_below_the_first_printed_load_its_rate_is_taken_and_said() -> None:
    worked = fuel_at_load(PartLoad(CURVE, F(1, 10)))
    assert worked.value == 200
    assert "below 50 %" in worked.assumptions[0]
    assert not fuel_at_load(PartLoad(CURVE, F(1, 2))).assumptions


@given(LOADS, LOADS)
def test_fuel_never_falls_with_the_load(one: Fraction, other: Fraction) -> None:
    assert FUEL_AT_LOAD.directions == {"load": Direction.RISES}
    low, high = sorted((one, other))
    assert FUEL_AT_LOAD(PartLoad(CURVE, low)).value <= FUEL_AT_LOAD(PartLoad(CURVE, high)).value


@pytest.mark.parametrize(
    ("points", "load"),
    [
        (CURVE.points, "1.01"),
        (CURVE.points, "-0.1"),
        ((), "0.5"),
        ((Point(F(1), F(3)), Point(F(1, 2), F(2))), "0.5"),
        ((Point(F(1, 2), F(3)), Point(F(1), F(2))), "0.5"),
    ],
)
def test_a_load_or_a_sheet_without_an_answer(points: tuple[Point, ...], load: str) -> None:
    with pytest.raises(OutsideLimits):
        fuel_at_load(PartLoad(replace(CURVE, points=points), F(load)))


# --- pipe ------------------------------------------------------------------------------------------------------------

HALF, THREE_QUARTERS, ONE = (F(each) / 12 for each in ("1/2", "3/4", "1"))
TABLE = Printed(
    (
        *((F(20), size, F(capacity)) for size, capacity in ((HALF, 118), (THREE_QUARTERS, 247), (ONE, 466))),
        *((F(60), size, F(capacity)) for size, capacity in ((HALF, 65), (THREE_QUARTERS, 137), (ONE, 257))),
        (F(80), HALF, F(56)),
    ),
    "the table",
)
PIPE = Sizing(TABLE, None, "ft3/h")
EQUATION = Equation(((HALF, F("0.4") / 12),), F(1, 2), F("0.6094"), None, "the equation")


@pytest.mark.parametrize(("length", "capacity"), [("20", 247), ("20.01", 137), ("60", 137), ("1", 247)])
def test_a_row_serves_every_length_up_to_its_own(length: str, capacity: int) -> None:
    assert PIPE.capacity(THREE_QUARTERS, F(length)) == capacity


@pytest.mark.parametrize(("demand", "size"), [(65, HALF), (66, THREE_QUARTERS), (137, THREE_QUARTERS), (138, ONE)])
def test_the_smallest_size_just_carries_its_capacity(demand: int, size: Fraction) -> None:
    assert PIPE.smallest(F(demand), F(60)) == size


@pytest.mark.parametrize(
    ("size", "length", "said"),
    [(F(2), "20", "Neither"), (THREE_QUARTERS, "61", "Neither"), (HALF, "81", "Neither"), (HALF, "0", "above zero")],
)
def test_pipe_outside_of_the_table(size: Fraction, length: str, said: str) -> None:
    with pytest.raises(OutsideLimits, match=said):
        PIPE.capacity(size, F(length))


def test_the_smaller_of_table_and_equation_counts() -> None:
    worked = Sizing(TABLE, EQUATION, "ft3/h").worked(HALF, F(60))
    assert worked.value == worked.step("by the equation").value < worked.step("by the table").value == 65
    larger = replace(EQUATION, diameters=((HALF, F("0.8") / 12),))
    assert Sizing(TABLE, larger, "ft3/h").capacity(HALF, F(60)) == 65
    # A size without an inside diameter is answered by the table alone.
    assert Sizing(TABLE, EQUATION, "ft3/h").capacity(THREE_QUARTERS, F(60)) == 137


def test_past_the_last_row_the_equation_goes_on_but_never_above_that_row() -> None:
    larger = replace(EQUATION, diameters=((HALF, F("0.8") / 12),))
    assert Sizing(TABLE, larger, "ft3/h").capacity(HALF, F(90)) == 56
    small = Sizing(TABLE, EQUATION, "ft3/h").worked(HALF, F(90))
    assert small.value == small.step("by the equation").value < 56


def test_heat_content_turns_flow_into_heat() -> None:
    found, heat = EQUATION.at(HALF, F(60)), replace(EQUATION, heat=F(1000)).at(HALF, F(60))
    assert found is not None
    assert heat == 1000 * found


def test_higher_pressure_carries_more_and_must_fall() -> None:
    point = {"inside_diameter": F(1, 12), "length": F(50), "gas_factor": F("0.6094")}
    low = LOW_PRESSURE_FLOW.at({**point, "pressure_drop": F("27.7")})
    pressures = {"inlet_pressure": F("55.4"), "outlet_pressure": F("27.7")}
    high = HIGH_PRESSURE_FLOW.at({**point, **pressures, "gas_deviation": F("0.9992")})
    assert low < high
    swapped = {"inlet_pressure": F("27.7"), "outlet_pressure": F("55.4")}
    with pytest.raises(OutsideLimits, match="outlet pressure"):
        HIGH_PRESSURE_FLOW.at({**point, **swapped, "gas_deviation": F("0.9992")})


# --- propane ---------------------------------------------------------------------------------------------------------

FACTORS = VaporizationFactors(
    (FactorRow(F(1, 10), F(45)), FactorRow(F(1, 2), F(90))),
    (FactorRow(F(-20), F(1, 2)), FactorRow(F(-10), F(1))),
    "the rule",
)
TANK = Tank(F(3), F(10), F(1, 2), F(-10), FACTORS)


def test_vapor_of_a_tank() -> None:
    assert vaporization(TANK).value == 36 * 120 * 90


@pytest.mark.parametrize(
    ("change", "vapor"), [({"fill": F(49, 100)}, 36 * 120 * 45), ({"temperature": F(-11)}, 36 * 120 * 45)]
)
def test_between_two_lines_the_lower_one_counts(change: dict[str, Fraction], vapor: int) -> None:
    assert vaporization(replace(TANK, **change)).value == vapor  # type: ignore[arg-type]


@given(
    st.sampled_from(["diameter", "length", "fill", "temperature"]),
    st.integers(0, 40).map(lambda tenth: F(tenth, 10)),
)
def test_vapor_never_falls_with_anything(name: str, more: Fraction) -> None:
    assert VAPORIZATION.directions[name] is Direction.RISES
    small = replace(TANK, fill=F(1, 10), temperature=F(-20))
    assert vaporization(small).value <= vaporization(replace(small, **{name: getattr(small, name) + more})).value


@pytest.mark.parametrize("change", [{"fill": F(9, 100)}, {"temperature": F(-21)}, {"diameter": F(0)}])
def test_a_tank_outside_of_the_rule(change: dict[str, Fraction]) -> None:
    with pytest.raises(OutsideLimits):
        vaporization(replace(TANK, **change))  # type: ignore[arg-type]


# --- how long it lasts ------------------------------------------------------------------------------------------------

HOUR = 3600


def test_propane_lasts_as_long_as_what_can_be_used() -> None:
    """Constructed: 500 gal of which 60 % can be used, 91,500 BTU/gal, 300,000 BTU/h: 91.5 h."""
    point = {"volume": F(500), "usable": F(3, 5), "heating_value": F(91_500), "heat_rate": F(300_000)}
    assert PROPANE_RUNNING_TIME.at(point) == F("91.5") * HOUR
    with pytest.raises(OutsideLimits, match="whole tank"):
        PROPANE_RUNNING_TIME.at({**point, "usable": F(11, 10)})
    with pytest.raises(OutsideLimits, match="above zero"):
        PROPANE_RUNNING_TIME.at({**point, "heat_rate": F(0)})


def test_a_tank_for_a_time_lasts_that_time() -> None:
    tank = TANK_VOLUME.at({"fuel_rate": F("7.4"), "duration": F(24 * HOUR), "sets": F(1), "factor": F(1)})
    assert LIQUID_RUNNING_TIME.at({"volume": tank, "fuel_rate": F("7.4")}) == 24 * HOUR
    with pytest.raises(OutsideLimits, match="above zero"):
        LIQUID_RUNNING_TIME.at({"volume": tank, "fuel_rate": F(0)})
    with pytest.raises(OutsideLimits, match="fuel rate"):
        TANK_VOLUME.at({"fuel_rate": F(-1), "duration": F(1), "sets": F(1), "factor": F(1)})
