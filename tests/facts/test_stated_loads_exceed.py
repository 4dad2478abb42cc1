"""Loads that are stated and exceed what the set gives are a correction, whatever else is open."""

from __future__ import annotations

import shutil
from functools import cache
from pathlib import Path

import pytest

from checker import Library, Outcome, review

SITE = Path(__file__).parents[2] / "fixtures" / "crake-landing"
RANGE = "load_power: 11 kVA, at: P1, kept_off: until_it_fits, when_control_fails: stays_off, priority: 2"
MANAGER = "  LM1: {kind: load_manager, status: new, manages: GEN1, listed: no, listed_as_power_control: no, set_point: 70 A, order: passes_over}\n"  # noqa: E501
OPEN = {
    "nothing": [],
    "altitude": [("  altitude: 300 ft\n", "")],
    "hottest day": [("  hottest_day: 91 F\n", "")],
    "floor area": [("  floor_area: 1900 ft2\n", "")],
    "circuits": [("  small_appliance_circuits: 2\n  laundry_circuits: 1\n", "")],
    "method": [("  load_method: optional\n", "")],
    "further loads": [("loads:\n  complete: yes", "loads:\n  complete: no")],
    "further load management": [("inlet, load_manager]", "inlet]")],
    "power of another load": [("load_power: 5000 VA", "load_power: unknown")],
    "kind of another load": [("load_kind: dryer, ", "")],
}


@cache
def _library() -> Library:
    return Library.shipped()


@pytest.mark.parametrize("what", OPEN)
@pytest.mark.parametrize(("power", "exceeds"), [("40 kVA", True), ("1 kVA", False)])
def test_stated_loads_that_exceed_the_set_are_a_correction(
    what: str, power: str, exceeds: bool, tmp_path: Path
) -> None:
    """A range of 40 kVA adds at the least 0.4 x 40 kVA / 240 V = 66.7 A to a house that takes more than 8 A besides.

    By the optional calculation (220.82), the method that gives least; the set gives 73.95 A.
    """
    shutil.copytree(SITE, tmp_path / "house")
    file = tmp_path / "house" / "site.yaml"
    text = file.read_text(encoding="utf-8")
    for old, new in [(RANGE, f"load_power: {power}, at: P1, kept_off: none"), (MANAGER, ""), *OPEN[what]]:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    (finding,) = [
        each
        for each in review(file, library=_library()).findings
        if each.rule == "automatic-source-carries-its-load" and each.subject.words == "GEN1"
    ]
    assert (finding.outcome is Outcome.CORRECTION) == exceeds, finding.says
