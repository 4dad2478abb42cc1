"""Fuel: what is asked, what pipe and tank let through, how it moves, and where there is no answer."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.fuel.gas_demand import SERVICE_MARGIN, Drawn, InletPressure, Service, service_margin
from checker.engineering.fuel.gas_equation import HIGH_PRESSURE_FLOW, LOW_PRESSURE_FLOW
from checker.engineering.fuel.gas_pipe import ByEquation, Pipe, PipeRow, PipeTable
from checker.engineering.fuel.gas_system import Lengths, Section, System, size_system
from checker.engineering.fuel.part_load import FUEL_AT_LOAD, Curve, PartLoad, Point, fuel_at_load
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


# --- meter, regulator, pressure --------------------------------------------------------------------------------------

SERVICE = Service((Drawn("GEN1", F(300)), Drawn("furnace", F(100))), F(425), "ft3/h", "gas utility, letter")


def test_what_is_left_of_the_meter() -> None:
    worked = service_margin(SERVICE)
    assert worked.value == 25
    assert worked.step("stated capacity").source == "gas utility, letter"
    assert "gas utility" in worked.assumptions[0]


@given(st.integers(0, 900).map(F), st.integers(1, 100).map(F))
def test_the_meter_has_less_left_with_every_load(demand: Fraction, more: Fraction) -> None:
    assert SERVICE_MARGIN.directions["demand"] is Direction.FALLS
    loads = (*SERVICE.loads, Drawn("more", demand))
    assert service_margin(replace(SERVICE, loads=loads)).value == F(25) - demand
    raised = replace(SERVICE, stated_capacity=SERVICE.stated_capacity + more)
    assert service_margin(raised).value > service_margin(SERVICE).value


def test_a_meter_asked_for_less_than_nothing_is_refused() -> None:
    with pytest.raises(OutsideLimits):
        service_margin(replace(SERVICE, loads=(Drawn("GEN1", F(-1)),)))


@pytest.mark.parametrize(
    ("under_load", "idle", "low", "high"),
    [("5", "7", False, False), ("4.9", "7", True, False), ("5", "7.1", False, True)],
)
def test_the_band_of_the_inlet_pressure(under_load: str, idle: str, low: bool, high: bool) -> None:
    found = InletPressure(F(under_load), F(idle), F(5), F(7))
    assert (found.too_low, found.too_high) == (low, high)


# --- pipe ------------------------------------------------------------------------------------------------------------

TABLE = PipeTable(
    ("1/2", "3/4", "1"),
    (
        PipeRow(F(20), (F(118), F(247), F(466))),
        PipeRow(F(60), (F(65), F(137), F(257))),
        PipeRow(F(80), (F(56), None, None)),
    ),
    "ft3/h",
    "the table",
)
PIPE = Pipe(TABLE)


@pytest.mark.parametrize(("length", "capacity"), [("20", 247), ("20.01", 137), ("60", 137), ("1", 247)])
def test_a_row_serves_every_length_up_to_its_own(length: str, capacity: int) -> None:
    assert PIPE.capacity("3/4", F(length)).counts == capacity


@pytest.mark.parametrize(("demand", "size"), [(65, "1/2"), (66, "3/4"), (137, "3/4"), (138, "1")])
def test_the_smallest_size_just_carries_its_capacity(demand: int, size: str) -> None:
    assert PIPE.smallest(F(demand), F(60)).size == size


@pytest.mark.parametrize(
    ("size", "length", "said"),
    [
        ("2", "20", "no size 2"),
        ("3/4", "61", "no capacity"),
        ("1/2", "81", "no capacity"),
        ("1/2", "0", "above zero"),
    ],
)
def test_pipe_outside_of_the_table(size: str, length: str, said: str) -> None:
    with pytest.raises(OutsideLimits, match=said):
        PIPE.capacity(size, F(length))


def test_a_cell_that_is_not_printed_is_no_refusal_of_the_pipe() -> None:
    """At 80 ft only 1/2 in is printed: more than it carries has no answer, which is not the same as too much."""
    assert PIPE.smallest(F(56), F(80)).size == "1/2"
    with pytest.raises(OutsideLimits, match="prints no capacity"):
        PIPE.smallest(F(57), F(80))
    with pytest.raises(OutsideLimits, match="No size"):
        PIPE.smallest(F(258), F(60))


def test_the_smaller_of_table_and_equation_counts() -> None:
    small = ByEquation((("1/2", F("0.4") / 12),), F(1, 2), F("0.6094"))
    found = Pipe(TABLE, small).capacity("1/2", F(60))
    assert found.by_equation is not None
    assert found.counts == found.by_equation < found.by_table
    assert found.only_table_carries(F(65))
    assert not found.only_table_carries(F(66))
    assert not found.only_table_carries(found.counts)
    large = replace(small, diameters=(("1/2", F("0.8") / 12),))
    assert Pipe(TABLE, large).capacity("1/2", F(60)).counts == 65
    with pytest.raises(OutsideLimits, match="inside diameter"):
        Pipe(TABLE, small).capacity("3/4", F(60))


@given(st.integers(1, 300), st.integers(1, 60), st.integers(1, 100), st.integers(1, 20))
def test_more_demand_or_length_never_takes_a_smaller_size(demand: int, length: int, more: int, farther: int) -> None:
    order = BIG.table.sizes.index
    size = order(BIG.smallest(F(demand), F(length)).size)
    assert size <= order(BIG.smallest(F(demand + more), F(length)).size)
    assert size <= order(BIG.smallest(F(demand), F(length + farther)).size)
    here, there = (BIG.capacity("1", F(each)).counts for each in (length, length + farther))
    assert here >= there


def test_heat_content_turns_flow_into_heat() -> None:
    flow = ByEquation((("1", F("1.049") / 12),), F(1, 2), F("0.6094"))
    assert replace(flow, heating_value=F(1000)).capacity("1", F(60)) == 1000 * flow.capacity("1", F(60))


def test_higher_pressure_carries_more_and_must_fall() -> None:
    point = {"inside_diameter": F(1, 12), "length": F(50), "gas_factor": F("0.6094")}
    low = LOW_PRESSURE_FLOW.at({**point, "pressure_drop": F("27.7")})
    pressures = {"inlet_pressure": F("55.4"), "outlet_pressure": F("27.7")}
    high = HIGH_PRESSURE_FLOW.at({**point, **pressures, "gas_deviation": F("0.9992")})
    assert low < high
    swapped = {"inlet_pressure": F("27.7"), "outlet_pressure": F("55.4")}
    with pytest.raises(OutsideLimits, match="outlet pressure"):
        HIGH_PRESSURE_FLOW.at({**point, **swapped, "gas_deviation": F("0.9992")})


# --- a system of sections --------------------------------------------------------------------------------------------

BIG = Pipe(
    PipeTable(
        ("1/2", "3/4", "1", "1-1/4"),
        tuple(
            PipeRow(F(length), tuple(F(each) for each in row))
            for length, row in {
                30: (95, 199, 374, 768),
                60: (65, 137, 257, 528),
                100: (50, 104, 195, 400),
            }.items()
        ),
        "ft3/h",
        "the table",
    )
)
SECTIONS = (
    Section("A", F(30), None),
    Section("B", F(30), "A", F(200)),
    Section("C", F(40), "A", F(100)),
    Section("D", F(30), "C", F(90)),
)


def sizes(lengths: Lengths, sections: tuple[Section, ...] = SECTIONS) -> dict[str, tuple[int, int, str]]:
    found = size_system(System(sections, BIG, lengths))
    return {each.section.name: (int(each.demand), int(each.length), each.smallest.size) for each in found}


def test_longest_length() -> None:
    """Constructed: the most remote outlet is 100 ft away, at the end of D; all sections are sized for 100 ft."""
    assert sizes(Lengths.LONGEST) == {
        "A": (390, 100, "1-1/4"),
        "B": (200, 100, "1-1/4"),
        "C": (190, 100, "1"),
        "D": (90, 100, "3/4"),
    }


def test_branch_length() -> None:
    """The branch B is sized for its own 60 ft, the longest run A, C, D as before."""
    assert sizes(Lengths.BRANCH) == {**sizes(Lengths.LONGEST), "B": (200, 60, "1")}


def test_a_branch_is_sized_for_its_own_most_remote_outlet() -> None:
    """A further outlet 20 ft beyond B: B and what follows count with 80 ft, not with the 60 ft to the end of B."""
    found = sizes(Lengths.BRANCH, (*SECTIONS, Section("E", F(20), "B", F(10))))
    assert (found["B"], found["E"]) == ((210, 80, "1-1/4"), (10, 80, "1/2"))


@given(st.lists(st.integers(1, 40), min_size=4, max_size=4), st.lists(st.integers(1, 60), min_size=3, max_size=3))
def test_branch_lengths_never_ask_for_more_pipe(lengths: list[int], demands: list[int]) -> None:
    first, *others = (replace(each, length=F(length, 2)) for each, length in zip(SECTIONS, lengths, strict=True))
    loaded = (replace(each, demand=F(demand)) for each, demand in zip(others, demands, strict=True))
    sections = (first, *loaded)
    longest = {each.section.name: each for each in size_system(System(sections, BIG, Lengths.LONGEST))}
    for each in size_system(System(sections, BIG, Lengths.BRANCH)):
        worst = longest[each.section.name]
        assert each.demand == worst.demand
        assert each.length <= worst.length
        order = BIG.table.sizes.index
        assert order(each.smallest.size) <= order(worst.smallest.size)


def test_a_size_that_is_there_is_held_against_the_demand() -> None:
    there = (replace(SECTIONS[0], size="1"), replace(SECTIONS[1], size="1-1/4"), *SECTIONS[2:])
    found = {each.section.name: each.carries for each in size_system(System(there, BIG, Lengths.LONGEST))}
    assert found == {"A": False, "B": True, "C": None, "D": None}
    just = (Section("A", F(60), None, F(137), "3/4"),)
    assert size_system(System(just, BIG, Lengths.LONGEST))[0].carries is True


@pytest.mark.parametrize(
    ("sections", "said"),
    [
        ((Section("A", F(10), "Z", F(5)),), "begins at Z"),
        ((Section("A", F(10), "B", F(5)), Section("B", F(10), "A")), "after itself"),
        ((Section("A", F(10), None, F(5)), Section("A", F(10), None, F(5))), "same name"),
        ((Section("A", F(0), None, F(5)),), "above zero"),
        ((Section("A", F(10), None),), "No outlet"),
        ((Section("A", F(10), None, F(5)), Section("B", F(10), "A")), "Nothing beyond section B"),
        ((Section("A", F(10), None, F(5000)),), "No size"),
    ],
)
def test_sections_that_are_no_system(sections: tuple[Section, ...], said: str) -> None:
    with pytest.raises(OutsideLimits, match=said):
        size_system(System(sections, BIG, Lengths.LONGEST))


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
