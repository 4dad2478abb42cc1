"""The pieces of the line as they were read, with the words for their roles."""

from __future__ import annotations

from pathlib import Path

from checker.findings.one_line import one_line
from checker.findings.review import view_of_job
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of

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
