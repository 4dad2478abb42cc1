"""What must hold between a drawing and a drawing of which more is known (section 5 of the design)."""

from __future__ import annotations

from collections.abc import Iterator

from checker.findings.judging.outcomes import Outcome
from checker.site.model import Subject
from tests.soundness.engine import Key, Verdict, Verdicts

DECIDED = frozenset({Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE, Outcome.AHJ_TO_DECIDE})
"""Outcomes that stay whatever else becomes known."""
NOTHING_TO_CORRECT = frozenset({Outcome.MET, Outcome.NOT_APPLICABLE})
"""Outcomes of which one may become the other."""

_LEFT = Verdict(Outcome.NOT_APPLICABLE, frozenset({Outcome.NOT_APPLICABLE}))
"""What a finding counts as that left the plan because a role was decided."""


def unsound(before: Verdicts, after: Verdicts, added: frozenset[Subject]) -> Iterator[str]:
    """Everything that a drawing said and that did not hold when more was known. ``added`` are new subjects."""
    for key, verdict in before.items():
        found = after.get(key)
        if found is None and not _stands_on_a_role(verdict):
            yield f"{_name(key)} left the plan, and could have been {_words(verdict.could_be)}"
        else:
            yield from _broken(key, verdict, found or _LEFT)
    for rule, subject in after:
        if (rule, subject) not in before and subject not in added and not _is_figure(subject):
            yield f"{_name((rule, subject))} was not in the plan"


def _is_figure(subject: Subject) -> bool:
    """Whether it is a stated figure held against what is worked out, which comes into the plan only when that is one
    value, or leaves the stated one out: nothing was said of it before.
    """
    return subject.type == "figure"


def _stands_on_a_role(verdict: Verdict) -> bool:
    """Whether it was open if the rule speaks of the subject at all."""
    return Outcome.NOT_APPLICABLE in verdict.could_be


def _broken(key: Key, before: Verdict, after: Verdict) -> Iterator[str]:
    if not after.could_be <= before.could_be:
        yield f"{_name(key)} could be {_words(before.could_be)}, and then {_words(after.could_be)}"
    if before.outcome in DECIDED and after.outcome is not before.outcome:
        yield f"{_name(key)} was {before.outcome.value}, and then {after.outcome.value}"
    if before.outcome in NOTHING_TO_CORRECT and after.outcome not in NOTHING_TO_CORRECT:
        yield f"{_name(key)} was {before.outcome.value}, and then {after.outcome.value}"


def narrower(before: Verdicts, after: Verdicts) -> Iterator[str]:
    """Everything that is missing or was lost when less was known: findings, or possibilities of one."""
    for key, verdict in before.items():
        found = after.get(key)
        if found is None:
            if not _is_figure(key[1]):
                yield f"{_name(key)} left the plan when less was known"
        elif not verdict.could_be <= found.could_be:
            yield f"{_name(key)} could be {_words(verdict.could_be)}, and with less known {_words(found.could_be)}"


def _name(key: Key) -> str:
    rule, subject = key
    return f"{rule} at {subject.type} {subject.id}"


def _words(outcomes: frozenset[Outcome]) -> str:
    return " or ".join(sorted(outcome.value for outcome in outcomes))
