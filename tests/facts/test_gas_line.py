"""The gas line: what is asked of each piece of pipe, what it carries, and the size that would."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.tasks.gathering.library import Library
from tests.facts.gas_sites import PIPE, Site, ends, read

INCH = Fraction(1, 12)
NEITHER = (0.0, None)


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


@pytest.fixture
def site(tmp_path: Path, library: Library) -> Site:
    return lambda **but: read(tmp_path, library, but)


@pytest.mark.parametrize("document", ["International Fuel Gas Code", "NFPA 54"])
@pytest.mark.parametrize("edition", ["2018", "2021", "2024"])
def test_one_inch_over_80_ft_carries_220_by_the_printed_table(document: str, edition: str, site: Site) -> None:
    facts = site(document=document, edition=edition)
    assert ends(facts.of("pipe 1", "gas_capacity")) == (220, 220)
    assert ends(facts.of("pipe 1", "gas_capacity_by_branch")) == (220, 220)
    assert ends(facts.of("pipe 1", "gas_demand")) == (327, 327)
    assert ends(facts.of("pipe 1", "size_that_carries"), INCH) == (1.25, 1.25)


def test_the_example_of_the_code(site: Site) -> None:
    """NFPA 54, annex C, example 1, with a set as the last outlet: demands and sizes as printed, but that today's table
    begins with 1/2 in. Where each piece ends is from memory; by the longest length nothing but the 60 ft depends on it.
    """
    runs = {
        "3": ("GM1", "tee 1", 10),
        "1": ("tee 1", "tee 2", 15),
        "2": ("tee 1", "tee 3", 20),
        "A": ("tee 2", "range", 15),
        "B": ("tee 2", "furnace", 15),
        "C": ("tee 3", "water heater", 10),
        "D": ("Tee 3", "GEN1", 30),
    }
    facts = site(
        of_set="fuel: natural_gas, full_load_gas: {natural_gas: 100 cfh}",
        pipes=", ".join(
            f"{{starts_at: {start}, ends_at: {end}, pipe_size: 1/2 in, pipe_material: steel, pipe_length: {feet} ft, "
            "fittings_length: none}"
            for start, end, feet in runs.values()
        ),
        appliances="{name: range, appliance_gas: 35 cfh}, {name: furnace, appliance_gas: 75 cfh}, "
        "{name: water heater, appliance_gas: 35 cfh}",
    )
    found = {
        name: (
            ends(facts.of(f"pipe {place}", "gas_demand"))[0],
            ends(facts.of(f"pipe {place}", "size_that_carries"), INCH)[0],
        )
        for place, name in enumerate(runs, start=1)
    }
    assert found == {
        "3": (245, 1),
        "1": (110, 0.75),
        "2": (135, 0.75),
        "A": (35, 0.5),
        "B": (75, 0.75),
        "C": (35, 0.5),
        "D": (100, 0.75),
    }
    assert {ends(facts.of(f"pipe {place}", "longest_length")) for place in range(1, 8)} == {(60, 60)}
    # A branch is sized for the way to its own most remote end, what all share for the most remote of all (402.4.2).
    branches = [ends(facts.of(f"pipe {place}", "branch_length"))[0] for place in range(1, 8)]
    assert branches == [60, 40, 60, 40, 40, 40, 60]
    leading = [facts.of(f"pipe {place}", "leads_to_a_set").atom for place in range(1, 8)]
    assert leading == [True, False, True, False, False, False, True]
    assert ends(facts.of("GM1", "gas_demand")) == (245, 245)


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(feet=st.lists(st.integers(1, 60), min_size=5, max_size=5))
def test_a_branch_is_sized_for_its_own_most_remote_end(feet: list[int], site: Site) -> None:
    """402.4.1 and 402.4.2: by the longest length every piece counts for the most remote end of all, by branch lengths a
    piece for the most remote end past it, from the meter on; so a branch never asks for more pipe.
    """
    runs = (("GM1", "a"), ("a", "b"), ("a", "c"), ("c", "GEN1"), ("b", "range"))
    pipes = ", ".join(
        f"{{starts_at: {start}, ends_at: {end}, pipe_size: 1 in, pipe_material: steel, pipe_length: {length} ft, "
        "fittings_length: none}"
        for (start, end), length in zip(runs, feet, strict=True)
    )
    facts = site(pipes=pipes, appliances="{name: range, appliance_gas: 35 cfh}")
    first, to_b, to_c, to_set, to_range = feet
    range_end, set_end = first + to_b + to_range, first + to_c + to_set
    longest = max(range_end, set_end)
    wanted = [longest, range_end, set_end, set_end, range_end]
    assert [ends(facts.of(f"pipe {place}", "branch_length"))[0] for place in range(1, 6)] == wanted
    assert {ends(facts.of(f"pipe {place}", "longest_length"))[0] for place in range(1, 6)} == {longest}
    for place in range(1, 6):
        by_longest, by_branch = (
            ends(facts.of(f"pipe {place}", each))[0] for each in ("gas_capacity", "gas_capacity_by_branch")
        )
        assert by_longest is not None
        assert by_branch is not None
        assert by_longest <= by_branch


def test_heat_is_turned_into_cubic_feet(site: Site) -> None:
    """327 000 BTU/h at 1000 BTU/ft3 are 327 ft3/h: the definition of the heating value."""
    of_set = "fuel: natural_gas, full_load_heat: {natural_gas: 327 kBTU/h}"
    assert ends(site(of_set=of_set, of_site=", heating_value: 1000 BTU/ft3").of("GEN1", "gas_demand")) == (327, 327)
    assert ends(site(of_set=of_set).of("GEN1", "gas_demand")) == NEITHER
    between = site(of_set=of_set, of_site=", heating_value: 950 BTU/ft3 to 1090 BTU/ft3")
    assert ends(between.of("GEN1", "gas_demand")) == (300, 344.211)


def test_two_figures_that_do_not_go_together_give_no_answer(site: Site) -> None:
    of_set = "fuel: natural_gas, full_load_gas: {natural_gas: 327 cfh}, full_load_heat: {natural_gas: 400 kBTU/h}"
    facts = site(of_set=of_set, of_site=", heating_value: 1000 BTU/ft3")
    assert "write the heat input alone" in facts.of("GEN1", "gas_demand").undefined[0]
    assert facts.of("pipe 1", "gas_demand").undefined == facts.of("GEN1", "gas_demand").undefined


def test_a_set_on_another_fuel_asks_for_no_natural_gas(site: Site) -> None:
    assert ends(site(of_set="fuel: diesel").of("GM1", "gas_demand")) == (0, 0)
    assert ends(site(of_set="full_load_gas: {natural_gas: 327 cfh}").of("GM1", "gas_demand")) == (0, 327)


def test_a_list_that_is_open_has_no_upper_end(site: Site) -> None:
    facts = site(all_pipes="no", all_appliances="no")
    assert ends(facts.of("pipe 1", "gas_demand")) == (327, None)
    assert ends(facts.of("GM1", "gas_demand")) == (327, None)
    assert ends(facts.of("pipe 1", "gas_capacity")) == (0, 220)
    assert ends(facts.of("pipe 1", "size_that_carries"), INCH) == (1.25, None)


def test_fittings_that_are_not_shown_leave_the_capacity_below_what_the_pipe_alone_would_carry(site: Site) -> None:
    facts = site(pipes=PIPE.replace(", fittings_length: none", ""))
    assert ends(facts.of("pipe 1", "gas_capacity")) == (0, 220)
    counted = site(pipes=PIPE.replace("fittings_length: none", "fittings_length: 20 ft"))
    assert ends(counted.of("pipe 1", "gas_capacity")) == (195, 195)


def test_a_regulator_begins_a_line_of_its_own(site: Site) -> None:
    """At 2 psi 1/2 in carries 615 ft3/h over 60 ft (IFGC 2018, Table 402.4(5)); past it 11 in wc to the set."""
    facts = site(
        of_meter=", gas_pressure: 2 psi, design_pressure_loss: 1 psi",
        more="  R1: {kind: gas_regulator, gas_pressure: 11 in wc, design_pressure_loss: 0.5 in wc}\n",
        pipes="{starts_at: GM1, ends_at: R1, pipe_size: 1/2 in, pipe_material: steel, pipe_length: 60 ft, "
        "fittings_length: none}, {starts_at: R1, ends_at: GEN1, pipe_size: 1-1/4 in, pipe_material: steel, "
        "pipe_length: 10 ft, fittings_length: none}",
    )
    assert ends(facts.of("pipe 1", "longest_length")) == (60, 60)
    assert ends(facts.of("pipe 1", "gas_capacity")) == (615, 615)
    assert ends(facts.of("pipe 1", "gas_demand")) == (327, 327)
    assert ends(facts.of("pipe 2", "longest_length")) == (10, 10)
    assert ends(facts.of("pipe 2", "gas_capacity")) == (1390, 1390)


def test_corrugated_tubing_is_read_by_its_flow_designation(site: Site) -> None:
    """EHD 18 carries 41 ft3/h over 40 ft, the cell of the worked example of the model residential code."""
    tubing = PIPE.replace("pipe_size: 1 in", "flow_designation: 18").replace("steel", "csst").replace("80 ft", "40 ft")
    facts = site(pipes=tubing)
    assert ends(facts.of("pipe 1", "gas_capacity")) == (41, 41)
    # In its place steel: 1-1/4 in carries 657 ft3/h over 40 ft, 1 in carries 320.
    assert ends(facts.of("pipe 1", "size_that_carries"), INCH) == (1.25, 1.25)


def test_copper_tubing_is_read_by_its_nominal_size(site: Site) -> None:
    """1 in of type K or L carries 192 ft3/h over 80 ft (IFGC, Table 402.4(9), from memory); the equation gives 193."""
    facts = site(pipes=PIPE.replace("steel", "copper"))
    assert ends(facts.of("pipe 1", "gas_capacity")) == (192, 192)
    # The set asks for 327 ft3/h: 1-1/2 in steel carries 677 over 80 ft, 1-1/4 in 452, 1 in 220.
    assert ends(facts.of("pipe 1", "size_that_carries"), INCH) == (1.25, 1.25)


def test_copper_tubing_past_the_last_cell_of_its_column_goes_by_the_equation(site: Site) -> None:
    """1/4 in has no cell from 70 ft on: (19.17 x 0.305 (0.5 / (0.6094 x 80))^0.206)^(1 / 0.381) = 8.66 ft3/h."""
    facts = site(pipes=PIPE.replace("steel", "copper").replace("1 in", "1/4 in"))
    low, high = ends(facts.of("pipe 1", "gas_capacity"))
    assert low == high == pytest.approx(8.66, abs=0.01)


def test_propane_at_ten_psi_in_copper(site: Site) -> None:
    """1/2 in carries 1190 MBH over 30 ft at 10 psi with 1 psi lost (IFGC, Table 402.4(29), from memory)."""
    tubing = PIPE.replace("steel", "copper").replace("1 in", "1/2 in").replace("80 ft", "25 ft").replace("GM1", "TANK1")
    facts = site(
        of_set="fuel: propane, full_load_heat: {propane: 300 kBTU/h}",
        more="  TANK1: {kind: fuel_tank, of: GEN1, gas_pressure: 10 psi, design_pressure_loss: 1 psi}\n",
        pipes=tubing,
    )
    assert ends(facts.of("pipe 1", "heat_capacity"), 1000) == (1190, 1190)


def test_for_another_loss_the_equation_answers(site: Site) -> None:
    """At 1 in wc the equation gives 2^(0.206 / 0.381) times what it gives at 0.5 in wc."""
    facts = site(of_meter=", gas_pressure: 11 in wc, design_pressure_loss: 1 in wc")
    low, high = ends(facts.of("pipe 1", "gas_capacity"))
    assert low == high == pytest.approx(221.6 * 2 ** (0.206 / 0.381), rel=0.001)


HIGH = {"of_meter": ", gas_pressure: 5 psi, design_pressure_loss: 1 psi"}


@pytest.mark.parametrize(
    ("but", "said"),
    [
        ({"pipes": PIPE.replace("GM1", "GM2")}, "starts at GM2, which is no gas meter"),
        ({"pipes": PIPE.replace("ends_at: GEN1", "ends_at: GEN2")}, "ends at GEN2, which is no set"),
        ({"pipes": f"{PIPE}, {PIPE}"}, "more than one piece of gas pipe ends at GEN1"),
        ({"pipes": PIPE.replace("steel", "polyethylene")}, "Only Schedule 40 steel"),
        ({"pipes": PIPE.replace("steel", "copper"), **HIGH}, "No table here is made"),
        ({"of_meter": ", gas_pressure: 2 psi, design_pressure_loss: 0.5 in wc"}, "No table here is made"),
    ],
)
def test_what_does_not_hang_together_is_told(but: dict[str, str], said: str, site: Site) -> None:
    assert said in site(**but).of("pipe 1", "gas_capacity").undefined[0]


def test_where_no_fuel_gas_code_is_adopted_there_is_no_capacity(site: Site) -> None:
    facts = site(starts="2099-01-01")
    assert "No document in force" in facts.of("pipe 1", "gas_capacity").undefined[0]
    assert ends(facts.of("pipe 1", "gas_demand")) == (327, 327)


def test_pressure_at_the_set_is_that_at_the_meter_less_what_the_pipe_may_lose(site: Site) -> None:
    facts = site()
    assert ends(facts.of("GEN1", "planned_gas_pressure")) == (6.5, 6.5)
    assert ends(facts.of("GEN1", "planned_pressure_at_rest")) == (7, 7)
    open_loss = site(of_meter=", gas_pressure: 7 in wc, design_pressure_loss: 0.3 in wc to 0.5 in wc")
    assert ends(open_loss.of("GEN1", "planned_gas_pressure")) == (6.5, 6.7)
    assert "no gas pipe to GEN1" in site(pipes="").of("GEN1", "planned_gas_pressure").undefined[0]


PROPANE_SET = "fuel: propane, full_load_heat: {propane: 600 kBTU/h}"
TO_PROPANE = PIPE.replace("GM1", "R1").replace("1 in", "1-1/4 in")
SECOND_STAGE = "  R1: {kind: gas_regulator, gas_pressure: 11 in wc, design_pressure_loss: 0.5 in wc}\n"


def test_a_propane_pipe_is_sized_by_heat_and_not_by_the_shifted_rows_of_the_printed_table(site: Site) -> None:
    """The printed table reads 677 000 BTU/h for 1-1/4 in at 150 ft; the equation of the code bears out 544 000."""
    long = TO_PROPANE.replace("80 ft", "150 ft")
    facts = site(of_set=PROPANE_SET, more=SECOND_STAGE, pipes=long)
    assert facts.of("pipe 1", "piped_gas").atom == "propane"
    assert ends(facts.of("pipe 1", "heat_demand"), 1000) == (600, 600)
    low, high = ends(facts.of("pipe 1", "heat_capacity"), 1000)
    assert low == high == pytest.approx(544, rel=0.01)
    assert ends(facts.of("pipe 1", "size_that_carries"), INCH) == (1.5, 1.5)


def test_propane_in_cubic_feet_is_turned_into_heat(site: Site) -> None:
    """240 ft3/h of 2500 BTU/ft3 are 600 000 BTU/h: the definition of the heating value."""
    of_set = "fuel: propane, full_load_gas: {propane: 240 cfh}"
    facts = site(of_set=of_set, of_site=", heating_value: 2500 BTU/ft3", more=SECOND_STAGE, pipes=TO_PROPANE)
    assert ends(facts.of("GEN1", "heat_demand"), 1000) == (600, 600)
    assert ends(facts.of("GEN1", "gas_demand")) == (0, 0)


def test_a_line_that_does_not_hang_together_still_carries_the_gas_of_the_sets(site: Site) -> None:
    assert site(pipes=PIPE.replace("GM1", "GM2")).of("pipe 1", "piped_gas").atom == "natural_gas"
    assert site(of_set="fuel: diesel").of("pipe 1", "piped_gas").atoms == {"natural_gas", "propane"}
