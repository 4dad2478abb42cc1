"""Reviews as SARIF: the right kinds, fingerprints that stay, and that another program reads it.

Against the published JSON Schema it is held in ``tests/editor/``, where that schema is installed.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest
from sarif_pydantic import Sarif

from checker.findings.finding import Review
from checker.findings.judging.outcomes import Outcome
from checker.report.programs.sarif import FINGERPRINT, sarif_report
from checker.tasks.comparing.earlier import Earlier
from checker.values.positions import Position
from checker.values.problems import Problem
from tests.report.reviews import CHECK, finding, review

# SARIF 2.1.0, 3.27.9 (kind), 3.27.10 (level: none unless kind is fail), 3.35 (suppression).
KINDS = {
    Outcome.CORRECTION: ("fail", "error"),
    Outcome.SPECIAL_PERMISSION: ("fail", "error"),
    Outcome.NEEDS_INFORMATION: ("open", "none"),
    Outcome.VERIFY_IN_FIELD: ("review", "none"),
    Outcome.AHJ_TO_DECIDE: ("review", "none"),
    Outcome.RECOMMENDATION: ("informational", "none"),
    Outcome.NOTE: ("informational", "none"),
    Outcome.MET: ("pass", "none"),
    Outcome.NOT_APPLICABLE: ("notApplicable", "none"),
}


def run_of(found: Review, **options: Any) -> dict[str, Any]:
    (run,) = json.loads(sarif_report([found], **options))["runs"]
    assert isinstance(run, dict)
    return run


@pytest.mark.parametrize("outcome", KINDS, ids=lambda outcome: outcome.value)
def test_each_outcome_has_its_kind_and_level(outcome: Outcome) -> None:
    (result,) = run_of(review(finding(outcome)))["results"]
    assert (result["kind"], result["level"]) == KINDS[outcome]
    assert ("suppressions" in result) is (outcome is Outcome.SPECIAL_PERMISSION)


def test_a_rule_that_broke_is_a_notification_and_no_result() -> None:
    run = run_of(review(finding(Outcome.RULE_ERROR), finding(Outcome.MET)))
    (invocation,) = run["invocations"]
    assert len(run["results"]) == 1
    assert invocation["executionSuccessful"] is False
    assert [each["level"] for each in invocation["toolExecutionNotifications"]] == ["error", "note"]


def test_results_name_their_rule_by_its_place_too(fixture_reviews: Mapping[str, Review]) -> None:
    for found in fixture_reviews.values():
        run = run_of(found)
        rules = run["tool"]["driver"]["rules"]
        assert all(rules[each["ruleIndex"]]["id"] == each["ruleId"] for each in run["results"])
        assert len({each["id"] for each in rules}) == len(rules)
        assert len(run["results"]) == sum(each.outcome is not Outcome.RULE_ERROR for each in found.findings)


def test_fingerprints_are_unique_in_a_site_and_stay_when_lines_and_figures_move(
    fixture_reviews: Mapping[str, Review],
) -> None:
    for found in fixture_reviews.values():
        prints = [each["partialFingerprints"][FINGERPRINT] for each in run_of(found)["results"]]
        assert len(set(prints)) == len(prints)
    moved = replace(CHECK, found=replace(CHECK.found, text="90 A", at=Position("site.yaml", 99, 1)))
    one, two = (run_of(review(finding(Outcome.CORRECTION, checks=(each,)))) for each in (CHECK, moved))
    assert one["results"][0]["partialFingerprints"] == two["results"][0]["partialFingerprints"]
    assert one["results"][0]["locations"] != two["results"][0]["locations"]


def test_a_result_stands_at_its_line_and_at_its_piece() -> None:
    (result,) = run_of(review(finding(Outcome.CORRECTION)))["results"]
    (location,) = result["locations"]
    assert location["physicalLocation"] == {
        "artifactLocation": {"uri": "site.yaml"},
        "region": {"startLine": 16, "startColumn": 26},
    }
    assert [each["name"] for each in location["logicalLocations"]] == ["ATS1"]


def test_names_of_files_are_written_as_addresses() -> None:
    at = replace(CHECK, found=replace(CHECK.found, at=Position("a b/säge%.yaml", 1, 1)))
    (result,) = run_of(review(finding(Outcome.CORRECTION, checks=(at,))))["results"]
    assert result["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == "a%20b/s%C3%A4ge%25.yaml"


def test_a_file_that_could_not_be_read_is_a_run_that_failed() -> None:
    problems = [("bad.yaml", Problem("No site.", Position("bad.yaml", 3, 1), "Write site:.", "site"))]
    runs = json.loads(sarif_report([review(finding(Outcome.MET))], problems))["runs"]
    assert [each["invocations"][0]["executionSuccessful"] for each in runs] == [True, False]
    (told,) = runs[1]["invocations"][0]["toolExecutionNotifications"]
    assert told["message"]["text"] == "No site. Write site:. Nearest valid name: site."


def test_what_an_earlier_report_holds_is_unchanged() -> None:
    same, worse = finding(Outcome.CORRECTION), finding(Outcome.CORRECTION, id="town-2020:other@ATS1")
    earlier = Earlier(
        "before.json",
        {"site.yaml": {same.id: ("correction", False), worse.id: ("needs_information", False)}},
    )
    results = run_of(review(same, worse), earlier=earlier)["results"]
    assert [each["baselineState"] for each in results] == ["unchanged", "new"]


def test_another_program_reads_all_of_it(fixture_reviews: Mapping[str, Review]) -> None:
    text = sarif_report(fixture_reviews.values(), [("bad.yaml", Problem("No site."))])
    read = Sarif.model_validate_json(text)
    assert [len(run.results or []) for run in read.runs] == [
        *(len(found.findings) for found in fixture_reviews.values()),
        0,
    ]
