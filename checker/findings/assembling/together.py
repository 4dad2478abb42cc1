"""Misses of one measure of one thing, or of one thing that is not there, told under one of them: the same cure serves.

The most binding of them heads the others, among these the gravest, then the one that asks for most.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from checker.catalog.model import Catalog
from checker.findings.assembling.ordering import weight
from checker.findings.assembling.texts import NOTHING
from checker.findings.finding import Check, Finding
from checker.findings.judging.outcomes import MISSES
from checker.values.truth import Truth

LEAST, MOST = ("at_least", "more_than"), ("at_most", "less_than")
"""Relations of a measure that has to be larger, and of one that has to be smaller."""

MISSING = "missing"
_Cause = tuple[str, ...]


def told_together(findings: Iterable[Finding], catalog: Catalog) -> tuple[Finding, ...]:
    """The same findings, each that is told under another one with the id of that."""
    listed = tuple(findings)
    by_cause: dict[_Cause, list[Finding]] = {}
    for each in listed:
        cause = _cause(each, catalog)
        if cause is not None:
            by_cause.setdefault(cause, []).append(each)
    heads = dict(_heads(by_cause))
    return tuple(replace(each, under=heads[each.id]) if each.id in heads else each for each in listed)


def failing(finding: Finding) -> tuple[Check, ...]:
    """The comparisons of the requirement that fail by themselves."""
    return tuple(each for each in finding.checks if each.part is not None and each.direct and each.holds is Truth.NO)


def limit(check: Check) -> Fraction | None:
    """The number that a measure has to reach or to stay within; None where it is not one number."""
    wanted = check.wanted
    if wanted is None or wanted.low is None or wanted.low != wanted.high or check.relation not in (*LEAST, *MOST):
        return None
    return Fraction(wanted.low)


def asks_for_most(finding: Finding) -> Fraction:
    """A number that is the smaller the more a finding asks of a measure."""
    check = next(iter(failing(finding)), None)
    number = None if check is None else limit(check)
    if check is None or number is None:
        return Fraction(0)
    return number if check.relation in MOST else -number


def _heads(by_cause: Mapping[_Cause, Sequence[Finding]]) -> Iterable[tuple[str, str]]:
    for group in by_cause.values():
        head = min(group, key=_first)
        yield from ((each.id, head.id) for each in group if each is not head)


def _first(finding: Finding) -> tuple[tuple[int, int], Fraction, int]:
    """Where a finding stands among those of one cause."""
    return (weight(finding), asks_for_most(finding), finding.number)


def _cause(finding: Finding, catalog: Catalog) -> _Cause | None:
    """What one cure mends: a measure of a thing, a thing that is not there at all, or a paper."""
    if finding.outcome not in MISSES:
        return None
    papers = {each.papers for each in finding.papers}
    if papers:
        return ("paper", *papers.pop()) if len(papers) == 1 else None
    causes = {_of_check(finding, each, catalog) for each in failing(finding)}
    cause = causes.pop() if len(causes) == 1 else None
    # Readings that fail on one measure may each want another number of it.
    return None if cause is not None and finding.readings and cause[0] != MISSING else cause


def _of_check(finding: Finding, check: Check, catalog: Catalog) -> _Cause | None:
    if check.relation == "some":
        return _missing(finding, check, catalog)
    if check.found.fact is None or check.wanted is None or check.found.text == NOTHING:
        return None
    if check.relation in (*LEAST, *MOST):
        way = LEAST[0] if check.relation in LEAST else MOST[0]
        return None if limit(check) is None else ("measure", check.found.fact, way)
    return ("word", check.found.fact, check.relation, check.wanted.text)


def _missing(finding: Finding, check: Check, catalog: Catalog) -> _Cause | None:
    """A piece of which there is none. Signs and papers that are not there are each another one."""
    for name, collection in catalog.collections.items():
        if name.replace("_", " ") == check.found.title:
            are_pieces = all(member in catalog.kinds for member in collection.members)
            return (MISSING, finding.subject.id, name) if are_pieces and check.found.text == NOTHING else None
    return None
