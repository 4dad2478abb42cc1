"""Reviews as test reports in the JUnit XML form that build servers read.

A site is a suite and a finding of the plan a case. A correction, and what is open now unless that is let through, is a
failure; a rule that broke or a file that could not be read is an error; what was not judged is skipped, and says why.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal
from xml.etree import ElementTree as ET

from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.exit_status import SETTLED, Gate
from checker.report.safe import harmless
from checker.report.text import finding_text
from checker.report.words import OUTCOME_WORDS, STAGE_WORDS, sentence_of
from checker.values.problems import Problem

Result = Literal["failure", "error", "skipped", ""]

_NOT_JUDGED = (
    *(Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE, Outcome.VERIFY_IN_FIELD),
    *(Outcome.SPECIAL_PERMISSION, Outcome.NOT_APPLICABLE, Outcome.CORRECTION),
)
"""What is skipped where it does not stop the run. A correction stops it but where an earlier report holds it."""


def junit_report(reviews: Iterable[Review], unreadable: Sequence[tuple[str, Problem]], gate: Gate) -> str:
    """The reviews as JUnit XML text, and each file that could not be reviewed as a suite of its own."""
    root = ET.Element("testsuites", name="standby-checker")
    root.extend(_suite(review, gate) for review in reviews)
    root.extend(_unread(file, unreadable) for file in dict.fromkeys(file for file, _ in unreadable))
    ET.indent(root, " ")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{ET.tostring(root, encoding="unicode")}\n'


def _suite(review: Review, gate: Gate) -> ET.Element:
    rules = review.in_force
    given = {
        "site": review.site_name,
        "profile": rules.profile,
        "date": rules.date.isoformat(),
        "stage": STAGE_WORDS[review.stage],
    }
    cases = [_case(review, finding, gate) for finding in review.findings]
    return _counted(review.file, given, cases)


def _counted(file: str, given: dict[str, str], cases: list[ET.Element]) -> ET.Element:
    suite = ET.Element("testsuite", name=_text(file), tests=str(len(cases)))
    for kind, plural in (("failure", "failures"), ("error", "errors"), ("skipped", "skipped")):
        suite.set(plural, str(sum(case.find(kind) is not None for case in cases)))
    properties = ET.SubElement(suite, "properties")
    for name, value in given.items():
        ET.SubElement(properties, "property", name=name, value=_text(value))
    suite.extend(cases)
    return suite


def _case(review: Review, finding: Finding, gate: Gate) -> ET.Element:
    name = _text(f"{finding.title} ({finding.subject.words})")
    case = ET.Element("testcase", classname=_text(finding.id), name=name)
    result = _result(review, finding, gate)
    if result:
        known = ", held by the earlier report" if gate.earlier.holds(review, finding) else ""
        words = f"{OUTCOME_WORDS[finding.outcome]}{known}"
        told = ET.SubElement(case, result, message=_text(f"{words}: {sentence_of(finding)}"))
        if result != "skipped":
            told.set("type", words)
            told.text = _text("\n".join(finding_text(finding)))
    elif finding.outcome in (Outcome.RECOMMENDATION, Outcome.NOTE):
        ET.SubElement(case, "system-out").text = _text("\n".join(finding_text(finding)))
    return case


def _result(review: Review, finding: Finding, gate: Gate) -> Result:
    if finding.outcome is Outcome.RULE_ERROR:
        return "error"
    if gate.stops(review, finding) != SETTLED:
        return "failure"
    return "skipped" if finding.outcome in _NOT_JUDGED else ""


def _unread(file: str, unreadable: Sequence[tuple[str, Problem]]) -> ET.Element:
    case = ET.Element("testcase", classname="standby-checker", name="the file can be read")
    found = [problem for name, problem in unreadable if name == file]
    error = ET.SubElement(case, "error", type="could not be read", message=_text(found[0].sentence))
    error.text = _text("\n".join(map(str, found)))
    return _counted(file, {}, [case])


def _text(text: str) -> str:
    """Text that XML can hold: two code points that are no characters stand as the sign for what could not be read."""
    return harmless(text).translate({0xFFFE: 0xFFFD, 0xFFFF: 0xFFFD})
