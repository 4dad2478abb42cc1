"""Reviews in the Static Analysis Results Interchange Format, SARIF 2.1.0 (OASIS), for programs that show findings
beside the lines of a file.

One run for each site, since the rules in force are those of the site. Every finding of the plan is a result:

    correction                fail, error
    not shown                 open
    field verify              review
    AHJ to decide             review
    by special permission     fail, suppressed by who permits it
    recommendation, note      informational
    meets, does not apply     pass, notApplicable

A rule that broke, a file that could not be read, and what is to be told about the run are notifications of the tool.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any
from urllib.parse import quote

from checker.findings.finding import Finding, Need, Notice, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.places import place_of, places_of
from checker.report.safe import json_text
from checker.report.words import OUTCOME_WORDS, STAGE_WORDS, authority_text, sentence_of
from checker.tasks.comparing.earlier import NO_EARLIER, Earlier
from checker.values.positions import Position
from checker.values.problems import Problem
from checker.version import __version__

Plain = dict[str, Any]

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
TOOL = "standby-checker"
FINGERPRINT = "finding/v1"

_KINDS = {
    Outcome.CORRECTION: "fail",
    Outcome.SPECIAL_PERMISSION: "fail",
    Outcome.NEEDS_INFORMATION: "open",
    Outcome.VERIFY_IN_FIELD: "review",
    Outcome.AHJ_TO_DECIDE: "review",
    Outcome.RECOMMENDATION: "informational",
    Outcome.NOTE: "informational",
    Outcome.MET: "pass",
    Outcome.NOT_APPLICABLE: "notApplicable",
}


def sarif_report(
    reviews: Iterable[Review], unreadable: Sequence[tuple[str, Problem]] = (), earlier: Earlier = NO_EARLIER
) -> str:
    """The reviews as SARIF text; ``unreadable`` holds the files that could not be reviewed, with what is wrong."""
    runs = [*(_run(review, earlier) for review in reviews), *_unread_runs(unreadable)]
    data = {"$schema": SCHEMA, "version": "2.1.0", "runs": runs}
    return json_text(data)


def _run(review: Review, earlier: Earlier) -> Plain:
    findings = [finding for finding in review.findings if finding.outcome is not Outcome.RULE_ERROR]
    broken = [finding for finding in review.findings if finding.outcome is Outcome.RULE_ERROR]
    numbers = {rule: place for place, rule in enumerate(sorted({finding.rule for finding in findings}))}
    told = [*(_broken(finding) for finding in broken), *(_told(notice) for notice in review.notices)]
    rules = review.in_force
    return {
        **_frame(review.file, [_rule(_first(findings, rule)) for rule in numbers], told, successful=not broken),
        "results": [_result(review, finding, numbers[finding.rule], earlier) for finding in findings],
        "properties": {
            "site": review.site_name,
            "digest": review.digest,
            "stage": STAGE_WORDS[review.stage],
            "profile": rules.profile,
            "date": rules.date.isoformat(),
            "notCovered": list(review.not_covered),
        },
    }


def _frame(file: str, rules: list[Plain], told: list[Plain], *, successful: bool) -> Plain:
    return {
        "tool": {"driver": {"name": TOOL, "version": __version__, "semanticVersion": __version__, "rules": rules}},
        "automationDetails": {"id": f"{TOOL}/{file}"},
        "columnKind": "unicodeCodePoints",
        "invocations": [{"executionSuccessful": successful, "toolExecutionNotifications": told}],
    }


def _first(findings: Iterable[Finding], rule: str) -> Finding:
    return next(finding for finding in findings if finding.rule == rule)


def _rule(finding: Finding) -> Plain:
    text = f"{finding.title}. {authority_text(finding)}."
    described = {
        "id": finding.rule,
        "shortDescription": {"text": f"{finding.title}."},
        "fullDescription": {"text": text},
    }
    return {**described, "help": {"text": finding.why}} if finding.why else described


def _result(review: Review, finding: Finding, number: int, earlier: Earlier) -> Plain:
    kind = _KINDS[finding.outcome]
    result: Plain = {
        "ruleId": finding.rule,
        "ruleIndex": number,
        "kind": kind,
        "level": "error" if kind == "fail" else "none",
        "message": {"text": _message(finding)},
        "locations": [_location(review, finding)],
        "partialFingerprints": {FINGERPRINT: finding.id},
        "properties": {
            "outcome": OUTCOME_WORDS[finding.outcome],
            "number": finding.number,
            "authority": authority_text(finding),
            "due": STAGE_WORDS[finding.due],
        },
    }
    related = [_physical(at) for at in list(places_of(finding))[1:]]
    if related:
        result["relatedLocations"] = [{"id": place, **each} for place, each in enumerate(related, start=1)]
    if finding.outcome is Outcome.SPECIAL_PERMISSION:
        result["suppressions"] = [{"kind": "external", "status": "accepted", "justification": finding.permission}]
    if earlier is not NO_EARLIER:
        result["baselineState"] = "unchanged" if earlier.holds(review, finding) else "new"
    return result


def _message(finding: Finding) -> str:
    asked = f" Provide: {'; '.join(map(_asked, finding.needs))}." if finding.needs else ""
    cures = " ".join(("Cure: " if place == 0 else "Or: ") + each for place, each in enumerate(finding.remedy))
    return f"{sentence_of(finding)}{asked}{' ' + cures if cures and finding.outcome is Outcome.CORRECTION else ''}"


def _asked(need: Need) -> str:
    return f"{need.title} ({need.fact})" if need.ask == "fact" else need.title


def _location(review: Review, finding: Finding) -> Plain:
    at = place_of(finding)
    place = _physical(at) if at is not None else {"physicalLocation": {"artifactLocation": _artifact(review.file)}}
    return {**place, "logicalLocations": [{"name": finding.subject.words, "kind": "resource"}]}


def _physical(at: Position) -> Plain:
    region = {"startLine": at.line, "startColumn": at.column}
    return {"physicalLocation": {"artifactLocation": _artifact(at.file), "region": region}}


def _artifact(file: str) -> Plain:
    return {"uri": quote(file)}


def _broken(finding: Finding) -> Plain:
    return {
        "level": "error",
        "message": {"text": f"{finding.rule} at {finding.subject.words}: {sentence_of(finding)}"},
    }


def _told(notice: Notice) -> Plain:
    told: Plain = {"level": "note", "message": {"text": f"{notice.sentence} {notice.remedy}".strip()}}
    return told if notice.at is None else {**told, "locations": [_physical(notice.at)]}


def _unread_runs(unreadable: Sequence[tuple[str, Problem]]) -> list[Plain]:
    files = dict.fromkeys(file for file, _ in unreadable)
    return [
        _frame(file, [], [_problem(file, each) for name, each in unreadable if name == file], successful=False)
        | {"results": []}
        for file in files
    ]


def _problem(file: str, problem: Problem) -> Plain:
    near = f" Nearest valid name: {problem.near}." if problem.near else ""
    place = {"physicalLocation": {"artifactLocation": _artifact(file)}} if problem.at is None else _physical(problem.at)
    return {
        "level": "error",
        "message": {"text": f"{problem.sentence} {problem.remedy}{near}".strip()},
        "locations": [place],
    }
