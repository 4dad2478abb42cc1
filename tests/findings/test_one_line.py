"""The pieces of the line as they were read, with the words for their roles."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.findings.assembling.one_line import one_line
from checker.findings.finding import Review
from checker.findings.review import view_of_job
from checker.report.page.page import html_report
from checker.report.text import text_report
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of, review_file

FIXTURES = Path(__file__).parents[2] / "fixtures"

HOUSE = """\
site: {name: A house, jurisdiction: nec-2023, stage: plan_review, occupancy: one_family_dwelling,
       work: [generator_new, transfer_switch_new]}
permit: {application_date: "2026-06-03"}
equipment:
  UTIL: {kind: utility_supply}
  M1: {kind: meter, fed_from: UTIL}
  ATS1: {kind: transfer_switch, normal: M1, alternate: GEN1/1, status: new, operation: automatic}
  P1: {kind: panelboard, fed_from: ATS1, status: existing}
  P2: {kind: panelboard, fed_from: P1, role: none}
  GEN1: {kind: generator, status: new, generator_form: stationary}
"""


def test_a_role_that_is_not_shown_is_told_once(tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_text(HOUSE, encoding="utf-8")
    view = view_of_job(job_of(path, Library.shipped(), Overrides()))
    roles = {piece.tag: piece.role for piece in one_line(view).pieces}
    assert roles["P1"] == "role not shown"
    assert roles["ATS1"].startswith("role not shown: emergency disconnect or ")
    assert roles["P2"] == "no role"
    assert roles["M1"] == roles["GEN1"] == ""


def test_a_source_without_a_line_is_told(tmp_path: Path) -> None:
    """GEN1 feeds ATS1; of the inverters one lands ahead of the service disconnect, and of the other nothing is said."""
    path = tmp_path / "site.yaml"
    inverters = "  INV1: {kind: inverter, ahead_of_the_service: yes}\n  INV2: {kind: inverter}\n"
    path.write_text(HOUSE + inverters, encoding="utf-8")
    told = one_line(view_of_job(job_of(path, Library.shipped(), Overrides()))).apart
    assert [each.split(" ", 1)[0] for each in told] == ["INV1", "INV2"]
    assert "ahead of the service disconnect" in told[0]
    assert "no line on the drawing" in told[1]


@pytest.mark.parametrize("written", [text_report, html_report])
def test_a_report_says_it_where_the_line_is_shown(written: Callable[[Review], str]) -> None:
    review = review_file(FIXTURES / "dunlin-terrace" / "site.yaml", Library.shipped(), Overrides())
    after = " ".join(written(review).partition("The line as it was read")[2].split())
    assert (
        "INV3 is not drawn as a line: it lands ahead of the service disconnect" in after.partition("What feeds what")[0]
    )
