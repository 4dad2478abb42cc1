"""Findings in the order of a report: by outcome, inside each by the walk from source to load, and this cure before
that.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from checker.findings.finding import Finding
from checker.findings.outcomes import Outcome


def ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same findings in order and numbered from 1."""
    by_walk = sorted(findings, key=_place)
    return tuple(replace(each, number=place) for place, each in enumerate(_cures_in_order(by_walk), start=1))


def _place(finding: Finding) -> tuple[int, int, tuple[int, str], str]:
    """What is open comes in the order in which it is due; all else only by outcome and walk."""
    due = finding.due.order if finding.outcome is Outcome.NEEDS_INFORMATION else 0
    return (finding.outcome.order, due, finding.subject.walk, finding.id)


def _cures_in_order(findings: list[Finding]) -> list[Finding]:
    """Inside one outcome, a finding whose cure comes before that of others is moved ahead of the first of them."""
    placed: list[Finding] = []
    for finding in findings:
        later = [
            index
            for index, other in enumerate(placed)
            if other.outcome is finding.outcome and other.rule in finding.before and finding.rule not in other.before
        ]
        placed.insert(min(later, default=len(placed)), finding)
    return placed
