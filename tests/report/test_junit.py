"""Reviews as JUnit XML: failures are what stops a run, the rest is skipped or passes; read by another program."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import pytest
from junitparser import JUnitXml, TestCase, TestSuite

from checker.findings.finding import Review
from checker.findings.judging.outcomes import Outcome
from checker.report.exit_status import PLAIN_GATE, SETTLED, Gate
from checker.report.programs.junit import junit_report
from checker.tasks.comparing.earlier import Earlier
from checker.values.problems import Problem
from tests.report.reviews import SWITCH, finding, review

RESULTS = {
    Outcome.CORRECTION: "Failure",
    Outcome.NEEDS_INFORMATION: "Failure",
    Outcome.AHJ_TO_DECIDE: "Failure",
    Outcome.RULE_ERROR: "Error",
    Outcome.VERIFY_IN_FIELD: "Skipped",
    Outcome.SPECIAL_PERMISSION: "Skipped",
    Outcome.NOT_APPLICABLE: "Skipped",
    Outcome.RECOMMENDATION: "",
    Outcome.NOTE: "",
    Outcome.MET: "",
}


def suites(*found: Review, unread: Sequence[tuple[str, Problem]] = (), gate: Gate = PLAIN_GATE) -> list[TestSuite]:
    return list(JUnitXml.fromstring(junit_report(found, unread, gate).encode("utf-8")))


def result_of(case: TestCase) -> str:
    return next((type(each).__name__ for each in case.result), "")


@pytest.mark.parametrize("outcome", Outcome, ids=lambda outcome: outcome.value)
def test_each_outcome_has_its_result(outcome: Outcome) -> None:
    (suite,) = suites(review(finding(outcome)))
    (case,) = suite
    assert result_of(case) == RESULTS[outcome]


def test_what_is_let_through_is_skipped() -> None:
    (suite,) = suites(review(finding(Outcome.NEEDS_INFORMATION)), gate=Gate(fail_on_open=False))
    assert [result_of(case) for case in suite] == ["Skipped"]


def test_what_an_earlier_report_holds_is_skipped_and_says_so() -> None:
    known = finding(Outcome.CORRECTION)
    gate = Gate(earlier=Earlier("before.json", {"site.yaml": {known.id: ("correction", False)}}))
    (suite,) = suites(review(known), gate=gate)
    (case,) = suite
    assert result_of(case) == "Skipped"
    assert "held by the earlier report" in case.result[0].message


def test_counts_are_those_of_the_cases_and_failures_those_that_stop_the_run(
    fixture_reviews: Mapping[str, Review],
) -> None:
    for found, suite in zip(fixture_reviews.values(), suites(*fixture_reviews.values()), strict=True):
        results = [result_of(case) for case in suite]
        assert suite.name == found.file
        assert (suite.tests, suite.failures, suite.errors, suite.skipped) == (
            len(found.findings),
            *(results.count(kind) for kind in ("Failure", "Error", "Skipped")),
        )
        assert suite.failures == sum(PLAIN_GATE.stops(found, each) != SETTLED for each in found.findings)


def test_a_file_that_could_not_be_read_is_an_error() -> None:
    (suite,) = suites(unread=[("bad.yaml", Problem("No site.", remedy="Write site:.")), ("bad.yaml", Problem("Two."))])
    (case,) = suite
    assert (suite.name, suite.errors, case.result[0].message) == ("bad.yaml", 1, "No site.")
    assert "Two." in case.result[0].text


def test_a_name_cannot_break_out() -> None:
    hostile = '"><failure/>\x1b[31m\ufffe&lt;'
    named = finding(Outcome.CORRECTION, says=hostile, subject=SWITCH)
    (suite,) = suites(review(named, file=hostile))
    (case,) = suite
    assert result_of(case) == "Failure"
    assert case.result[0].message.startswith('correction: "><failure/>?[31m')
