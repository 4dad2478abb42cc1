"""Two reviews of one job held against each other: what is new, what changed, what is cured, what is still open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from checker.findings.finding import Finding, Review
from checker.findings.outcomes import SETTLED_OUTCOMES, Outcome
from checker.values.truth import Truth


class Standing(Enum):
    """How a finding stands in the later review against the earlier one."""

    NEW = "new"
    CHANGED = "changed"
    CURED = "cured"
    STILL_OPEN = "still open"


@dataclass(frozen=True, slots=True)
class FactChange:
    """A figure that a finding looked at, before and after; empty where it was not looked at."""

    fact: str
    was: str
    now: str


@dataclass(frozen=True, slots=True)
class Step:
    """One finding from the earlier review to the later one; None where there is no such finding."""

    standing: Standing
    before: Finding | None
    after: Finding | None
    facts: tuple[FactChange, ...]

    @property
    def told(self) -> Finding:
        """The finding as it is now, or as it was where it is gone."""
        found = self.after or self.before
        assert found is not None
        return found


@dataclass(frozen=True, slots=True)
class Revised:
    """Both reviews and every finding that is or was open, in the order of the later review."""

    before: Review
    after: Review
    steps: tuple[Step, ...]

    def of(self, standing: Standing) -> tuple[Step, ...]:
        """The findings of one standing."""
        return tuple(step for step in self.steps if step.standing is standing)


def revised(before: Review, after: Review) -> Revised:
    """Hold a later review against an earlier one. Findings are the same by pack, rule and subject, whatever edition."""
    was, now = ({each.key: each for each in review.findings} for review in (before, after))
    steps = (_step(was.get(key), now.get(key)) for key in dict.fromkeys((*now, *was)))
    return Revised(before, after, tuple(step for step in steps if step is not None))


def _step(before: Finding | None, after: Finding | None) -> Step | None:
    was_open, is_open = (each is not None and each.outcome not in SETTLED_OUTCOMES for each in (before, after))
    if not was_open and not is_open:
        return None
    facts = tuple(_facts(before, after))
    if not was_open:
        return Step(Standing.NEW, before, after, facts)
    if not is_open:
        return Step(Standing.CURED, before, after, facts)
    assert before is not None
    assert after is not None
    same = (before.outcome, before.says, before.needs) == (after.outcome, after.says, after.needs) and not facts
    return Step(Standing.STILL_OPEN if same else Standing.CHANGED, before, after, facts)


def _facts(before: Finding | None, after: Finding | None) -> Iterator[FactChange]:
    """Figures of the comparisons that read differently in the two."""
    was, now = _figures(before), _figures(after)
    for fact in dict.fromkeys((*now, *was)):
        if was.get(fact) != now.get(fact):
            yield FactChange(fact, was.get(fact, ""), now.get(fact, ""))


def _figures(finding: Finding | None) -> dict[str, str]:
    """What was found and what was wanted, by the fact; of what does not apply only what decided that it does not."""
    if finding is None:
        return {}
    settled = finding.outcome is Outcome.NOT_APPLICABLE
    checks = [check for check in finding.checks if check.part is not None or not settled or check.holds is Truth.NO]
    figures = [side for check in checks for side in (check.found, check.wanted) if side is not None]
    return {figure.fact: figure.text for figure in figures if figure.fact is not None}
