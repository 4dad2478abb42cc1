"""Findings in the order of a report: by outcome, inside each what can kill before what can burn or break, then by the
walk from source to load, and this cure before that.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from checker.findings.finding import Finding
from checker.findings.judging.outcomes import MISSES, SETTLED_OUTCOMES, Outcome, miss_with


def ordered(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The same findings in order and numbered from 1."""
    by_walk = sorted(findings, key=_place)
    return tuple(replace(each, number=place) for place, each in enumerate(_cures_in_order(by_walk), start=1))


def weight(finding: Finding) -> tuple[int, int]:
    """How much hangs on a finding, the most first: how binding a miss of it is, then the worst that it can bring."""
    return (MISSES.index(miss_with(finding.force, finding.basis)), finding.harm.order)


def _place(finding: Finding) -> tuple[int, int, tuple[int, int], tuple[int, str], str]:
    """What is open comes in the order in which it is due; all else by outcome, weight and walk. What is settled harms
    nobody and keeps to the walk.
    """
    due = finding.due.order if finding.outcome is Outcome.NEEDS_INFORMATION else 0
    heavy = (0, 0) if finding.outcome in SETTLED_OUTCOMES else weight(finding)
    return (finding.outcome.order, due, heavy, finding.subject.walk, finding.id)


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
