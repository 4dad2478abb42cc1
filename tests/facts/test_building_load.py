"""The load of a shop on its set: lighting by area or as connected, receptacles and kitchen at their demand."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of, view_under

SHOP = """
site: {{name: Fern Hall, occupancy: {occupancy}, floor_area: 3000 ft2, load_method: {method}, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 208Y/120 V 3-phase 4-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 400 A}}
  GEN1: {{kind: generator, system: 208Y/120 V 3-phase 4-wire}}
  P1: {{kind: panelboard, fed_from: ATS1}}
loads:
  complete: yes
  list:
    - {{name: lights, load_kind: lighting, load_power: 8500 VA, at: P1}}
    - {{name: outlets, load_kind: receptacles, load_power: 14400 VA, at: P1}}
    - {{name: sign, load_kind: sign, load_power: 600 VA, at: P1}}
    - {{name: oven, load_kind: kitchen, load_power: 12 kVA, at: P1}}
    - {{name: fryer, load_kind: kitchen, load_power: 9 kVA, at: P1}}
    - {{name: dishwasher, load_kind: kitchen, load_power: 6 kVA, at: P1}}
    - {{name: cold store, load_kind: appliance, load_power: 4 kVA, motor_driven: yes, at: P1}}
    - {{name: air conditioner, load_kind: cooling, load_power: 10 kVA, at: P1}}
    - {{name: heater, load_kind: heat, load_power: 7 kVA, own_controls: 0, at: P1}}
"""
LINE = 208 * 3**0.5


def load(
    folder: Path, library: Library, year: str = "2017", occupancy: str = "mercantile", method: str = "standard"
) -> Possible:
    text = SHOP.format(occupancy=occupancy, method=method)
    return fact_of(view_under(f"nec-{year}", text, folder, library), "GEN1", "automatic_load")


def amperes(found: Possible) -> float:
    assert found.number is not None
    return float(found.number)


def test_every_part_counts_by_its_own_rule(tmp_path: Path, library: Library) -> None:
    """Lighting 3000 x 3 VA, receptacles 10 000 + 4400 / 2, sign at least 1200, kitchen 90 % of 27 000 for three units,
    cooling 10 000 before heat, cold store 4000, and a quarter of the largest motor, which is the cooling.
    """
    by_hand = 9000 + 12_200 + 1200 + 24_300 + 10_000 + 4000 + 2500
    assert amperes(load(tmp_path, library)) == pytest.approx(by_hand / LINE, rel=1e-8)


def test_lighting_that_is_connected_counts_where_it_is_more_than_that_of_the_area(
    tmp_path: Path, library: Library
) -> None:
    """1.9 VA for a square foot from the 2020 edition on: 5700 VA, less than the 8500 VA that are connected."""
    by_hand = 8500 + 12_200 + 1200 + 24_300 + 10_000 + 4000 + 2500
    assert amperes(load(tmp_path, library, "2020")) == pytest.approx(by_hand / LINE, rel=1e-8)


def test_every_rating_in_full_takes_no_demand(tmp_path: Path, library: Library) -> None:
    by_hand = 8500 + 14_400 + 600 + 27_000 + 10_000 + 4000 + 2500
    assert amperes(load(tmp_path, library, method="connected")) == pytest.approx(by_hand / LINE, rel=1e-8)


@pytest.mark.parametrize(
    ("but", "words"),
    [
        ({"occupancy": "assembly"}, "not one number in the table"),
        ({"occupancy": "multifamily_dwelling"}, "several dwellings"),
        ({"occupancy": "unknown"}, "use is not shown"),
        ({"method": "optional"}, "for a dwelling"),
    ],
)
def test_where_it_does_not_hold_there_is_no_number(
    but: dict[str, str], words: str, tmp_path: Path, library: Library
) -> None:
    found = load(tmp_path, library, **but)
    assert not found.has_value
    assert words in "".join(found.undefined)
