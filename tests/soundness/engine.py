"""The only place of these tests that knows how a review is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from checker.catalog.model import Catalog, Stage
from checker.findings.finding import Review
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.plan import plan
from checker.findings.review import Job, review, view_of
from checker.rules.model.in_force import RulesInForce
from checker.site.model import Site, Subject

Key = tuple[str, Subject]
"""A rule and a subject."""


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came out for one rule and one subject."""

    outcome: Outcome
    could_be: frozenset[Outcome]


Verdicts = Mapping[Key, Verdict]
"""The verdicts of a whole plan, in its order."""


def verdicts(site: Site, catalog: Catalog, rules: RulesInForce) -> Verdicts:
    """The plan of a review with what comes out, without the sentences around it."""
    view = view_of(site, catalog)
    found: dict[Key, Verdict] = {}
    for planned in plan(rules, view):
        evaluation = evaluate(planned.rule, planned.subject, planned.belongs, SiteEvidence(view), rules.date)
        key = (planned.rule.id, planned.subject)
        assert key not in found, f"{key} is planned twice"
        assert evaluation.possible, f"nothing can come out of {key}"
        found[key] = Verdict(evaluation.outcome, frozenset(evaluation.possible))
    return found


def whole_review(site: Site, catalog: Catalog, rules: RulesInForce) -> Review:
    """The review as it is printed."""
    return review(Job(site, catalog, rules, Stage.PLAN_REVIEW))
