"""Limits of one distance that several authorities set: all are told, the stricter counts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from checker.findings.assembling.limits import limits_together
from checker.findings.finding import Figure, Finding
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from tests.project.project_tree import ROOT


@pytest.fixture(scope="module")
def findings() -> tuple[Finding, ...]:
    """Those of the set of Quill Harbor, whose window is 8 ft away: 10 ft by the town, 5 ft by practice."""
    review = review_file(ROOT / "fixtures" / "quill-harbor" / "site.yaml", Library.shipped(), Overrides())
    about = [
        each for each in review.findings if any(check.found.fact == "distance 1.distance" for check in each.checks)
    ]
    return tuple(about)


def test_the_stricter_limit_counts_and_both_are_told(findings: tuple[Finding, ...]) -> None:
    told, sheets = limits_together(findings)
    lines = sheets["distance 1.limits"].lines
    assert [(line.quantity, line.value) for line in lines] == [
        ("distance", "8 ft"),
        ("at least", "10 ft, counts"),
        ("at least", "5 ft"),
        ("allowed", "at least 10 ft"),
    ]
    assert lines[1].source == "Quill Harbor, building department, Quill Harbor Town Code 14-32(b)"
    named = {
        check.found.worksheet for each in told for check in each.checks if check.found.fact == "distance 1.distance"
    }
    assert named == {"distance 1.limits"}


def test_limits_that_no_distance_holds_are_told(findings: tuple[Finding, ...]) -> None:
    turned = [_turned(each) if each.pack == "trade-practice" else each for each in findings]
    _, sheets = limits_together(turned)
    sheet = sheets["distance 1.limits"]
    assert sheet.lines[-1].value == "at least 10 ft and at most 5 ft"
    assert sheet.assumptions[0].startswith("No distance holds all of these limits at once")


def test_one_limit_alone_has_no_worksheet(findings: tuple[Finding, ...]) -> None:
    _, sheets = limits_together([each for each in findings if each.pack != "trade-practice"])
    assert not sheets


def _turned(finding: Finding) -> Finding:
    """The same limit as the farthest that is allowed."""
    checks = (replace(check, relation="at_most", found=_plain(check.found)) for check in finding.checks)
    return replace(finding, checks=tuple(checks))


def _plain(figure: Figure) -> Figure:
    return replace(figure, worksheet=None)
