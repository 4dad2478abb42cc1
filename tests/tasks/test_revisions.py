"""Two reviews of one job held against each other, finding by finding."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checker.findings.finding import Finding
from checker.findings.outcomes import SETTLED_OUTCOMES, Outcome
from checker.tasks.revisions import FactChange, Standing, revised
from tests.report.reviews import CHECK, finding, review

OPEN = [outcome for outcome in Outcome if outcome not in SETTLED_OUTCOMES]


def standing(before: Finding | None, after: Finding | None) -> Standing | None:
    sides = [review(*([each] if each is not None else [])) for each in (before, after)]
    steps = revised(*sides).steps
    return steps[0].standing if steps else None


@pytest.mark.parametrize("outcome", OPEN, ids=lambda outcome: outcome.value)
def test_what_was_settled_or_not_asked_and_is_open_is_new(outcome: Outcome) -> None:
    for before in (None, finding(Outcome.MET), finding(Outcome.NOT_APPLICABLE)):
        assert standing(before, finding(outcome)) is Standing.NEW


@pytest.mark.parametrize("outcome", OPEN, ids=lambda outcome: outcome.value)
def test_what_was_open_and_is_settled_or_gone_is_cured(outcome: Outcome) -> None:
    for after in (None, finding(Outcome.MET), finding(Outcome.NOT_APPLICABLE)):
        assert standing(finding(outcome), after) is Standing.CURED


@pytest.mark.parametrize("outcome", OPEN, ids=lambda outcome: outcome.value)
def test_what_reads_the_same_is_still_open_whatever_its_number_and_edition(outcome: Outcome) -> None:
    one = finding(outcome)
    assert standing(one, replace(one, number=7, id=one.id.replace("2020", "2023"))) is Standing.STILL_OPEN


@pytest.mark.parametrize(
    "changes",
    [
        {"outcome": Outcome.CORRECTION},
        {"says": "ATS1 is rated 150 A."},
        {"needs": ()},
        {"checks": (replace(CHECK, found=replace(CHECK.found, text="150 A")),)},
        {"checks": ()},
    ],
    ids=["outcome", "sentence", "needs", "figure", "nothing compared"],
)
def test_what_is_open_and_reads_otherwise_has_changed(changes: dict[str, Any]) -> None:
    one = finding(Outcome.NEEDS_INFORMATION)
    assert standing(one, replace(one, **changes)) is Standing.CHANGED


def test_what_is_settled_on_both_sides_is_not_told() -> None:
    assert standing(finding(Outcome.MET), finding(Outcome.NOT_APPLICABLE)) is None
    assert standing(None, finding(Outcome.MET)) is None


def test_the_facts_that_differ_say_why() -> None:
    other = replace(CHECK, found=replace(CHECK.found, text="200 A"))
    sides = review(finding(Outcome.CORRECTION)), review(finding(Outcome.MET, checks=(other,)))
    (step,) = revised(*sides).steps
    assert step.facts == (FactChange("ATS1.rated_current", "100 A", "200 A"),)
