"""Two sides compared, as plain data for other programs, in the shape of ``schemas/compare.schema.json``."""

from __future__ import annotations

from typing import Any

from checker.findings.judging.outcomes import Outcome
from checker.report.programs.citations import citation_data
from checker.report.safe import json_text
from checker.tasks.comparing.rule_differences import RuleDifference
from checker.tasks.comparing.sides import Compared, FindingChange, Side, SiteCompared
from checker.version import __version__

Plain = dict[str, Any]


def compared_json(compared: Compared) -> str:
    """The comparison as JSON text: sorted, indented, the same bytes for the same input, ending in a line feed."""
    return json_text(compared_data(compared))


def compared_data(compared: Compared) -> Plain:
    """Both sides, the rules that differ, and the findings that change."""
    return {
        "checker": __version__,
        "before": _side(compared.before),
        "after": _side(compared.after),
        "rules": [_rule(each) for each in compared.rules.differences],
        "rules_the_same": compared.rules.same,
        "sites": [_site(each) for each in compared.sites],
    }


def _side(side: Side) -> Plain:
    return {
        "name": side.name,
        "documents": list(side.documents),
        "layers": list(side.layers),
        "notices": list(side.notices),
    }


def _rule(rule: RuleDifference) -> Plain:
    return {
        "pack": rule.pack,
        "rule": rule.id,
        "title": rule.title,
        "subject": rule.subject,
        "what": rule.kind,
        "cites_before": [citation_data(each) for each in rule.cites_before],
        "cites_after": [citation_data(each) for each in rule.cites_after],
        "differences": [
            {"aspect": each.aspect, "what": each.what, "before": each.before, "after": each.after}
            for each in rule.differences
        ],
        "because": list(rule.because),
    }


def _site(site: SiteCompared) -> Plain:
    return {
        "file": site.file,
        "name": site.name,
        "findings": [_change(each) for each in site.changes],
        "findings_the_same": site.same,
    }


def _change(change: FindingChange) -> Plain:
    return {
        "id": change.id,
        "subject": change.subject,
        "title": change.title,
        "before": _outcome(change.before),
        "after": _outcome(change.after),
        "says_before": change.says_before or None,
        "says_after": change.says_after or None,
        "because": None if change.why is None else {"pack": change.why.pack, "rule": change.why.id},
        "permission": change.permission or None,
    }


def _outcome(outcome: Outcome | None) -> str | None:
    return None if outcome is None else outcome.value
