"""Limits of one distance that several authorities set at once: all are told, and the stricter counts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from string import ascii_lowercase

from checker.engineering.sites.distances import Allowed, DistanceLimit, Sense, allowed
from checker.engineering.worksheet import Line, Worksheet
from checker.findings.finding import Check, Figure, Finding
from checker.findings.judging.outcomes import Outcome

_SENSES = {"at_least": Sense.NOT_NEARER, "at_most": Sense.NOT_FARTHER}
_WORDS = {Sense.NOT_NEARER: "at least", Sense.NOT_FARTHER: "at most"}
_FACT = ".distance"
_SILENT = (Outcome.NOT_APPLICABLE, Outcome.RULE_ERROR)
_CONTRADICTS = "No distance holds all of these limits at once: the authorities have to be asked which gives way."


def limits_together(findings: Sequence[Finding]) -> tuple[tuple[Finding, ...], Mapping[str, Worksheet]]:
    """The findings, those on a distance with several limits naming the worksheet of it, and these worksheets by name.

    The nearest that is allowed is the greatest of the limits that say how near, the farthest the least of those that
    say how far.
    """
    limits: dict[str, dict[DistanceLimit, str]] = {}
    figures: dict[str, Figure] = {}
    for check, limit in _limits(findings):
        assert check.wanted is not None
        assert check.found.fact is not None
        limits.setdefault(check.found.fact, {})[limit] = check.wanted.text
        figures.setdefault(check.found.fact, check.found)
    sheets = {fact: _sheet(figures[fact], texts, fact) for fact, texts in limits.items() if len(texts) > 1}
    return tuple(_naming(finding, sheets) for finding in findings), {sheet.id: sheet for sheet in sheets.values()}


def _limits(findings: Iterable[Finding]) -> Iterator[tuple[Check, DistanceLimit]]:
    for finding in findings:
        if finding.outcome in _SILENT:
            continue
        for check in finding.checks:
            wanted, sense = check.wanted, _SENSES.get(check.relation)
            is_distance = (check.found.fact or "").endswith(_FACT)
            if is_distance and sense is not None and wanted is not None and wanted.low and wanted.low == wanted.high:
                yield check, DistanceLimit(sense, Fraction(wanted.low), finding.authority, _sections(finding))


def _sections(finding: Finding) -> str:
    cited = (" ".join(part for part in (each.document, each.edition, each.section) if part) for each in finding.cites)
    return "; ".join(cited) or finding.basis.value.replace("_", " ")


def _sheet(figure: Figure, texts: Mapping[DistanceLimit, str], fact: str) -> Worksheet:
    found = allowed(tuple(texts))
    in_order = (*found.nearest_by, *found.farthest_by, *found.others)
    lines = [Line("1", figure.title, "", figure.text, "", "")]
    for letter, limit in zip(ascii_lowercase, in_order, strict=False):
        counts = "" if limit in found.others else ", counts"
        by = ", ".join(part for part in (limit.authority, limit.section) if part)
        lines.append(Line(letter, _WORDS[limit.sense], "", f"{texts[limit]}{counts}", "", by))
    lines.append(Line("r", "allowed", "the stricter of each kind", _allowed(found, texts), "", ""))
    subject = fact.removesuffix(_FACT)
    assumptions = (_CONTRADICTS,) if found.contradicts else ()
    return Worksheet(f"{subject}.limits", "Limits of one distance", subject, tuple(lines), _LIMITS, assumptions)


_LIMITS = "Limits of the rules that are in force here and speak of this distance."


def _allowed(found: Allowed, texts: Mapping[DistanceLimit, str]) -> str:
    ends = [(Sense.NOT_NEARER, found.nearest_by), (Sense.NOT_FARTHER, found.farthest_by)]
    return " and ".join(f"{_WORDS[sense]} {texts[limits[0]]}" for sense, limits in ends if limits)


def _naming(finding: Finding, sheets: Mapping[str, Worksheet]) -> Finding:
    checks = tuple(_with_sheet(check, sheets) for check in finding.checks)
    return finding if checks == finding.checks else replace(finding, checks=checks)


def _with_sheet(check: Check, sheets: Mapping[str, Worksheet]) -> Check:
    sheet = sheets.get(check.found.fact or "")
    return check if sheet is None else replace(check, found=replace(check.found, worksheet=sheet.id))
