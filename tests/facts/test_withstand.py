"""A transfer switch behind a breaker that waits: by its clearing time, its settings and its fixed override.

The shop: 29.5 kA at the switch, a 600 A breaker ahead with its instantaneous trip off and 0.3 s of short-time delay, a
switch with 65 kA behind named breakers and 35 kA for 0.05 s behind any. Invented; common practice, no source.
"""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.findings.finding import Finding
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file

SHOP = """
site: {{name: Shop, stage: plan_review, other_sources: none, motor_fault_current: none, occupancy: mercantile}}
permit: {{application_date: "2024-09-03"}}
equipment:
  UTIL:
    kind: utility_supply
    system: 480Y/277 V 3-phase 4-wire
    available_fault_current: {{value: 32 kA, between: three_phase}}
  SB1:
    kind: switchboard
    fed_from: UTIL
    ways: {{4: {{overcurrent: {{rated_current: 600 A, device: {device}{settings}}}}}}}
  ATS1:
    kind: transfer_switch
    normal: SB1/4
    alternate: GEN1
    transition: open
    ways: {{normal: {{overcurrent: none}}, alternate: {{overcurrent: none}}}}
    withstand_rows: {{complete: yes, list: [{rows}]}}
  GEN1: {{kind: generator, system: 480Y/277 V 3-phase 4-wire}}
pairs: {{ATS1~UTIL: {{available_fault_current: {{value: 29.5 kA, between: three_phase}}}}}}
"""
NAMED = "{for_device: molded_case_breaker, largest_device: 600 A, withstands: 65 kA, for_time: none}"
BY_TIME = "{for_device: any_breaker, largest_device: none, withstands: 35 kA, for_time: 50 ms}"
SHORT_TIME = "{for_device: any_breaker, largest_device: none, withstands: 30 kA, for_time: 300 ms}"
OFF = ", instantaneous_setting: none"
BREAKER = "molded_case_breaker"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def verdict(folder: Path, library: Library, settings: str, rows: str, device: str = BREAKER) -> tuple[str, list[str]]:
    """What comes out for the switch, and what it waits for."""
    path = folder / "site.yaml"
    path.write_text(SHOP.format(settings=settings, rows=rows, device=device), encoding="utf-8")
    review = review_file(path, library, Overrides("nec-2020", date(2024, 9, 3), None))
    found: list[Finding] = [each for each in review.findings if each.rule == "withstand-row-matches-its-device"]
    return found[0].outcome.value, [need.fact for need in found[0].needs]


@pytest.mark.parametrize(
    ("settings", "rows", "outcome"),
    [
        (f"{OFF}, instantaneous_override: none, clearing_time: 300 ms", f"{NAMED}, {BY_TIME}", "correction"),
        (f"{OFF}, instantaneous_override: 8 kA", NAMED, "met"),
        (f"{OFF}, instantaneous_override: 30 kA", NAMED, "correction"),
        (", instantaneous_setting: 6 kA", NAMED, "met"),
        (f"{OFF}, instantaneous_override: none, clearing_time: 300 ms", f"{NAMED}, {SHORT_TIME}", "met"),
        (", clearing_time: 25 ms", BY_TIME, "met"),
    ],
)
def test_the_row_holds_for_how_the_breaker_opens(
    settings: str, rows: str, outcome: str, tmp_path: Path, library: Library
) -> None:
    assert verdict(tmp_path, library, settings, rows)[0] == outcome


def test_instantaneous_off_is_not_no_instantaneous(tmp_path: Path, library: Library) -> None:
    """The override is asked for, and the clearing time that would tell as well."""
    outcome, needs = verdict(tmp_path, library, OFF, f"{NAMED}, {BY_TIME}")
    assert outcome == "needs_information"
    assert "SB1/4.overcurrent.instantaneous_override" in needs
    assert "SB1/4.overcurrent.clearing_time" in needs


def test_fuses_need_no_setting(tmp_path: Path, library: Library) -> None:
    row = "{for_device: fuse_class_j, largest_device: 600 A, withstands: 200 kA, for_time: none}"
    assert verdict(tmp_path, library, "", row, "fuse_class_j")[0] == "met"
