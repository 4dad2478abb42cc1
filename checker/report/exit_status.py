"""The exit status of a review, the first that holds for any file."""

from __future__ import annotations

from collections.abc import Iterable

from checker.review.finding import Review
from checker.review.outcomes import Outcome

SETTLED, CORRECTION_WANTED, COULD_NOT_RUN, OPEN, RULE_BROKE = 0, 1, 2, 3, 4
_ORDER = (COULD_NOT_RUN, RULE_BROKE, CORRECTION_WANTED, OPEN, SETTLED)


def exit_status(reviews: Iterable[Review], *, unreadable: bool, fail_on_open: bool = True) -> int:
    """2 could not run; 4 a rule broke; 1 a correction; 3 something due is open; 0 nothing of these."""
    found = {_status(review, fail_on_open=fail_on_open) for review in reviews}
    if unreadable or not found:
        found.add(COULD_NOT_RUN)
    return next(status for status in _ORDER if status in found or status == SETTLED)


def applies_nothing(review: Review) -> bool:
    """Whether the plan is empty, or nothing in it applies: such a review has looked at nothing."""
    return all(finding.outcome is Outcome.NOT_APPLICABLE for finding in review.findings)


def _status(review: Review, *, fail_on_open: bool) -> int:
    totals = review.totals()
    if applies_nothing(review):
        return COULD_NOT_RUN
    if totals[Outcome.RULE_ERROR]:
        return RULE_BROKE
    if totals[Outcome.CORRECTION]:
        return CORRECTION_WANTED
    waits = any(finding.is_open_at(review.stage) for finding in review.findings)
    return OPEN if waits and fail_on_open else SETTLED
