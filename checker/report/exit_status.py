"""The exit status of a review, the first that holds for any file."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.tasks.comparing.earlier import NO_EARLIER, Earlier

SETTLED, CORRECTION_WANTED, COULD_NOT_RUN, OPEN, RULE_BROKE = 0, 1, 2, 3, 4
_ORDER = (COULD_NOT_RUN, RULE_BROKE, CORRECTION_WANTED, OPEN, SETTLED)


@dataclass(frozen=True, slots=True)
class Gate:
    """Which findings make a run end in something else than 0: corrections, and what is open unless it is let through;
    none that an earlier report holds already.
    """

    fail_on_open: bool = True
    earlier: Earlier = NO_EARLIER

    def stops(self, review: Review, finding: Finding) -> int:
        """The exit status that one finding makes; 0 where it makes none."""
        if self.earlier.holds(review, finding):
            return SETTLED
        if finding.outcome is Outcome.CORRECTION:
            return CORRECTION_WANTED
        return OPEN if self.fail_on_open and finding.is_open_at(review.stage) else SETTLED


PLAIN_GATE = Gate()


def exit_status(reviews: Iterable[Review], *, unreadable: bool, gate: Gate = PLAIN_GATE) -> int:
    """2 could not run; 4 a rule broke; 1 a correction; 3 something due is open; 0 nothing of these."""
    found = {_status(review, gate) for review in reviews}
    if unreadable or not found:
        found.add(COULD_NOT_RUN)
    return next(status for status in _ORDER if status in found or status == SETTLED)


def applies_nothing(review: Review) -> bool:
    """Whether the plan is empty, or nothing in it applies: such a review has looked at nothing."""
    return all(finding.outcome is Outcome.NOT_APPLICABLE for finding in review.findings)


def _status(review: Review, gate: Gate) -> int:
    if applies_nothing(review):
        return COULD_NOT_RUN
    if review.totals()[Outcome.RULE_ERROR]:
        return RULE_BROKE
    stops = {gate.stops(review, finding) for finding in review.findings}
    return next(status for status in _ORDER if status in stops or status == SETTLED)
