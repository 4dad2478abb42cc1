"""The reports of the fixtures as they are kept: one text and one JSON file for each, beside this module."""

from __future__ import annotations

import json
from pathlib import Path

from checker.report.data import json_report
from checker.report.text import text_report
from checker.review.finding import Review
from checker.tasks.reviewing import Library, Overrides, review_file
from tests.project.project_tree import ROOT

FIXTURES = ROOT / "fixtures"
PLACES = tuple(sorted(path.parent.name for path in FIXTURES.glob("*/site.yaml")))
KEPT = Path(__file__).parent / "golden"
SUFFIXES = (".txt", ".json")

MASK = "(digest)"
"""Stands for every digest: a digest changes with each comma in a pack, and the report does not."""


def reviewed(place: str, library: Library) -> Review:
    """The review of a fixture, as its file asks for it. Positions are told from its own folder."""
    return review_file(FIXTURES / place / "site.yaml", library, Overrides())


def reports(review: Review) -> dict[str, str]:
    """Both reports of a review by the suffix of their file, everything listed."""
    return {".txt": text_report(review, everything=True), ".json": without_digests(json_report(review))}


def without_digests(report: str) -> str:
    """A JSON report with every digest masked."""
    data = json.loads(report)
    for holder in (data["site"], *data["in_force"]["packs"], *data["in_force"]["layers"]):
        assert len(holder["digest"]) == 64
        holder["digest"] = MASK
    return json.dumps(data, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def kept_file(place: str, suffix: str) -> Path:
    """Where a report is kept."""
    return KEPT / f"{place}{suffix}"
