"""What asks at once after a long outage, worked by hand. Common practice; no section sets it."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.loads.restart import RestartCase, restart_load
from checker.engineering.worked import Paper, Worked
from checker.facts.view import View
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of, view_under

HOUSE = """
site: {{name: Rush House, stage: plan_review, occupancy: {occupancy}, floor_area: 1950 ft2, other_sources: none,
       small_appliance_circuits: 2, laundry_circuits: 1, load_method: {method}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 200 A}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, capacity: 100 A}}
  P1: {{kind: panelboard, fed_from: ATS1}}
loads:
  complete: {complete}
  list:
    - {{name: kitchen, load_kind: appliance, load_power: 7086 VA, motor_driven: no, at: P1}}
    - {{name: air conditioner, load_kind: cooling, load_power: {cooling}, at: P1}}
    - {{name: furnace, load_kind: heat, load_power: 9 kVA, own_controls: 0, at: P1, kept_off: {furnace_off}}}
    - {{name: water heater, load_kind: {water}, load_power: {tank}, at: P1, kept_off: {water_off}}}
"""
BASE = {
    "occupancy": "one_family_dwelling",
    "method": "optional",
    "complete": "yes",
    "cooling": "3600 VA",
    "furnace_off": "none",
    "water": "water_heater",
    "tank": "4500 VA",
    "water_off": "none",
}
REST = Fraction("12974.4")
"""10 000 + 0.4 x (5850 + 4500 + 7086 - 10 000) VA, by 220.82 of 2020: what has no thermostat."""


def house(folder: Path, library: Library, **but: str) -> View:
    return view_under("nec-2020", HOUSE.format(**{**BASE, **but}), folder, library)


def figure(folder: Path, library: Library, **but: str) -> Possible:
    return fact_of(house(folder, library, **but), "GEN1", "load_after_a_long_outage")


def ends(found: Possible) -> tuple[Fraction | None, Fraction | None]:
    """Both ends in VA to one decimal."""
    hull = found.hull
    assert hull is not None
    low, high = (None if end is None else Fraction(round(end * 2400), 10) for end in (hull.low, hull.high))
    return low, high


def alone(value: Fraction) -> tuple[Fraction, Fraction]:
    return value, value


def test_heating_and_water_count_by_their_ratings(tmp_path: Path, library: Library) -> None:
    """9000 VA of heat before 3600 VA of cooling, and 4500 VA of water; the calculation alone gives 20 624.4 VA."""
    assert ends(figure(tmp_path, library)) == alone(REST + 9000 + 4500)


def test_what_is_kept_off_does_not_ask(tmp_path: Path, library: Library) -> None:
    without_water = figure(tmp_path, library, water_off="until_it_fits")
    assert ends(without_water) == alone(REST + 9000)
    without_heat = figure(tmp_path, library, furnace_off="while_the_set_runs")
    assert ends(without_heat) == alone(REST + 3600 + 4500)
    has_to_be_said = figure(tmp_path, library, water_off="unknown")
    assert ends(has_to_be_said) == alone(REST + 9000 + 4500)


def test_a_kind_that_is_not_decided_lies_between(tmp_path: Path, library: Library) -> None:
    low, high = ends(figure(tmp_path, library, water="appliance or water_heater"))
    assert low == REST + 9000
    assert high is None
    low, high = ends(figure(tmp_path, library, complete="no"))
    assert low == REST + 9000 + 4500
    assert high is None


def test_a_tankless_heater_asks_too_and_an_appliance_does_not(tmp_path: Path, library: Library) -> None:
    assert ends(figure(tmp_path, library, water="tankless_or_pool_heater")) == alone(REST + 13_500)
    general = Fraction("0.4") * 4500
    assert ends(figure(tmp_path, library, water="appliance")) == alone(REST + general + 9000)


@pytest.mark.parametrize(
    "but", [{"method": "measured_demand"}, {"occupancy": "business"}, {"occupancy": "unknown"}], ids=str
)
def test_where_it_says_nothing_there_is_no_number(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    found = figure(tmp_path, library, **but)
    assert not found.has_value
    assert len(found.undefined) == 1


def at_loads(view: View) -> dict[str, Possible]:
    listed = view.ground.site.members("loads").members
    return {str(view.read(each, "name").atom): view.read(each, "load_after_a_long_outage") for each in listed}


def test_it_is_told_at_the_largest_load_that_asks(tmp_path: Path, library: Library) -> None:
    view = house(tmp_path, library)
    found = at_loads(view)
    assert found["furnace"] == fact_of(view, "GEN1", "load_after_a_long_outage")
    assert all(found[name].only_absent for name in ("kitchen", "air conditioner", "water heater"))
    assert view.read(Subject("load", "load 3"), "capacity_of_its_set").number == 100


def test_with_the_largest_kept_off_the_next_one_tells_it_and_of_two_alike_the_first(
    tmp_path: Path, library: Library
) -> None:
    found = at_loads(house(tmp_path, library, furnace_off="until_it_fits", tank="3600 VA"))
    assert [name for name, value in found.items() if not value.only_absent] == ["air conditioner"]


def test_where_the_largest_is_open_each_that_may_be_keeps_it_open(tmp_path: Path, library: Library) -> None:
    found = at_loads(house(tmp_path, library, tank="4 kVA to 10 kVA"))
    open_ones = [name for name, value in found.items() if value.absent and value.has_value]
    assert open_ones == ["furnace", "water heater"]
    assert found["air conditioner"].only_absent


# --- the calculation alone -------------------------------------------------------------------------------------------


def rest_of(load: int) -> Worked:
    paper = Paper()
    paper.write("calculated load", "given", Fraction(load), "VA")
    return paper.result()


POWERS = st.integers(0, 30_000)


@given(POWERS, POWERS, POWERS, POWERS, st.integers(1, 9000))
def test_it_rises_with_each_part_and_is_never_less_than_the_calculation(
    rest: int, climate: int, water: int, everything: int, more: int
) -> None:
    case = RestartCase(rest_of(rest), Fraction(climate), Fraction(water), Fraction(everything))
    load = restart_load(case).value
    assert load == max(rest + climate + water, everything)
    for change in (
        {"rest": rest_of(rest + more)},
        {"heating_or_cooling": Fraction(climate + more)},
        {"water_heating": Fraction(water + more)},
        {"everything": Fraction(everything + more)},
    ):
        assert load <= restart_load(replace(case, **change)).value
