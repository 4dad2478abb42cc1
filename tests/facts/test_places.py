"""Whether a load has a place of its own in the order of load management."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from tests.facts.reading import view_under

HOUSE = """
site: {{name: Rush House, occupancy: one_family_dwelling, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic}}
  ATS2: {{kind: transfer_switch, normal: UTIL, alternate: GEN2, operation: automatic}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire}}
  GEN2: {{kind: generator, system: 120/240 V 1-phase 3-wire}}
  P1: {{kind: panelboard, fed_from: ATS1}}
  P2: {{kind: panelboard, fed_from: ATS2}}
loads:
  complete: {complete}
  list:
    - {{name: range, kept_off: until_it_fits, priority: 2, at: P1}}
    - {{name: dryer, kept_off: {kept_off}, priority: {priority}, at: {at}}}
"""
BASE = {"complete": "yes", "kept_off": "until_it_fits", "priority": "2", "at": "P1"}


@pytest.mark.parametrize(
    ("but", "own"),
    [
        pytest.param({}, False, id="both second"),
        pytest.param({"priority": "3"}, True, id="second and third"),
        pytest.param({"priority": "none"}, True, id="the other has no place"),
        pytest.param({"priority": "2 or 3"}, None, id="place not decided"),
        pytest.param({"priority": "unknown"}, None, id="place not known"),
        pytest.param({"kept_off": "while_the_set_runs"}, True, id="the other is kept off for good"),
        pytest.param({"kept_off": "none"}, True, id="the other is always on"),
        pytest.param({"kept_off": "unknown"}, True, id="what keeps it off has to be said"),
        pytest.param({"kept_off": "until_it_fits or while_the_set_runs"}, None, id="not decided how it is kept off"),
        pytest.param({"at": "P2"}, True, id="on another set"),
        pytest.param({"complete": "no", "priority": "3"}, None, id="there may be others"),
        pytest.param({"complete": "no"}, False, id="both second, and there may be others"),
    ],
)
def test_a_place_of_its_own(but: dict[str, str], own: bool | None, tmp_path: Path, library: Library) -> None:
    view = view_under("nec-2020", HOUSE.format(**{**BASE, **but}), tmp_path, library)
    assert view.read(Subject("load", "load 1"), "place_of_its_own").atom is own
