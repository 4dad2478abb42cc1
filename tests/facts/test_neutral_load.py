"""The load of the neutral of a line: the examples of annex D, what is not known of a load, and between the ends."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.facts.loads.neutral import Legs, OnNeutral, neutral_ends
from checker.facts.loads.premises import Premises
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, Span, exactly
from checker.values.truth import Truth
from tests.facts.reading import view_under
from tests.facts.set_sites import ends
from tests.facts.test_dwelling_bounds import EDITIONS, OPEN, exact_houses, less_said, standing_rules

HOUSE = """
site: {{name: Fern House, stage: plan_review, occupancy: {occupancy}, floor_area: 1500 ft2, other_sources: none,
       small_appliance_circuits: 2, laundry_circuits: 1, load_method: optional}}
equipment:
  UTIL: {{kind: utility_supply, system: {system}}}
  P1: {{kind: panelboard, fed_from: UTIL, ways: {{1: {{overcurrent: 60 A}}}}}}
  ATS1: {{kind: transfer_switch, normal: P1/1, alternate: GEN1/1, operation: automatic}}
  GEN1: {{kind: generator, system: {system}, ways: {{1: {{overcurrent: 60 A}}}}}}
  P2: {{kind: panelboard, fed_from: ATS1}}
runs:
  UTIL>P1: {{phase: 4 AWG copper, neutral_conductor: {neutral}}}
  GEN1/1>ATS1.alternate: {{phase: 6 AWG copper, neutral_conductor: 8 AWG copper}}
loads:
  complete: {complete}
  list:
{loads}
"""
SPLIT, WYE_LEGS = "120/240 V 1-phase 3-wire", "208Y/120 V 1-phase 3-wire"
RANGE = "{name: range, load_kind: cooking, load_power: 12 kVA, has_neutral: yes, at: P1}"
DRYER = "{name: dryer, load_kind: dryer, load_power: 5500 VA, has_neutral: yes, at: P1}"
WATER_HEATER = (
    "{name: water heater, load_kind: appliance, load_power: 2500 VA, motor_driven: no, connected_to: AB,"
    " has_neutral: no, at: P1}"
)
DISHWASHER = "{name: dishwasher, load_kind: appliance, load_power: 1200 VA, motor_driven: no, connected_to: A, at: P1}"
HEAT = "{name: heat, load_kind: heat, load_power: 9 kVA, own_controls: 5, connected_to: AB, has_neutral: no, at: P1}"
SMALLER_DRYER = DRYER.replace("5500", "5000")


def neutral_of(
    folder: Path,
    library: Library,
    *loads: str,
    line: str = "UTIL>P1",
    system: str = SPLIT,
    occupancy: str = "one_family_dwelling",
    neutral: str = "4 AWG copper",
    complete: str = "yes",
) -> Possible:
    listed = "\n".join(f"    - {each}" for each in loads)
    text = HOUSE.format(system=system, occupancy=occupancy, neutral=neutral, complete=complete, loads=listed)
    return view_under("nec-2020", text, folder, library).read(Subject("connection", line), "neutral_load")


PUBLISHED = [
    # NEC pocket guide of 2005, annex D as excerpted on a book site: D1(a), 14 550 VA; D2(a), 15 400 VA, where the line
    # load is found by the optional method.
    pytest.param([RANGE, DRYER], 14_550, id="D1(a)"),
    pytest.param([RANGE, SMALLER_DRYER, WATER_HEATER, DISHWASHER, HEAT], 15_400, id="D2(a)"),
]


@pytest.mark.parametrize(("loads", "power"), PUBLISHED)
def test_the_houses_of_annex_d(loads: list[str], power: int, tmp_path: Path, library: Library) -> None:
    found = ends(neutral_of(tmp_path, library, *loads))
    assert found == (Fraction(round(power / 2.4), 100),) * 2


def test_a_load_between_legs_of_which_no_neutral_is_said_counts_at_the_most(tmp_path: Path, library: Library) -> None:
    """14 550 VA with the range at 70 % of 8 kVA, 8950 VA without; a circuit or a leg alone settles it."""
    without = RANGE.replace("has_neutral: yes", "connected_to: AB")
    low, high = Fraction("37.29"), Fraction("60.62")
    assert ends(neutral_of(tmp_path, library, without, DRYER)) == (low, high)
    assert ends(neutral_of(tmp_path, library, RANGE.replace("has_neutral: yes, ", ""), DRYER)) == (low, high)
    alone = RANGE.replace("has_neutral: yes", "connected_to: A or B")
    assert ends(neutral_of(tmp_path, library, alone, DRYER)) == (high, high)
    denied = RANGE.replace("has_neutral: yes", "connected_to: AB, has_neutral: no")
    assert ends(neutral_of(tmp_path, library, denied, DRYER)) == (low, low)
    # It has no neutral, and may yet be on a leg alone: the drawing has to say which of both.
    either = RANGE.replace("has_neutral: yes", "connected_to: A or AB, has_neutral: no")
    assert ends(neutral_of(tmp_path, library, either, DRYER)) == (low, high)


def test_on_two_legs_of_a_wye_nothing_is_reduced(tmp_path: Path, library: Library) -> None:
    """5100 VA of lighting and circuits + 8000 + 5500 VA in full; / 240 V (220.61(C))."""
    assert ends(neutral_of(tmp_path, library, RANGE, DRYER, system=WYE_LEGS)) == (Fraction("77.5"),) * 2


def test_a_list_that_is_not_complete_leaves_no_most(tmp_path: Path, library: Library) -> None:
    low, high = ends(neutral_of(tmp_path, library, RANGE, DRYER, complete="no"))
    assert high is None
    assert low is not None
    assert 0 < low <= Fraction("60.62")


KEPT = (
    "{{name: freezer, load_kind: appliance, load_power: 1200 VA, motor_driven: no, connected_to: A, at: P2,"
    " kept_off: {}}}"
)
LIGHTS = "{name: lights, load_kind: circuit, load_power: 4800 VA, at: P2}"


@pytest.mark.parametrize(
    ("kept_off", "amperes"),
    [("none", ("20.12", "25")), ("while_the_set_runs", ("15.12", "20")), ("until_it_fits", ("15.12", "25"))],
)
def test_a_part_of_the_dwelling_on_its_set(
    kept_off: str, amperes: tuple[str, str], tmp_path: Path, library: Library
) -> None:
    """3000 + 35 % of 1800 VA of lighting at the least, 4800 VA at the most, and the freezer as far as it is on the set;
    / 240 V. What load management puts on counts at the most alone.
    """
    found = neutral_of(tmp_path, library, LIGHTS, KEPT.format(kept_off), RANGE, line="GEN1/1>ATS1.alternate")
    assert ends(found) == tuple(map(Fraction, amperes))


@pytest.mark.parametrize(
    "but",
    [
        {"occupancy": "mercantile"},
        {"occupancy": "unknown"},
        {"system": "208Y/120 V 3-phase 4-wire"},
        {"neutral": "unknown"},
        {"line": "P1/1>ATS1.normal", "neutral": "none"},
    ],
    ids=str,
)
def test_where_it_is_not_worked_out_there_is_no_number(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    found = neutral_of(tmp_path, library, RANGE, DRYER, **but)
    assert not found.has_value
    assert len(found.undefined) == 1


def test_the_neutral_carries_what_its_own_size_does(tmp_path: Path, library: Library) -> None:
    """8 AWG copper with THWN-2 at terminals of 75 °C carries 50 A (Table 310.16), beside 6 AWG with 65 A."""
    run = "8 AWG copper THWN-2, terminals: 75 C, ambient: 86 F, above_roof: none, current_carrying: 2"
    text = HOUSE.format(system=SPLIT, occupancy="one_family_dwelling", neutral=run, complete="yes", loads="    []")
    text = text.replace("  list:\n    []", "  list: []")
    view = view_under("nec-2020", text, tmp_path, library)
    assert view.read(Subject("connection", "UTIL>P1"), "neutral_ampacity").number == 50
    none = view.read(Subject("connection", "P1/1>ATS1.normal"), "neutral_ampacity")
    assert not none.has_value


# --- between the ends ------------------------------------------------------------------------------------------------

TRUTHS = (Truth.YES, Truth.NO)


@pytest.fixture(scope="module")
def numbers(library: Library) -> dict[str, NumbersInForce]:
    return {year: standing_rules(library, year) for year in EDITIONS}


@pytest.mark.parametrize("method", ["standard", "connected"])
@given(
    data=st.data(),
    house=st.one_of(exact_houses(), exact_houses(is_part=True)),
    year=st.sampled_from(EDITIONS),
    reduces=st.booleans(),
)
def test_whatever_is_filled_in_lies_between_both_ends(
    method: str, data: st.DataObject, house: Premises, year: str, reduces: bool, numbers: dict[str, NumbersInForce]
) -> None:
    loads = [replace(each, subject=Subject("load", f"load {place}")) for place, each in enumerate(house.loads)]
    exact = replace(house, loads=tuple(loads))
    has = {each.subject: data.draw(st.sampled_from(TRUTHS)) for each in loads}
    legs = Legs(frozenset({reduces}), Span(Fraction(120), Fraction(120)))
    named = exactly(method if house.is_part else "standard")
    finished = neutral_ends(OnNeutral(exact, has), legs, named, numbers[year])
    assert finished.most is not None
    assert finished.least.value == finished.most.value

    less = data.draw(less_said(exact))
    told = {each.subject: data.draw(st.sampled_from((has[each.subject], Truth.UNKNOWN))) for each in less.loads}
    either = frozenset({True, False})
    wide = Legs(data.draw(st.sampled_from((legs.reduces, either))), Span(Fraction(115), Fraction(120)))
    said = data.draw(st.sampled_from((named, exactly("standard").union(named), OPEN))) if house.is_part else named
    ends = neutral_ends(OnNeutral(less, told), wide, said, numbers[year])
    assert ends.least.value <= finished.least.value
    assert ends.most is None or finished.least.value <= ends.most.value
