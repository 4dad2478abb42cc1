"""Lines to another building: which line feeds the dwelling, and the old neutral that may serve as its ground.

The conditions of the exception for an existing line (NFPA 70, 250.32(B)(1) Exception No. 1): no ground of its own, no
continuous metal bonded to the grounding of both buildings, no ground-fault protection of equipment ahead, as an
inspectors' magazine tells them (iaeimagazine.org, Two buildings, common service: grounding requirements, 2008).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.facts.view import View
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, exactly, one_of
from tests.facts.reading import fact_of, view_under

SITE = """
site: {{name: Fern Yard, occupancy: one_family_dwelling, other_sources: none{fed}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  D1: {{kind: disconnect, fed_from: UTIL, role: service_disconnect, ground_fault_protection: {protection}}}
  PB: {{kind: panelboard, fed_from: D1, ground_fault_protection: none}}
  PH: {{kind: panelboard, fed_from: PB/1}}
runs:
  D1>PB: {{{barn}}}
  PB/1>PH: {{{house}}}
"""
FED = ", dwelling_fed_by_feeder: yes"
OLD = {
    "to_another_building": "yes",
    "grounding": "none",
    "raceway_grounds": "no",
    "run_status": "existing",
    "metal_to_the_other_building": "no",
}
YES, NO, OPEN = exactly(True), exactly(False), one_of((True, False))


def seen(
    folder: Path, library: Library, house: str, *, fed: str = "", barn: str = "", protection: str = "none"
) -> View:
    text = SITE.format(fed=fed, barn=barn, house=house, protection=protection)
    return view_under("nec-2023", text, folder, library)


def on(view: View, line: str, name: str = "feeds_another_building") -> Possible:
    return view.read(Subject("connection", line), name)


def test_the_line_that_carries_the_whole_dwelling_is_the_one_to_it(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, "whole_dwelling_load: yes", fed=FED, barn="whole_dwelling_load: no")
    assert on(view, "PB/1>PH") == YES
    assert on(view, "D1>PB") == NO
    assert on(view, "UTIL>D1") == NO, "ahead of the service disconnect"


def test_where_no_one_line_can_be_meant_it_is_asked(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, "", fed=FED)
    assert {on(view, "PB/1>PH"), on(view, "D1>PB")} == {OPEN}
    both = seen(tmp_path, library, "whole_dwelling_load: yes", fed=FED, barn="whole_dwelling_load: yes")
    assert {on(both, "PB/1>PH"), on(both, "D1>PB")} == {NO}, "it has to be said"


def test_what_is_said_of_one_line_settles_the_others(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, "to_another_building: yes", fed=FED)
    assert on(view, "PB/1>PH") == YES
    assert on(view, "D1>PB") == NO


def test_without_a_dwelling_on_a_feeder_nothing_follows(tmp_path: Path, library: Library) -> None:
    assert on(seen(tmp_path, library, "whole_dwelling_load: yes"), "PB/1>PH") == NO


def test_the_only_line_past_the_service_is_meant(tmp_path: Path, library: Library) -> None:
    text = SITE.format(fed=FED, barn="", house="", protection="none").split("  PH:")[0]
    assert on(view_under("nec-2023", text, tmp_path, library), "D1>PB") == YES


@pytest.mark.parametrize(
    ("but", "found"),
    [
        ({}, YES),
        ({"metal_to_the_other_building": "yes"}, NO),
        ({"metal_to_the_other_building": "unknown"}, OPEN),
        ({"run_status": "new"}, NO),
        ({"run_status": "unknown"}, OPEN),
        ({"grounding": "6 AWG copper"}, NO),
        ({"grounding": "unknown"}, OPEN),
        ({"raceway_grounds": "yes"}, NO),
        ({"to_another_building": "no"}, NO),
    ],
)
def test_an_old_neutral_may_serve(but: dict[str, str], found: Possible, tmp_path: Path, library: Library) -> None:
    house = ", ".join(f"{name}: {value}" for name, value in {**OLD, **but}.items())
    view = seen(tmp_path, library, house)
    assert on(view, "PB/1>PH", "neutral_may_ground") == found
    assert fact_of(view, "PH", "neutral_may_ground") == found, "the panel at its end goes by its line"
    assert fact_of(view, "PB", "neutral_may_ground") == NO


@pytest.mark.parametrize(("but", "found"), [({"run_status": "existing"}, YES), ({"run_status": "new"}, NO)])
@pytest.mark.parametrize("metal", ["yes", "no", "unknown"])
def test_whatever_metal_there_is_an_old_neutral_may_serve_without_it(
    but: dict[str, str], found: Possible, metal: str, tmp_path: Path, library: Library
) -> None:
    house = ", ".join(
        f"{name}: {value}" for name, value in {**OLD, **but, "metal_to_the_other_building": metal}.items()
    )
    view = seen(tmp_path, library, house)
    assert on(view, "PB/1>PH", "neutral_may_ground_without_metal") == found
    assert fact_of(view, "PH", "neutral_may_ground_without_metal") == found


@pytest.mark.parametrize(("protection", "found"), [("{pickup: 1200 A}", NO), ("unknown", OPEN)])
def test_ground_fault_protection_ahead(protection: str, found: Possible, tmp_path: Path, library: Library) -> None:
    house = ", ".join(f"{name}: {value}" for name, value in OLD.items())
    assert on(seen(tmp_path, library, house, protection=protection), "PB/1>PH", "neutral_may_ground") == found
