"""Ground-fault protection of which nothing, or nothing certain, is written."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.values.possible import exactly, one_of
from tests.one_line.plan import Plan
from tests.one_line.sheet import view

FACTS = ("ground_fault_sensing_defeated", "trips_for_fault_of_set")
LINES = (("UTIL", "D1", "fed_from"), ("D1", "ATS1", "normal"), ("GEN1", "ATS1", "alternate"))
KINDS = {"UTIL": "utility_supply", "D1": "disconnect", "ATS1": "transfer_switch", "GEN1": "generator"}
WYE = {"system": "480Y/277 V 3-phase 4-wire"}


def plan(neutral: str, **of_disconnect: str) -> Plan:
    """A service, a switch and a bonded set."""
    facts = {
        "UTIL": WYE,
        "GEN1": WYE,
        "ATS1": {"neutral": neutral},
        "D1": {"role": "service_disconnect", **of_disconnect},
    }
    return Plan.of_lines(KINDS, LINES, facts, ("D1", "GEN1"))


@pytest.mark.parametrize("fact", FACTS)
def test_where_there_is_no_protection_nothing_defeats_it(folder: Path, fact: str) -> None:
    seen = view(plan("solid", ground_fault_protection="none").site(folder))
    assert seen.read(seen.ground.drawing.pieces["D1"], fact) == exactly(False)


@pytest.mark.parametrize("fact", FACTS)
def test_where_nobody_says_whether_there_is_protection_both_is_possible(folder: Path, fact: str) -> None:
    seen = view(plan("solid").site(folder))
    assert seen.read(seen.ground.drawing.pieces["D1"], fact) == one_of((True, False))


@pytest.mark.parametrize("fact", FACTS)
def test_behind_four_poles_nobody_need_say_whether_there_is_protection(folder: Path, fact: str) -> None:
    seen = view(plan("switched").site(folder))
    assert seen.read(seen.ground.drawing.pieces["D1"], fact) == exactly(False)


@pytest.mark.parametrize("fact", FACTS)
def test_a_neutral_that_is_not_known_decides_nothing(folder: Path, fact: str) -> None:
    seen = view(plan("solid or switched", ground_fault_protection="{sensor: residual}").site(folder))
    known = seen.known(seen.ground.drawing.pieces["D1"], fact)
    assert known.value == one_of((True, False))
    assert known.state is None


def test_the_state_that_defeats_a_sensor_names_positions_where_they_matter(folder: Path) -> None:
    lines = (*LINES, ("ATS1", "P1", "fed_from"))
    facts = plan("switched", ground_fault_protection="{sensor: residual}").facts
    bonded = Plan.of_lines({**KINDS, "P1": "panelboard"}, lines, facts, ("D1", "GEN1", "P1"))
    seen = view(bonded.site(folder))
    known = seen.known(seen.ground.drawing.pieces["D1"], "ground_fault_sensing_defeated")
    assert (known.value, known.state) == (exactly(True), "ATS1 on normal: D1, ATS1, P1")


# --- drawings on which one thing alone decides -----------------------------------------------------------------------

RESIDUAL, AT_THE_JUMPER = "{sensor: residual}", "{sensor: ground_return}"
TWO_SWITCHES = {
    "UTIL": "utility_supply",
    "D1": "disconnect",
    "D2": "disconnect",
    "GEN1": "generator",
    "ATS1": "transfer_switch",
    "ATS2": "transfer_switch",
}


def answers(folder: Path, drawn: Plan, tag: str) -> list[object]:
    """Whether the sensor is defeated, and whether it has the fault current of a set in it."""
    seen = view(drawn.site(folder))
    return [seen.read(seen.ground.drawing.pieces[tag], fact).atom for fact in FACTS]


def test_two_bonds_of_one_service_are_one_place(folder: Path) -> None:
    """NFPA 70 250.142(A): ahead of the service disconnect the neutral may be bonded again."""
    kinds = {"UTIL": "utility_supply", "D0": "disconnect", "D1": "disconnect"}
    facts = {"UTIL": WYE, "D0": {"role": "emergency_disconnect"}}
    facts["D1"] = {"role": "service_disconnect", "ground_fault_protection": AT_THE_JUMPER}
    lines = (("UTIL", "D0", "fed_from"), ("D0", "D1", "fed_from"))
    assert answers(folder, Plan.of_lines(kinds, lines, facts, ("D0", "D1")), "D1") == [False, False]


def test_a_bond_in_a_switch_that_carries_no_neutral_is_not_reached(folder: Path) -> None:
    drawn = plan("not_carried", ground_fault_protection=RESIDUAL)
    bonded = Plan.of_lines(KINDS, LINES, drawn.facts, ("D1", "ATS1"))
    assert answers(folder, bonded, "D1") == [False, False]


def test_a_ring_brings_the_own_bond_to_the_load_side(folder: Path) -> None:
    lines = (
        *(("UTIL", "D1", "fed_from"), ("UTIL", "D2", "fed_from"), ("D1", "ATS1", "normal"), ("D2", "ATS2", "normal")),
        *(("GEN1", "ATS1", "alternate"), ("GEN1", "ATS2", "alternate")),
    )
    facts = {tag: {"neutral": "solid"} for tag in ("ATS1", "ATS2")} | {"UTIL": WYE, "GEN1": WYE}
    facts["D1"] = {"role": "service_disconnect", "ground_fault_protection": RESIDUAL}
    assert answers(folder, Plan.of_lines(TWO_SWITCHES, lines, facts, ("D1",)), "D1") == [True, True]


def test_round_a_ring_to_its_own_bond_no_fault_current_of_a_set_flows(folder: Path) -> None:
    lines = (
        *(("UTIL", "D1", "fed_from"), ("D1", "ATS1", "normal"), ("D1", "ATS2", "normal")),
        *(("GEN1", "ATS1", "alternate"), ("GEN1", "ATS2", "alternate")),
    )
    kinds = {tag: kind for tag, kind in TWO_SWITCHES.items() if tag != "D2"}
    facts = {"UTIL": WYE, "GEN1": WYE, "D1": {"role": "service_disconnect"}, "ATS1": {"neutral": "solid"}}
    facts["ATS2"] = {"neutral": "solid", "ground_fault_protection": RESIDUAL}
    assert answers(folder, Plan.of_lines(kinds, lines, facts, ("GEN1",)), "ATS2") == [True, False]


def test_a_set_comes_to_the_jumper_of_a_switch_round_by_its_load(folder: Path) -> None:
    """The switch opens the neutral of the service, but its panel is fed from ahead of it as well."""
    kinds = {"UTIL": "utility_supply", "M1": "meter", "D2": "disconnect", "ATS1": "transfer_switch"}
    kinds |= {"GEN1": "generator", "P1": "panelboard"}
    lines = (
        *(("UTIL", "M1", "fed_from"), ("M1", "ATS1", "normal"), ("GEN1", "ATS1", "alternate")),
        *(("M1", "D2", "fed_from"), ("ATS1", "P1", "main"), ("D2", "P1", "in1")),
    )
    facts = {"UTIL": WYE, "GEN1": WYE, "D2": {"role": "emergency_disconnect"}}
    facts["ATS1"] = {"neutral": "switched", "role": "service_disconnect", "ground_fault_protection": AT_THE_JUMPER}
    assert answers(folder, Plan.of_lines(kinds, lines, facts, ("ATS1",)), "ATS1") == [False, True]
