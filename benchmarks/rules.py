"""Rules applied to the example: by the engine, and by hand-written Python that only answers."""

from __future__ import annotations

from dataclasses import dataclass, replace

from benchmarks import twin
from benchmarks.example import example_job
from benchmarks.timing import Spread, in_turn, repeated
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.plan import plan
from checker.findings.review import Job, review, view_of

BY_HAND, ENGINE, WITH_FINDINGS = "by hand", "engine, outcomes", "engine, findings"
ALL_OUTCOMES, ALL_FINDINGS = "all rules: engine, outcomes", "all rules: engine, findings"


@dataclass(frozen=True, slots=True)
class Compared:
    """What was measured, over how many pairs of rule and subject, and for which of them the two answer differently."""

    spreads: dict[str, Spread]
    rules: int
    pairs: int
    all_pairs: int
    differing: tuple[tuple[str, str], ...]


def compared(rounds: int) -> Compared:
    """The rules of the twin by both, and all rules by the engine alone. Facts are read before the clock starts."""
    job = example_job()
    few = _only(job, frozenset(twin.RULES))
    site, numbers = twin.plain_site(job.site), twin.plain_numbers(few.rules.rules)
    by_hand, by_engine = twin.answers(site, numbers), _outcomes(few)
    differing = tuple(sorted(key for key in {*by_hand, *by_engine} if by_hand.get(key) != by_engine.get(key)))
    spreads = in_turn(
        {
            BY_HAND: repeated(lambda: twin.answers(site, numbers)),
            ENGINE: repeated(lambda: _outcomes(few)),
            WITH_FINDINGS: repeated(lambda: review(few)),
            ALL_OUTCOMES: repeated(lambda: _outcomes(job)),
            ALL_FINDINGS: repeated(lambda: review(job)),
        },
        rounds,
    )
    return Compared(spreads, len(twin.RULES), len(by_engine), len(_outcomes(job)), differing)


def _only(job: Job, names: frozenset[str]) -> Job:
    rules = tuple(each for each in job.rules.rules if each.rule.id in names)
    return replace(job, rules=replace(job.rules, rules=rules))


def _outcomes(job: Job) -> twin.Answers:
    """The outcome of every rule for every subject, everything that is derived worked out anew."""
    view = view_of(job.site, job.catalog)
    return {
        (each.rule.rule.id, each.subject.id): evaluate(
            each.rule, each.subject, each.belongs, SiteEvidence(view), job.rules.date
        ).outcome.value
        for each in plan(job.rules, view)
    }
