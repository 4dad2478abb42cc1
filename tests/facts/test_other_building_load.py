"""Lights and receptacles of a garage or a barn count in full beside the load of a dwelling, whatever finds that."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of, view_under

HOUSE = """
site: {{name: Fern House, occupancy: one_family_dwelling, floor_area: 2000 ft2, other_sources: none,
       load_method: {method}, small_appliance_circuits: 2, laundry_circuits: 1, heating_or_cooling_added: {added}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  D1: {{kind: disconnect, role: service_disconnect, rated_current: 200 A, fed_from: UTIL}}
  P1: {{kind: panelboard, fed_from: D1}}
loads:
  complete: yes
  list:
    - {{name: water heater, load_kind: water_heater, load_power: 4500 VA, at: P1}}
{more}"""
BARN = "    - {name: barn, load_kind: other_building, load_power: 3000 VA, at: P1}\n"
CIRCUIT = BARN.replace("other_building", "circuit")
BY_HAND = {
    "standard": 3000 + Fraction(35, 100) * 7500 + 4500,
    "optional": 10_000 + Fraction(40, 100) * 5000,
    "existing_dwelling": 8000 + Fraction(40, 100) * 7000,
    "connected": Fraction(15_000),
}
"""Of the house alone: 6000 VA of lighting, 4500 VA of circuits and the water heater, by the tiers of 220.45, 220.82 and
220.83 of NFPA 70, and in full.
"""


def load(folder: Path, library: Library, method: str, more: str, added: str = "no") -> Possible:
    text = HOUSE.format(method=method, more=more, added=added)
    return fact_of(view_under("nec-2023", text, folder, library), "UTIL", "calculated_load")


def volt_amperes(found: Possible) -> Fraction:
    current = found.number
    assert current is not None, found.undefined
    return Fraction(round(current * 240))


@pytest.mark.parametrize("method", sorted(BY_HAND))
def test_another_building_counts_in_full(method: str, tmp_path: Path, library: Library) -> None:
    assert volt_amperes(load(tmp_path, library, method, "")) == BY_HAND[method]
    assert volt_amperes(load(tmp_path, library, method, BARN)) == BY_HAND[method] + 3000


def test_it_counts_in_full_where_heating_is_added_too(tmp_path: Path, library: Library) -> None:
    with_it = volt_amperes(load(tmp_path, library, "existing_dwelling", BARN, "yes"))
    assert with_it == BY_HAND["existing_dwelling"] + 3000


@pytest.mark.parametrize("method", sorted(BY_HAND.keys() - {"connected"}))
def test_circuits_for_which_the_area_stands_add_nothing_and_the_sheet_says_so(
    method: str, tmp_path: Path, library: Library
) -> None:
    view = view_under("nec-2023", HOUSE.format(method=method, more=CIRCUIT, added="no"), tmp_path, library)
    assert volt_amperes(fact_of(view, "UTIL", "calculated_load")) == BY_HAND[method]
    sheet = view.known(view.ground.drawing.pieces["UTIL"], "calculated_load").worksheet
    assert sheet is not None
    assert any("floor area stands for circuits" in each for each in sheet.assumptions)


def test_with_every_rating_in_full_the_circuits_that_are_listed_count_and_not_the_area(
    tmp_path: Path, library: Library
) -> None:
    two = CIRCUIT + CIRCUIT.replace("name: barn", "name: kitchen")
    assert volt_amperes(load(tmp_path, library, "connected", two)) == 4500 + 2 * 3000


def test_one_circuit_alone_may_be_one_of_those_for_which_the_area_stands(tmp_path: Path, library: Library) -> None:
    hull = load(tmp_path, library, "connected", CIRCUIT).hull
    assert hull is not None
    assert (hull.low, hull.high) == (Fraction(4500 + 3000, 240), BY_HAND["connected"] / 240)


def test_the_canadian_calculation_has_no_place_for_it(tmp_path: Path, library: Library) -> None:
    text = HOUSE.replace("floor_area: 2000 ft2", "living_area: 186 m2, heating_and_cooling_apart: yes")
    text = text.format(method="canadian_dwelling", more=BARN, added="no")
    found = fact_of(view_under("csa-c22-1-2021", text, tmp_path, library), "UTIL", "calculated_load")
    assert "no place for another building" in "".join(found.undefined)
