"""Which findings wait for answers, and what each would settle."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from checker.catalog.model import Stage
from checker.facts.figures import called
from checker.facts.known import Leaf
from checker.facts.view import View
from checker.findings.assembling.naming import subject_name
from checker.findings.assembling.needs import needs, open_leaves
from checker.findings.assembling.permissions import is_permitted
from checker.findings.finding import SubjectName
from checker.findings.judging.evaluation import applied, evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import Outcome, settled
from checker.findings.judging.plan import Planned, plan
from checker.findings.review import CAUTIONS_PACK, Job, site_name_of, view_of_job
from checker.rules.model.citing import Citation
from checker.rules.model.force import Basis
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class Waiting:
    """A finding that waits for answers: the claim, of what, under which sections, and the answers it waits for."""

    planned: Planned
    title: str
    subject: SubjectName
    basis: Basis
    cites: tuple[Citation, ...]
    due: Stage
    may_correct: bool
    leaves: tuple[Leaf, ...]


@dataclass(frozen=True, slots=True)
class Open:
    """Everything that is open on a site: the facts, and the findings that wait."""

    job: Job
    view: View
    waiting: tuple[Waiting, ...]

    def due(self) -> tuple[Waiting, ...]:
        """Those that are due at the stage of the job."""
        return tuple(each for each in self.waiting if each.due.order <= self.job.stage.order)

    def settled_by(self, pins: Mapping[Leaf, Possible], among: Iterable[Waiting]) -> tuple[Waiting, ...]:
        """Those among these that surely no longer wait once these are said. Undecided choices are not looked at one by
        one, as a review does, so that a few more may be settled.
        """
        evidence = SiteEvidence(self.view.pinned(pins))
        return tuple(each for each in among if self._outcome(each.planned, evidence) is not Outcome.NEEDS_INFORMATION)

    def _outcome(self, planned: Planned, evidence: SiteEvidence) -> Outcome:
        rule, on = planned.rule, self.job.rules.date
        if rule.versions:
            return evaluate(rule, planned.subject, planned.belongs, evidence, on).outcome
        look = applied(rule, planned.subject, planned.belongs(evidence), evidence, on, Numbers.of(rule))
        return settled(look.possible)


def open_of(job: Job) -> Open:
    """Apply the rules in force and keep the findings that wait; a rule that breaks is told by the review."""
    view = view_of_job(job)
    found = (_waiting(job, view, each) for each in plan(job.rules, view) if each.rule.rule.pack != CAUTIONS_PACK)
    return Open(job, view, tuple(each for each in found if each is not None))


def _waiting(job: Job, view: View, planned: Planned) -> Waiting | None:
    rule, evidence = planned.rule, SiteEvidence(view)
    try:
        evaluation = evaluate(rule, planned.subject, planned.belongs, evidence, job.rules.date)
    except Exception:  # noqa: BLE001  a rule that breaks is a finding of the review, and waits for no answer
        return None
    if evaluation.outcome is not Outcome.NEEDS_INFORMATION or _permitted(job, planned):
        return None
    leaves = open_leaves(evaluation, evidence)
    stages = (rule.rule.due, *(need.stage for need in needs(leaves, evidence)))
    return Waiting(
        planned,
        rule.rule.title,
        subject_name(view, planned.subject),
        rule.rule.basis,
        rule.cites,
        max(stages, key=lambda stage: stage.order),
        Outcome.CORRECTION in evaluation.possible,
        leaves,
    )


def _permitted(job: Job, planned: Planned) -> bool:
    rule = planned.rule.rule
    site, on = site_name_of(job.site), job.rules.date
    return is_permitted(job.rules.permissions, site, on, (rule.pack, rule.id, called(job.site, planned.subject)))
