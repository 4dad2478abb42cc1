"""A figure of the utility without its kind counts as the greatest of all kinds, and the report says so."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from checker.findings.review import review
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of

SITE = """
site: {{name: Teal Cottage, stage: plan_review, occupancy: one_family_dwelling}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire{figure}}}
  P1: {{kind: panelboard, fed_from: UTIL, role: service_disconnect}}
"""


@pytest.mark.parametrize(
    ("figure", "is_told"),
    [
        (", available_fault_current: 9.6 kA", True),
        (", available_fault_current: {value: 9.6 kA, per: utility letter}", True),
        (", available_fault_current: {value: 9.6 kA, between: lines}", False),
        (", available_fault_current: unknown", False),
        ("", False),
    ],
)
def test_a_figure_without_its_kind_is_told(figure: str, is_told: bool, tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_text(SITE.format(figure=figure), encoding="utf-8")
    found = review(job_of(path, Library.shipped(), Overrides("nec-2023", date(2026, 3, 14), None)))
    told = [each for each in found.notices if each.kind == "default" and "kind of fault" in each.sentence]
    assert bool(told) is is_told
    assert all(each.sentence.startswith("UTIL: ") and "between: lines" in each.remedy for each in told)
