"""Every rating of a dwelling in full: by the circuits that are listed, or by the floor area where none is."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of, view_under

SITE = """
site: {{name: Fern Farm, occupancy: one_family_dwelling, other_sources: none, load_method: connected,
       small_appliance_circuits: 2, laundry_circuits: 1{area}}}
equipment:
  UTIL: {{kind: utility_supply, system: 208Y/120 V 3-phase 4-wire}}
  P1: {{kind: panelboard, fed_from: UTIL}}
loads:
  complete: {complete}
  list:
    - {{name: pump, load_kind: appliance, motor_driven: yes, load_power: 34 kVA, at: P1}}
{circuits}"""
CIRCUITS = (
    "    - {name: house, load_kind: circuit, load_power: 22 kVA, at: P1}\n"
    "    - {name: barn, load_kind: circuit, load_power: 9 kVA, at: P1}\n"
)
PUMP = Fraction(34_000) * Fraction(125, 100)
"""With a quarter more as the largest motor (NFPA 70, 430.24)."""


def ends(
    folder: Path, library: Library, *, area: str = "", complete: str = "yes", circuits: str = ""
) -> tuple[Fraction | None, Fraction | None]:
    """The least and the most in VA: of three phases a power is 208 V times the square root of 3 times the current."""
    view = view_under("nec-2023", SITE.format(area=area, complete=complete, circuits=circuits), folder, library)
    found: Possible = fact_of(view, "UTIL", "calculated_load")
    hull = found.hull
    assert hull is not None, found.undefined
    power = (None if each is None else Fraction(round(float(each) * 208 * 3**0.5, 1)) for each in (hull.low, hull.high))
    low, high = power
    return low, high


def test_circuits_that_are_listed_are_what_there_is(tmp_path: Path, library: Library) -> None:
    """22 + 9 + 34 kVA and a quarter of the pump are 73,500 VA, 204 A, whatever the floor area is."""
    for area in ("", ", floor_area: 2000 ft2"):
        assert ends(tmp_path, library, area=area, circuits=CIRCUITS) == (31_000 + PUMP, 31_000 + PUMP)


def test_without_circuits_the_floor_area_stands_for_them(tmp_path: Path, library: Library) -> None:
    by_area = 3 * 2000 + 3 * 1500 + PUMP
    assert ends(tmp_path, library, area=", floor_area: 2000 ft2") == (by_area, by_area)


def test_while_circuits_may_yet_be_listed_either_can_hold(tmp_path: Path, library: Library) -> None:
    assert ends(tmp_path, library, area=", floor_area: 2000 ft2", complete="no") == (PUMP, None)


def test_one_circuit_alone_does_not_leave_the_floor_area_out(tmp_path: Path, library: Library) -> None:
    """It may be one of those for which the area stands: 9,000 VA by the list, 6,000 + 4,500 VA by the area."""
    one = CIRCUITS.splitlines(keepends=True)[1]
    by_area = 3 * 2000 + 3 * 1500 + PUMP
    assert ends(tmp_path, library, area=", floor_area: 2000 ft2", circuits=one) == (9_000 + PUMP, by_area)
    assert ends(tmp_path, library, circuits=one)[1] is None, "the area is not shown"


def test_circuits_of_a_list_that_may_go_on_have_no_most(tmp_path: Path, library: Library) -> None:
    low, high = ends(tmp_path, library, area=", floor_area: 2000 ft2", complete="no", circuits=CIRCUITS)
    assert low is not None
    assert low <= 31_000 + PUMP
    assert high is None
