"""The nearest building and lot line of a tank, from the list of distances in which those of the set stand too."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.gas_sites import ends
from tests.facts.set_sites import site_view

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, fuel: propane}}
  TANK1: {{kind: fuel_tank, of: GEN1{tank}}}
  TANK2: {{kind: fuel_tank, of: GEN1}}
distances:
  complete: {complete}
  list: [{listed}]
"""
HOUSE = "{of: TANK1, to: house, to_kind: building, distance: 26 ft}"
SHED = "{of: TANK1, to: shed wall, to_kind: wall, distance: 12 ft}"
SCHOOL = "{of: TANK1, to: school, to_kind: school, distance: 9 ft}"
LINE = "{of: TANK1, to: west line, to_kind: lot_line, distance: 7 ft}"
FENCE = "{of: TANK1, to: fence, to_kind: fence, distance: 3 ft}"
OF_THE_SET = "{of: GEN1, to: house, to_kind: building, distance: 5 ft}"
OF_THE_OTHER = "{of: TANK2, to: house, to_kind: building, distance: 4 ft}"
SOMETHING = "{of: TANK1, to: cabin, distance: 6 ft}"
OPEN = "{of: TANK1, to: barn, to_kind: building, distance: 8 ft to 20 ft}"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def value(folder: Path, library: Library, fact: str, *listed: str, complete: str = "yes", tank: str = "") -> Possible:
    text = SITE.format(listed=", ".join(listed), complete=complete, tank=tank)
    return site_view(folder, library, text).read(Subject("fuel_tank", "TANK1"), fact)


@pytest.mark.parametrize(
    ("listed", "complete", "low", "high"),
    [
        ([HOUSE], "yes", 26, 26),
        ([HOUSE, SHED], "yes", 12, 12),
        ([HOUSE, SHED, SCHOOL], "yes", 9, 9),
        ([HOUSE, LINE, FENCE, OF_THE_SET, OF_THE_OTHER], "yes", 26, 26),
        ([HOUSE, OPEN], "yes", 8, 20),
        ([SHED, OPEN], "yes", 8, 12),
        ([HOUSE, SOMETHING], "yes", 6, 26),
        ([HOUSE], "no", 0, 26),
        ([HOUSE, OPEN], "no", 0, 20),
        ([], "no", 0, None),
        ([SOMETHING], "no", 0, None),
    ],
)
def test_the_least_of_the_listed_distances_counts(
    listed: list[str], complete: str, low: int, high: int | None, tmp_path: Path, library: Library
) -> None:
    """By hand. A list that is not complete may leave out a building that is nearer."""
    found = value(tmp_path, library, "tank_to_building", *listed, complete=complete)
    assert ends(found) == (low, high)


def test_lot_lines_are_looked_for_alone(tmp_path: Path, library: Library) -> None:
    assert ends(value(tmp_path, library, "tank_to_lot_line", HOUSE, LINE, FENCE)) == (7, 7)


def test_a_complete_list_without_a_building_says_nothing_of_one(tmp_path: Path, library: Library) -> None:
    found = value(tmp_path, library, "tank_to_building", LINE)
    assert found.undefined == ("no distance from TANK1 to a building is listed",)


@pytest.mark.parametrize(
    ("listed", "complete", "low", "high"),
    [
        ([], "no", 26, 26),
        ([LINE], "yes", 26, 26),
        ([HOUSE], "yes", 26, 26),
        ([HOUSE, SHED], "yes", 12, 26),
        ([SHED], "no", 0, 26),
    ],
)
def test_what_is_written_at_the_tank_counts_where_the_list_agrees(
    listed: list[str], complete: str, low: int, high: int, tmp_path: Path, library: Library
) -> None:
    """Where it does not agree both stay possible, and the rule figures-agree asks."""
    found = value(tmp_path, library, "tank_to_building", *listed, complete=complete, tank=", tank_to_building: 26 ft")
    assert ends(found) == (low, high)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    st.lists(
        st.tuples(st.integers(1, 40), st.integers(0, 20), st.sampled_from(["building", "fence", None])), max_size=4
    ),
    st.data(),
)
def test_the_nearest_lies_between_the_ends_however_the_open_ones_are_filled_in(
    tmp_path: Path, library: Library, drawn: list[tuple[int, int, str | None]], data: st.DataObject
) -> None:
    def entry(place: int, span: str, kind: str | None) -> str:
        of_kind = "" if kind is None else f", to_kind: {kind}"
        return f"{{of: TANK1, to: thing {place}{of_kind}, distance: {span}}}"

    listed = [entry(place, f"{low} ft to {low + more} ft", kind) for place, (low, more, kind) in enumerate(drawn)]
    filled = [
        entry(
            place,
            f"{data.draw(st.integers(low, low + more))} ft",
            kind or data.draw(st.sampled_from(["building", "fence"])),
        )
        for place, (low, more, kind) in enumerate(drawn)
    ]
    whole = value(tmp_path, library, "tank_to_building", *filled)
    bounds = value(tmp_path, library, "tank_to_building", *listed)
    assume(not whole.undefined)
    low, high = ends(bounds)
    found, _ = ends(whole)
    assert found is not None
    assert low is not None
    assert low <= found
    assert high is None or found <= high
