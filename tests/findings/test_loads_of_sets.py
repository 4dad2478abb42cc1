"""What is listed past a set that is connected by hand, added up against what it gives."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker import review
from checker.files.folders import data_folder
from checker.findings.finding import ListedLoads

SITE = """
site: {{name: Sedge Yard, jurisdiction: nec-2023, stage: plan_review, other_sources: none}}
permit: {{application_date: "2025-05-02"}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  P1: {{kind: panelboard, fed_from: UTIL, ways: {{2: {{overcurrent: 60 A}}}}}}
  TS1: {{kind: transfer_switch, operation: {operation}, normal: P1/2, alternate: GEN1}}
  P2: {{kind: panelboard, fed_from: TS1}}
  GEN1: {{kind: generator, power_at_site: 5 kW, power_factor: "1.0", start_scheme: manual}}
loads:
  complete: {complete}
  list:
    - {{name: well pump, load_power: {pump}, motor_driven: yes, starting_power: 6 kVA, at: P2}}
    - {{name: sump pump, load_power: 800 VA, motor_driven: yes, starting_power: 3 kVA, at: P2}}
    - {{name: refrigerator, load_power: 700 VA, motor_driven: yes, at: P2}}
    - {{name: range, load_power: 9 kVA, at: P1}}
"""


def listed(
    folder: Path, *, operation: str = "manual", complete: str = "yes", pump: str = "1500 VA"
) -> ListedLoads | None:
    path = folder / "site.yaml"
    path.write_text(SITE.format(operation=operation, complete=complete, pump=pump), encoding="utf-8")
    return review(path).sets[0].listed


def test_loads_past_the_set_are_added_up_with_the_largest_start(tmp_path: Path) -> None:
    """1500 + 800 + 700 = 3000 VA; the range hangs on a panel that the set does not feed; one motor tells no start."""
    assert listed(tmp_path) == ListedLoads(3, "3000 VA", "6 kVA", "well pump", 1, is_all=True, is_more=False)


@pytest.mark.parametrize(("pump", "is_more"), [("3500 VA", False), ("3501 VA", True)])
def test_more_than_it_gives_is_told_only_where_it_surely_is(pump: str, is_more: bool, tmp_path: Path) -> None:
    """3500 + 800 + 700 = 5000 VA are the 5 kW of the set at a power factor of 1."""
    found = listed(tmp_path, pump=pump)
    assert found is not None
    assert found.is_more is is_more


def test_an_open_list_stays_open(tmp_path: Path) -> None:
    found = listed(tmp_path, complete="no")
    assert found is not None
    assert not found.is_all


def test_a_set_that_starts_by_itself_has_a_load_and_no_list(tmp_path: Path) -> None:
    text = SITE.replace("start_scheme: manual", "start_scheme: two_wire")
    path = tmp_path / "site.yaml"
    path.write_text(text.format(operation="automatic", complete="yes", pump="1500 VA"), encoding="utf-8")
    assert review(path).sets[0].listed is None


def test_an_open_list_is_never_told_as_enough() -> None:
    found = review(data_folder("fixtures") / "snipe-lodge" / "site.yaml")
    assert found.sets[0].listed == ListedLoads(6, "5300 VA", "", "", 2, is_all=True, is_more=False)
    assert not [each for each in found.findings if each.id in found.sets[0].findings and each.outcome.value == "met"]
