"""The reports of the fixtures as they are kept beside this module: the text of each, and of one the JSON too."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path

from checker.findings.finding import Review
from checker.report.programs.data import json_report
from checker.report.text import text_report
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from tests.project.project_tree import ROOT

FIXTURES = ROOT / "fixtures"
PLACES = tuple(sorted(path.parent.name for path in FIXTURES.glob("*/site.yaml")))
KEPT = Path(__file__).parent / "golden"
AS_JSON = "wren-cottage"
"""The one whose JSON is kept: it holds every finding in full, and is a thousand times as long as its news."""

MASK = "(digest)"
"""Stands for every digest: a digest changes with each comma in a pack, and the report does not."""


def reviewed(place: str, library: Library) -> Review:
    """The review of a fixture, as its file asks for it. Positions are told from its own folder."""
    return review_file(FIXTURES / place / "site.yaml", library, Overrides())


@cache
def library_of_tests() -> Library:
    """The packs of the program, read once in each process of the tests."""
    return Library.shipped()


@cache
def known_review(place: str) -> Review:
    """The same review for all tests of a process that only look at it: a review is frozen, and takes half a second."""
    return reviewed(place, library_of_tests())


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


def kept() -> tuple[tuple[str, str], ...]:
    """Every report that is kept, by its place and suffix."""
    return (*((place, ".txt") for place in PLACES), (AS_JSON, ".json"))


def kept_file(place: str, suffix: str) -> Path:
    """Where a report is kept."""
    return KEPT / f"{place}{suffix}"
