"""What hangs on each overcurrent device between a set and several switches, worked by hand.

Lighting, circuits and demand as in the standard calculation (NFPA 70, 220.41, 220.45, 220.50, 220.53; 220.12, 220.42,
220.50, 220.53 before): 3 VA a square foot, 1500 VA a circuit, 3000 VA in full and 35 % of what is above.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.facts.view import View
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import ABSENT, Possible
from tests.facts.reading import fact_of, view_under

SITE = """
site: {{name: Fern Double, occupancy: {occupancy}, floor_area: 2300 ft2, small_appliance_circuits: 2,
       laundry_circuits: 1, load_method: {method}, other_sources: none, complete: [load_manager]}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  M1: {{kind: meter, fed_from: UTIL}}
  ATS_A: {{kind: transfer_switch, normal: M1, alternate: {a}, operation: automatic, rated_current: 200 A{units_a}}}
  ATS_B: {{kind: transfer_switch, normal: M1, alternate: {b}, operation: {operation}, rated_current: 200 A{units_b}}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire}}
  PA: {{kind: panelboard, fed_from: ATS_A}}
  PB: {{kind: panelboard, fed_from: ATS_B}}
{pieces}loads:
  complete: yes
  list:
    - {{name: dishwasher, load_kind: appliance, motor_driven: no, load_power: 1200 VA, at: PA, serves: {serves}}}
    - {{name: blower, load_kind: appliance, motor_driven: no, load_power: 600 VA, at: PA, serves: one_dwelling_unit}}
    - {{name: oven, load_kind: appliance, motor_driven: no, load_power: 1200 VA, at: PA, serves: one_dwelling_unit}}
    - {{name: sump pump, load_kind: appliance, motor_driven: no, load_power: 900 VA, at: PA, serves: house}}
    - {{name: cooler, load_kind: cooling, load_power: 2880 VA, at: PA, serves: one_dwelling_unit}}
    - {{name: dryer, load_kind: dryer, load_power: 5000 VA, at: PA, serves: one_dwelling_unit, kept_off: {kept_off}}}
    - {{name: cooler B, load_kind: cooling, load_power: 2880 VA, at: PB, serves: one_dwelling_unit}}
"""
BASE = {
    "occupancy": "two_family_dwelling",
    "method": "standard",
    "a": "GEN1/1",
    "b": "GEN1/2",
    "units_a": ", dwelling_units_fed: 1",
    "units_b": ", dwelling_units_fed: 1",
    "operation": "automatic",
    "pieces": "",
    "serves": "one_dwelling_unit",
    "kept_off": "none",
}
OF_A = Fraction(3, 4) * 3900 + 2880 + 720 + 5000
"""Four appliances at 75 %, the cooler and a quarter of its motor, a dryer."""
COOLER = Fraction(2880 + 720)
LINE_A, LINE_B = "GEN1/1>ATS_A.alternate", "GEN1/2>ATS_B.alternate"
TO_A, TO_B = "GEN1/1>ATS_A.alternate", "GEN1/1>ATS_B.alternate"
BOARD = (
    "  DPG: {kind: panelboard, fed_from: GEN1/1, ways: {main: {overcurrent: none}, "
    "1: {overcurrent: 60 A}, 2: {overcurrent: 60 A}}}\n"
)


def lighting(area: int, circuits: int) -> Fraction:
    """The demand of lighting and circuits in VA."""
    together = Fraction(3 * area + 1500 * circuits)
    return min(together, Fraction(3000)) + Fraction(35, 100) * max(together - 3000, Fraction(0))


def seen(folder: Path, library: Library, **but: str) -> View:
    return view_under("nec-2023", SITE.format(**{**BASE, **but}), folder, library)


def on(view: View, line: str) -> Possible:
    return view.read(Subject("connection", line), "load_on_its_device")


def ends(found: Possible) -> tuple[Fraction | None, Fraction | None]:
    """The least and the most in VA."""
    hull = found.hull
    assert hull is not None, found.undefined
    low, high = (None if each is None else Fraction(round(each * 240 * 10), 10) for each in (hull.low, hull.high))
    return low, high


def test_while_one_switch_may_not_be_automatic_there_may_be_no_part_to_tell(tmp_path: Path, library: Library) -> None:
    """With one automatic switch alone the load of the set is that of the switch, and another rule holds it."""
    assert on(seen(tmp_path, library, operation="manual"), LINE_A) == ABSENT
    found = on(seen(tmp_path, library, operation="unknown"), LINE_A)
    assert found.absent
    assert ends(found) == (Fraction(0), None)


def test_each_of_two_breakers_has_the_load_of_its_unit(tmp_path: Path, library: Library) -> None:
    """Half of the area, which is 67.7 A for unit A, lies between none of it and all of it: 62.7 A and 72.8 A."""
    view = seen(tmp_path, library)
    assert ends(on(view, LINE_A)) == (lighting(0, 3) + OF_A, lighting(2300, 3) + OF_A)
    assert ends(on(view, LINE_B)) == (lighting(0, 3) + COOLER, lighting(2300, 3) + COOLER)
    half = (lighting(1150, 3) + OF_A) / 240
    assert round(half, 1) == Fraction(677, 10)
    found = on(view, LINE_A).hull
    assert found is not None
    assert found.low is not None
    assert found.high is not None
    assert 60 < found.low < half < found.high


def test_while_it_is_not_said_what_a_switch_feeds_no_circuit_is_sure(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, units_a="", units_b="")
    assert ends(on(view, LINE_A)) == (OF_A, lighting(2300, 6) + OF_A)


def test_what_each_unit_has_counts_in_each_wherever_it_is_listed(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, serves="each_dwelling_unit")
    assert ends(on(view, LINE_A)) == (lighting(0, 3) + OF_A, lighting(2300, 3) + OF_A)
    assert ends(on(view, LINE_B)) == (lighting(0, 3) + COOLER + 1200, lighting(2300, 3) + COOLER + 1200)


def test_of_one_dwelling_a_part_may_have_all_of_its_area_or_none(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, occupancy="one_family_dwelling")
    assert ends(on(view, LINE_A)) == (OF_A, lighting(2300, 3) + OF_A)
    in_full = Fraction(3900 + 2880 + 720 + 5000)
    unnamed = seen(tmp_path, library, occupancy="one_family_dwelling", method="unknown")
    assert ends(on(unnamed, LINE_A)) == (OF_A, Fraction(3 * 2300 + 3 * 1500) + in_full)


@pytest.mark.parametrize("method", ["optional", "existing_dwelling"])
def test_a_part_has_the_demand_of_the_standard_calculation_where_one_of_the_whole_is_named(
    method: str, tmp_path: Path, library: Library
) -> None:
    """220.82 and 220.83 are for the whole of a dwelling; a part of it has the demand factors of 220.42 and 220.53."""
    view = seen(tmp_path, library, occupancy="one_family_dwelling", method=method)
    assert ends(on(view, LINE_A)) == (OF_A, lighting(2300, 3) + OF_A)
    sheet = view.known(Subject("connection", LINE_A), "load_on_its_device").worksheet
    assert sheet is not None
    assert sheet.id == "ATS_A.load_put_on_the_set", (
        "what compares the load of the line is told at the load of the switch"
    )
    assert "for a whole dwelling" in sheet.limits


def test_one_breaker_to_all_switches_has_the_load_of_the_set(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, b="GEN1/1")
    assert on(view, TO_A) == fact_of(view, "GEN1", "automatic_load")
    assert on(view, TO_B) == ABSENT, "the device is looked at once"


def test_a_board_between_set_and_switches(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, a="DPG/1", b="DPG/2", pieces=BOARD)
    assert on(view, "GEN1/1>DPG") == fact_of(view, "GEN1", "automatic_load")
    assert ends(on(view, "DPG/1>ATS_A.alternate")) == (lighting(0, 3) + OF_A, lighting(2300, 3) + OF_A)
    assert ends(on(view, "DPG/2>ATS_B.alternate"))[0] == lighting(0, 3) + COOLER


def test_other_lines_have_none(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library)
    for line in ("UTIL>M1", "M1>ATS_A.normal", "ATS_A>PA"):
        assert on(view, line) == ABSENT
    assert on(seen(tmp_path, library, operation="manual"), LINE_A) == ABSENT, "one automatic switch alone"
    second = "  GEN2: {kind: generator}\n" + BOARD.replace("GEN1/1", "{1: GEN1/1, 2: GEN2/1}")
    two_sets = seen(tmp_path, library, a="DPG/3", b="DPG/4", pieces=second)
    assert on(two_sets, "DPG/3>ATS_A.alternate") == ABSENT, "two sets share it"


def test_what_load_management_keeps_off(tmp_path: Path, library: Library) -> None:
    off = seen(tmp_path, library, kept_off="while_the_set_runs")
    assert ends(on(off, LINE_A))[0] == lighting(0, 3) + OF_A - 5000
    low, _ = ends(on(seen(tmp_path, library, kept_off="until_it_fits"), LINE_A))
    assert low is not None
    assert low <= lighting(0, 3) + OF_A - 5000


@pytest.mark.parametrize(
    ("but", "words"),
    [
        ({"occupancy": "multifamily_dwelling"}, "has to be stated"),
        ({"method": "measured_demand"}, "has to be stated"),
        ({"operation": "unknown"}, "how each switch"),
        ({"operation": "manual"}, "the only automatic switch"),
        ({"a": "GEN2/1", "pieces": "  GEN2: {kind: generator}\n"}, "the only automatic switch"),
    ],
)
def test_where_it_is_not_worked_out(but: dict[str, str], words: str, tmp_path: Path, library: Library) -> None:
    assert words in "".join(fact_of(seen(tmp_path, library, **but), "ATS_A", "load_put_on_the_set").undefined)


def test_what_is_stated_of_a_switch_counts(tmp_path: Path, library: Library) -> None:
    said = ", dwelling_units_fed: 1, load_put_on_the_set: 55 A"
    view = seen(tmp_path, library, occupancy="multifamily_dwelling", units_a=said)
    assert on(view, LINE_A).number == 55


def test_two_of_three_switches_on_one_breaker(tmp_path: Path, library: Library) -> None:
    """No less than the larger of the two, no more than both together."""
    third = (
        "  ATS_C: {kind: transfer_switch, normal: M1, alternate: GEN1/1, operation: automatic, rated_current: 200 A,\n"
        "          load_put_on_the_set: 25 A}\n"
    )
    low, high = ends(on(seen(tmp_path, library, pieces=third), LINE_A))
    assert (low, high) == (lighting(0, 3) + OF_A, lighting(2300, 3) + OF_A + 25 * 240)
