"""The exit status: 2, 4, 1, 3, 0, the first that holds for any file."""

from __future__ import annotations

from itertools import product

import pytest

from checker.catalog.model import Stage
from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.exit_status import Gate, exit_status
from tests.report.reviews import finding, review

LATER = finding(Outcome.NEEDS_INFORMATION, due=Stage.ACCEPTANCE)
ASSUMED = ("GEN1.power_at_site",)
EMPTY = review()
NOTHING_APPLIES = review(finding(Outcome.NOT_APPLICABLE))
BROKEN = review(finding(Outcome.RULE_ERROR), finding(Outcome.CORRECTION))
CORRECTED = review(finding(Outcome.CORRECTION), finding(Outcome.NEEDS_INFORMATION))
OPEN = review(finding(Outcome.NEEDS_INFORMATION), finding(Outcome.MET))
MET = review(finding(Outcome.MET))


def status(*reviews: Review, unreadable: bool = False, fail_on_open: bool = True) -> int:
    return exit_status(reviews, unreadable=unreadable, gate=Gate(fail_on_open))


@pytest.mark.parametrize(
    ("outcome", "expected"),
    [
        (Outcome.RULE_ERROR, 4),
        (Outcome.CORRECTION, 1),
        (Outcome.NEEDS_INFORMATION, 3),
        (Outcome.AHJ_TO_DECIDE, 3),
        (Outcome.RECOMMENDATION, 0),
        (Outcome.NOTE, 0),
        (Outcome.SPECIAL_PERMISSION, 0),
        (Outcome.VERIFY_IN_FIELD, 0),
        (Outcome.MET, 0),
        (Outcome.NOT_APPLICABLE, 0),
    ],
)
def test_each_outcome_beside_one_that_is_met(outcome: Outcome, expected: int) -> None:
    assert status(review(finding(outcome), finding(Outcome.MET))) == expected


@pytest.mark.parametrize(("found", "expected"), [(EMPTY, 2), (NOTHING_APPLIES, 2), (review(LATER), 0)])
def test_doing_nothing_is_no_success(found: Review, expected: int) -> None:
    assert status(found) == expected


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        (LATER, 0),
        (finding(Outcome.NEEDS_INFORMATION, due=Stage.PLAN_REVIEW), 3),
        (finding(Outcome.AHJ_TO_DECIDE, due=Stage.INSTALLATION), 0),
        (finding(Outcome.MET, assumed=ASSUMED), 3),
        (finding(Outcome.NOT_APPLICABLE, assumed=ASSUMED), 3),
        (finding(Outcome.MET, assumed=ASSUMED, due=Stage.INSTALLATION), 0),
        (finding(Outcome.MET, unconfirmed=("margin",)), 0),
        (finding(Outcome.RECOMMENDATION, assumed=ASSUMED), 0),
        (finding(Outcome.VERIFY_IN_FIELD, assumed=ASSUMED), 0),
        (finding(Outcome.CORRECTION, due=Stage.IN_SERVICE), 1),
    ],
)
def test_what_is_due_later_is_not_open_and_what_is_assumed_is(found: Finding, expected: int) -> None:
    assert status(review(found, finding(Outcome.MET))) == expected


@pytest.mark.parametrize(("stage", "expected"), [(Stage.INSTALLATION, 0), (Stage.ACCEPTANCE, 3), (Stage.IN_SERVICE, 3)])
def test_the_stage_of_the_review_says_what_is_due(stage: Stage, expected: int) -> None:
    assert status(review(LATER, finding(Outcome.MET), stage=stage)) == expected


@pytest.mark.parametrize(
    ("reviews", "unreadable", "expected"),
    [
        ((), True, 2),
        ((), False, 2),
        ((CORRECTED,), True, 2),
        ((CORRECTED, NOTHING_APPLIES), False, 2),
        ((CORRECTED, BROKEN), False, 4),
        ((OPEN, CORRECTED), False, 1),
        ((MET, OPEN), False, 3),
        ((MET, MET), False, 0),
    ],
)
def test_the_first_that_holds_for_any_file(reviews: tuple[Review, ...], unreadable: bool, expected: int) -> None:
    assert status(*reviews, unreadable=unreadable) == expected
    assert status(*reversed(reviews), unreadable=unreadable) == expected


@pytest.mark.parametrize(
    ("found", "expected"), [(OPEN, 0), (CORRECTED, 1), (BROKEN, 4), (EMPTY, 2), (MET, 0), (review(LATER), 0)]
)
def test_fail_on_correction_turns_3_into_0_and_nothing_else(found: Review, expected: int) -> None:
    assert status(found, fail_on_open=False) == expected


def test_worse_is_never_hidden_by_more() -> None:
    """Whatever is added to a file, a status that came before in the order stays."""
    order = (2, 4, 1, 3, 0)
    files = {2: NOTHING_APPLIES, 4: BROKEN, 1: CORRECTED, 3: OPEN, 0: MET}
    for one, other in product(order, order):
        assert status(files[one], files[other]) == min(one, other, key=order.index)
