"""Writes the kept field sheet anew: ``python -m tests.report.renew_field_sheet``; read the difference."""

from __future__ import annotations

from pathlib import Path

from checker.report.field_sheet import field_sheet_text
from checker.tasks.gathering.library import Library
from checker.tasks.questions.sheet import FieldSheet, field_sheet
from checker.tasks.reviewing import Overrides, job_of
from tests.project.project_tree import ROOT

PLACE = "plover-row"
KEPT = Path(__file__).parent / "field_sheets" / f"{PLACE}.txt"


def sheet_of(place: str, library: Library) -> FieldSheet:
    """The sheet of a fixture; positions are told from its own folder."""
    return field_sheet(job_of(ROOT / "fixtures" / place / "site.yaml", library, Overrides()))


if __name__ == "__main__":
    KEPT.parent.mkdir(exist_ok=True)
    KEPT.write_text(field_sheet_text(sheet_of(PLACE, Library.shipped())), encoding="utf-8", newline="\n")
