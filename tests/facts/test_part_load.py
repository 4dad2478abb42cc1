"""What a diesel set burns at the load that is put on it, and how long its tank then lasts."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.facts.view import View
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of
from tests.facts.set_sites import ends, site_view

F = Fraction
SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none{complete}}}
equipment:
  UTIL: {{kind: utility_supply, system: 240/120 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, system: {system}, fuel: {fuel}, rated_power: {{diesel: 100 kW}}, power_factor: "0.8",
         automatic_load: {load}, full_load_fuel: {full}, part_load_fuel: {part}}}
  TANK1: {{kind: fuel_tank, of: GEN1, usable_fuel: 100 gal}}
{more}"""
BASE = {
    "complete": ", complete: [load_manager]",
    "system": "120/240 V 1-phase 3-wire",
    "fuel": "diesel",
    "load": "260.416667 A",
    "full": "7.4 gal/h",
    "part": "{quarter: 2.6 gal/h, half: 4.1 gal/h, three_quarters: 5.8 gal/h}",
    "more": "",
}
HOUR = 3600


def site(folder: Path, library: Library, **but: str) -> View:
    return site_view(folder, library, SITE.format(**{**BASE, **but}))


def burnt(folder: Path, library: Library, **but: str) -> Possible:
    return fact_of(site(folder, library, **but), "GEN1", "fuel_at_its_load")


@pytest.mark.parametrize(
    ("but", "low", "high"),
    [
        ({}, "4.95", "4.95"),
        # 208.3 A x 240 V = 50 kW: a point of the sheet.
        ({"load": "208.333333 A"}, "4.1", "4.1"),
        # Below the first point the fuel there counts.
        ({"load": "10 A"}, "2.6", "2.6"),
        # More than the rating is never carried.
        ({"load": "600 A"}, "7.4", "7.4"),
        ({"load": "208.333333 A to 312.5 A"}, "4.1", "5.8"),
        ({"load": "unknown"}, "2.6", "7.4"),
        # The load by three phases: sqrt 3 x 480 V x 75.17 A = 62.5 kW.
        ({"system": "480Y/277 V 3-phase 4-wire", "load": "75.1757 A"}, "4.95", "4.95"),
        # Without the points in between a line from one to the next.
        ({"part": "{half: 4.1 gal/h}"}, "4.93", "4.93"),
        ({"part": "none"}, "7.4", "7.4"),
        ({"part": "unknown"}, "0", "7.4"),
        ({"part": "{quarter: 2.6 gal/h, half: 4.1 gal/h, three_quarters: 5.8 gal/h to 6 gal/h}"}, "4.95", "5.05"),
        ({"full": "unknown"}, "0", None),
        # Load management that is not drawn may keep loads off.
        ({"complete": ""}, "2.6", "4.95"),
    ],
)
def test_fuel_on_a_line_between_the_points(
    but: dict[str, str], low: str, high: str | None, tmp_path: Path, library: Library
) -> None:
    """260.4 A x 240 V = 62.5 kW of 100 kW, half way from 50 % to 75 %: 4.95 gal/h between 4.1 and 5.8, by hand."""
    assert ends(burnt(tmp_path, library, **but)) == (F(low), None if high is None else F(high))


def test_what_load_management_leaves_counts_where_it_is_drawn(tmp_path: Path, library: Library) -> None:
    managed = "  LM1: {kind: load_manager, manages: GEN1}\n"
    view = site(tmp_path, library, more=managed, load="400 A, managed_load: 208.333333 A")
    assert ends(fact_of(view, "GEN1", "fuel_at_its_load")) == (F("4.1"), F("4.1"))


@pytest.mark.parametrize(("load", "share"), [("600 A", "100 %"), ("260.416667 A", "62.5 %")])
def test_the_worksheet_gives_the_load_over_the_rating(load: str, share: str, tmp_path: Path, library: Library) -> None:
    """Of 144 kW on a set of 100 kW no more than the whole rating is carried."""
    view = site(tmp_path, library, load=load)
    fact_of(view, "GEN1", "fuel_at_its_load")
    lines = view.worksheets()["GEN1.fuel_at_its_load"].lines
    assert [line.value for line in lines if line.quantity == "load over the rating"] == [share]


def test_hours_at_the_load(tmp_path: Path, library: Library) -> None:
    """100 gal at 4.1 gal/h are 24.39 h; at full load 13.51 h."""
    view = site(tmp_path, library, load="208.333333 A")
    low, high = ends(fact_of(view, "TANK1", "running_time_at_its_load"))
    assert low == high == pytest.approx(F(100) / F("4.1") * HOUR, rel=1e-6)
    assert ends(fact_of(view, "TANK1", "running_time"), 0)[0] == round(F(100) / F("7.4") * HOUR)


def test_points_that_do_not_rise_and_other_fuels_have_no_answer(tmp_path: Path, library: Library) -> None:
    falling = "{quarter: 4.6 gal/h, half: 4.1 gal/h, three_quarters: 5.8 gal/h}"
    assert "do not rise" in burnt(tmp_path, library, part=falling).undefined[0]
    assert "liquid fuel alone" in burnt(tmp_path, library, fuel="propane").undefined[0]
    assert "gives no fuel" in burnt(tmp_path, library, full="none").undefined[0]


POINTS = st.lists(st.integers(10, 400), min_size=4, max_size=4, unique=True).map(sorted)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(points=POINTS, loads=st.lists(st.integers(1, 450), min_size=3, max_size=3).map(sorted), more=st.integers(0, 30))
def test_what_is_open_lies_between_the_ends(
    tmp_path: Path, library: Library, points: list[int], loads: list[int], more: int
) -> None:
    def text(extra: int, load: str) -> dict[str, str]:
        gallons = [f"{point / 10:.1f} gal/h to {(point + extra) / 10:.1f} gal/h" for point in points]
        names = ("quarter", "half", "three_quarters")
        parts = ", ".join(f"{name}: {rate}" for name, rate in zip(names, gallons[:3], strict=True))
        return {"part": f"{{{parts}}}", "full": gallons[-1], "load": load}

    low, exact, high = loads
    inside = burnt(tmp_path, library, **text(0, f"{exact} A")).number
    around = burnt(tmp_path, library, **text(more, f"{low} A to {high} A"))
    assert inside is not None
    assert any(span.holds(inside) for span in around.spans)
    each = [burnt(tmp_path, library, **text(0, f"{load} A")).number or F(0) for load in loads]
    assert all(one <= other for one, other in pairwise(each))
