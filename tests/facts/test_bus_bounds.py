"""The bus that utility and inverters feed at once: hand-worked sums, and bounds that hold whatever is filled in."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.values.possible import Possible
from tests.facts.set_sites import ends
from tests.published import small_sites

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  P1:
    kind: panelboard
    fed_from: {{main: UTIL, 30: INV1, 32: INV3}}
    rated_current: 225 A
    ways:
      main: {{overcurrent: {main}}}
      2: {{overcurrent: 60 A, stands_on_bus: {place_2}}}
      30: {{overcurrent: 40 A, stands_on_bus: {place_30}}}
      32: {{overcurrent: 60 A}}
  ATS1:
    kind: transfer_switch
    normal: P1/2
    alternate: GEN1
    ways: {{normal: {{overcurrent: none}}, alternate: {{overcurrent: none}}}}
  P2:
    kind: panelboard
    fed_from: {{main: ATS1, 6: INV2}}
    rated_current: 60 A
    ways: {{main: {{overcurrent: none}}, 6: {{overcurrent: 20 A}}}}
  GEN1: {{kind: generator}}
  INV1:
    kind: inverter
    interactive: yes
    rated_current: {first}
    bus_setting: {setting}
    listed_as_power_control: {listed}
  INV2:
    kind: inverter
    interactive: {second_runs_beside}
    rated_current: {second}
    bus_setting: 180 A
    listed_as_power_control: yes
  INV3: {{kind: inverter, interactive: no, forms_its_own_grid: yes, rated_current: 50 A}}
"""
AS_DRAWN = {
    "main": "200 A", "place_2": "elsewhere", "place_30": "opposite_end", "first": "32 A", "second": "16 A",
    "second_runs_beside": "yes", "setting": "200 A", "listed": "yes",
}  # fmt: skip


def fact(piece: str, name: str, **changed: str) -> Possible:
    in_force = small_sites.numbers("NFPA 70", "2023")
    return small_sites.fact(SITE.format(**{**AS_DRAWN, **changed}), piece, name, in_force)


def amperes(value: Possible) -> list[str]:
    """The least and the most, as words, so that one that has no end shows."""
    return [str(each) for each in ends(value)]


def test_sum_of_both_boards() -> None:
    """P1: 200 A + 1.25 x (32 A + 16 A) = 260 A, since the inverter past the switch comes back through P1 too. P2: the
    60 A breaker ahead of it + 1.25 x 16 A = 80 A. The inverter that is never beside the utility counts nowhere.
    """
    assert fact("P1", "parallel_output").number == 48
    assert fact("P1", "bus_sum").number == 260
    assert fact("P2", "parallel_output").number == 16
    assert fact("P2", "bus_sum").number == 80


def test_the_smaller_device_protects_the_bus() -> None:
    """A main of 100 A in P1: 100 A + 1.25 x 48 A = 160 A."""
    assert fact("P1", "bus_sum", main="100 A").number == 160


def test_without_an_inverter_beside_the_utility_there_is_no_sum() -> None:
    assert fact("P2", "bus_sum", second_runs_beside="no").only_absent
    assert fact("P2", "place_of_parallel_sources", second_runs_beside="no").only_absent
    assert fact("P1", "bus_sum", second_runs_beside="no").number == 240


def test_whether_it_runs_beside_the_utility_is_open() -> None:
    """Then P2 has a sum of 80 A or none, and P1 one of 240 A or 260 A."""
    open_at_p2 = fact("P2", "bus_sum", second_runs_beside="unknown")
    assert open_at_p2.absent
    assert amperes(open_at_p2) == ["80", "80"]
    assert amperes(fact("P1", "bus_sum", second_runs_beside="unknown")) == ["240", "260"]


def test_without_a_device_nothing_is_worked_out() -> None:
    assert fact("P1", "bus_sum", main="none").undefined == ("no device protects the bus toward the utility",)


@pytest.mark.parametrize(
    ("place_2", "place_30", "possible"),
    [
        ("opposite_end", "opposite_end", {"opposite_end"}),
        ("elsewhere", "opposite_end", {"elsewhere"}),
        ("top_of_a_center_fed_bus", "bottom_of_a_center_fed_bus", {"elsewhere"}),
        ("top_of_a_center_fed_bus", "top_of_a_center_fed_bus", {"top_of_a_center_fed_bus"}),
        ("unknown", "opposite_end", {"opposite_end", "elsewhere"}),
        ("unknown", "elsewhere", {"elsewhere"}),
    ],
)
def test_all_land_at_one_end_or_elsewhere(place_2: str, place_30: str, possible: set[str]) -> None:
    found = fact("P1", "place_of_parallel_sources", place_2=place_2, place_30=place_30)
    assert {str(each) for each in found.atoms} == possible
    assert not found.absent


def test_setting_of_the_power_controls() -> None:
    """The greater of 200 A and 180 A; none where one of them is not listed or holds nothing."""
    assert fact("P1", "power_control_setting").number == 200
    assert fact("P1", "power_control_setting", listed="no").only_absent
    assert fact("P1", "power_control_setting", setting="none").only_absent
    open_listing = fact("P1", "power_control_setting", listed="unknown")
    assert open_listing.absent
    assert amperes(open_listing) == ["200", "200"]


def test_cures_are_worked_by_numbers() -> None:
    """P1 as drawn: 225 A of bus, 200 A of main, 48 A of output, 260 A in all. Wherever they land a main of 225 A -
    1.25 x 48 A = 165 A would do; with all of them at the end 1.2 x 225 A = 270 A - 60 A = 210 A; the main of 200 A
    leaves (225 A - 200 A) / 1.25 = 20 A of output; at the end a bus of 260 A / 1.2 = 216.7 A, so 217 A, would do. The
    breakers that are drawn are 60 A, 40 A and 60 A.
    """
    assert fact("P1", "bus_protection").number == 200
    assert fact("P1", "main_wherever_they_land").number == 165
    assert fact("P1", "main_opposite_the_inverters").number == 210
    assert fact("P1", "output_that_may_stay").number == 20
    assert fact("P1", "bus_opposite_the_inverters").number == 217
    assert fact("P1", "breakers_drawn").number == 160
    assert fact("P1", "output_that_may_stay_opposite").number == 56


def test_an_inverter_that_alone_has_to_leave_is_named() -> None:
    """270 A at the ends: without INV2 200 A + 1.25 x 32 A = 240 A at the opposite end, without INV1 200 A + 1.25 x 16 A
    = 220 A anywhere. With 60 A of INV1 only without it; with 30 A of INV2, elsewhere, only without INV2. Where INV2 is
    the only one there is no rest.
    """
    assert fact("P1", "inverters_to_take_off").atom == "INV1 or INV2"
    assert fact("P1", "inverters_to_take_off", first="60 A").atom == "INV1"
    assert fact("P1", "inverters_to_take_off", second="30 A").atom == "INV2"
    assert fact("P1", "inverters_to_take_off", first="60 A", second="30 A").only_absent
    assert fact("P2", "inverters_to_take_off").only_absent
    assert fact("P1", "inverters_to_take_off", main="none").undefined
    is_open = fact("P1", "inverters_to_take_off", place_30="unknown", second="30 A")
    assert is_open.covers(fact("P1", "inverters_to_take_off", second="30 A"))
    assert is_open.absent


def test_what_leaves_nothing_is_no_cure() -> None:
    """225 A of bus less 1.25 x (200 A + 16 A) = 270 A leaves no main, and a main of 225 A no output."""
    assert fact("P1", "main_wherever_they_land", first="200 A").only_absent
    assert fact("P1", "main_opposite_the_inverters", first="200 A").only_absent
    assert fact("P1", "output_that_may_stay", main="225 A").only_absent
    assert fact("P1", "output_that_may_stay", main="none").undefined


def test_without_an_inverter_beside_the_utility_there_is_nothing_to_cure() -> None:
    for name in ("main_wherever_they_land", "bus_opposite_the_inverters", "breakers_drawn", "landings"):
        assert fact("P2", name, second_runs_beside="no").only_absent


def test_each_landing_is_told_with_its_way_and_its_place() -> None:
    at_the_end = "at the end of the bus opposite to its main"
    assert fact("P1", "landings").atom == f"INV1 by P1/30, {at_the_end}; INV2 by P1/2, elsewhere on the bus"
    open_place = fact("P1", "landings", place_2="unknown", second_runs_beside="yes")
    assert len(open_place.atoms) == 4
    assert open_place.covers(fact("P1", "landings"))


CURES = (
    "main_wherever_they_land",
    "main_opposite_the_inverters",
    "output_that_may_stay",
    "output_that_may_stay_opposite",
    "bus_opposite_the_inverters",
    "inverters_to_take_off",
)
CURRENTS = st.integers(5, 80)


@settings(max_examples=15, deadline=None)
@given(CURRENTS, CURRENTS, CURRENTS, CURRENTS, st.booleans(), st.sampled_from(["100 A", "200 A"]))
def test_every_completion_lies_within_the_bounds(
    one: int, other: int, first: int, second: int, runs_beside: bool, main: str
) -> None:
    low, high = sorted((one, other))
    inside = min(max(first, low), high)
    open_facts = {"main": "100 A or 200 A", "first": f"{low} A to {high} A", "second_runs_beside": "unknown"}
    filled = {"main": main, "first": f"{inside} A", "second_runs_beside": "yes" if runs_beside else "no"}
    for name in (*CURES, "bus_sum"):
        is_open, is_filled = (fact("P1", name, second=f"{second} A", **each) for each in (open_facts, filled))
        assert is_open.covers(is_filled), name
