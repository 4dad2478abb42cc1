"""The load of a dwelling on its set, from the floor area and the loads: exact, open at one end, or not at all."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of, view_under

HOUSE = """
site: {{name: Fern House, stage: plan_review, occupancy: {occupancy}, floor_area: {area}, other_sources: none,
       small_appliance_circuits: 2, laundry_circuits: 1{site}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: {operation}, rated_current: {rated}}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire{stated}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
{more}loads:
  complete: {complete}
  list:
    - {{name: kitchen, load_kind: appliance, load_power: 7086 VA, motor_driven: {motor}, at: P1}}
    - {{name: air conditioner, load_kind: {kind}, load_power: {power}, at: P1}}
"""
BASE = {
    "occupancy": "one_family_dwelling",
    "area": "1950 ft2",
    "operation": "automatic",
    "rated": "200 A",
    "stated": "",
    "more": "",
    "complete": "yes",
    "kind": "cooling",
    "power": "3600 VA",
    "motor": "unknown",
    "site": "",
}
LEAST, EXACT = Fraction("54.06"), Fraction("69.06")
PART = Fraction("48.28")
"""Without and with 3600 VA of cooling at 240 V: (10 000 + 0.4 x (5850 + 4500 + 7086 - 10 000) [+ 3600]) / 240."""


def load(folder: Path, library: Library, profile: str = "nec-2020", **but: str) -> Possible:
    """What is possible for the automatic load of GEN1."""
    text = HOUSE.format(**{**BASE, **but})
    return fact_of(view_under(profile, text, folder, library), "GEN1", "automatic_load")


def ends(value: Possible) -> tuple[Fraction | None, Fraction | None]:
    """Both ends in amperes to two decimals."""
    hull = value.hull
    assert hull is not None
    low, high = (None if end is None else Fraction(round(end * 100), 100) for end in (hull.low, hull.high))
    return low, high


@pytest.mark.parametrize(("profile", "amperes"), [("nec-2017", "69.06"), ("nec-2023", "69.06"), ("nec-2026", "60.81")])
def test_everything_given_is_one_number_by_the_edition(
    profile: str, amperes: str, tmp_path: Path, library: Library
) -> None:
    """By 220.82 of 2017 to 2023; 2026 counts 2 VA of each square foot and 8 kVA in full (120.82):
    (8000 + 0.4 x (3900 + 4500 + 7086 - 8000) + 3600) / 240 = 60.81 A. Worked by hand.
    """
    assert ends(load(tmp_path, library, profile)) == (Fraction(amperes), Fraction(amperes))


@pytest.mark.parametrize(
    "but",
    [{"complete": "no"}, {"power": "at least 3600 VA"}, {"kind": "unknown"}, {"area": "unknown"}],
    ids=lambda but: next(iter(but)),
)
def test_what_is_open_leaves_no_upper_end(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    low, high = ends(load(tmp_path, library, **but))
    assert high is None
    assert low is not None
    assert low <= EXACT


def test_a_rating_between_two_ends_gives_both(tmp_path: Path, library: Library) -> None:
    assert ends(load(tmp_path, library, power="1 VA to 3600 VA")) == (LEAST, EXACT)


@pytest.mark.parametrize(
    "but",
    [
        {"operation": "manual"},
        {"operation": "unknown"},
    ],
)
def test_where_the_calculation_does_not_hold_there_is_no_number(
    but: dict[str, str], tmp_path: Path, library: Library
) -> None:
    found = load(tmp_path, library, **but)
    assert not found.has_value
    assert len(found.undefined) == 1


def test_below_the_least_rating_the_standard_calculation_counts(tmp_path: Path, library: Library) -> None:
    """3000 + 0.35 x (5850 + 4500 - 3000) + 7086 + 3600 + a quarter of the larger motor, 3600 VA; / 240 V."""
    standard = Fraction("71.49")
    found = ends(load(tmp_path, library, rated="60 A", motor="no"))
    assert found == (standard, standard)
    assert ends(load(tmp_path, library, rated="unknown", motor="no")) == (EXACT, standard)


def test_a_part_of_the_dwelling_is_what_stands_at_its_boards(tmp_path: Path, library: Library) -> None:
    """7086 + 3600 VA + a quarter of 3600 VA, or of 7086 VA where that may be a motor; nothing from the floor area."""
    elsewhere = "  P2: {kind: panelboard, fed_from: UTIL}\n"
    assert ends(load(tmp_path, library, more=elsewhere, motor="no")) == (PART, PART)
    assert ends(load(tmp_path, library, more=elsewhere)) == (PART, Fraction("51.91"))
    nothing = "  P2: {kind: panelboard, fed_from: ATS1}\n  P3: {kind: panelboard, fed_from: UTIL}\n"
    assert ends(load(tmp_path, library, more=nothing, motor="no")) == (PART, PART)


def test_a_stated_load_that_differs_leaves_both(tmp_path: Path, library: Library) -> None:
    assert ends(load(tmp_path, library, stated=", automatic_load: 69.1 A")) == (Fraction("69.1"), Fraction("69.1"))
    assert ends(load(tmp_path, library, stated=", automatic_load: 50 A")) == (Fraction(50), EXACT)


@pytest.mark.parametrize("method", ["standard", "optional", "existing_dwelling", "unknown"])
def test_a_farm_building_does_not_count_by_the_factors_of_a_dwelling(
    method: str, tmp_path: Path, library: Library
) -> None:
    """Farm loads have a table of their own (NFPA 70 article 220 part V, from memory); the dwelling is added to it."""
    found = load(tmp_path, library, site=f", agricultural_building: yes, load_method: {method}")
    assert "Farm loads are not computed here" in "".join(found.undefined)
    assert not load(tmp_path, library, site=f", agricultural_building: no, load_method: {method}").undefined


def test_every_rating_of_a_farm_in_full_holds_as_a_bound(tmp_path: Path, library: Library) -> None:
    on_a_farm = load(tmp_path, library, site=", agricultural_building: yes, load_method: connected", motor="no")
    assert on_a_farm == load(tmp_path, library, site=", load_method: connected", motor="no")
    assert ends(on_a_farm)[1] == Fraction(round(Fraction(1950 * 3 + 4500 + 7086 + 3600 + 900, 240) * 100), 100)


PART_OF_A_FARM = "  PBARN: {kind: panelboard, fed_from: UTIL}\n"


def test_a_part_with_no_load_of_another_building_is_the_dwellings_own(tmp_path: Path, library: Library) -> None:
    but = {"more": PART_OF_A_FARM, "motor": "no"}
    farm = ", agricultural_building: yes, load_method: standard"
    found = load(tmp_path, library, site=farm, **but)
    assert ends(found)[1] == Fraction(round(Fraction(7086 + 3600 + 900, 240) * 100), 100)
    barn = load(tmp_path, library, site=farm, kind="other_building", **but)
    assert "Farm loads are not computed here" in "".join(barn.undefined)
