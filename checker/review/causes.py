"""Which one stated fact brought a miss about."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.review.evaluation import Evaluation, applied
from checker.review.evidence import SiteEvidence
from checker.review.naming import leaf_name
from checker.review.operands import Numbers
from checker.review.outcomes import Outcome
from checker.review.plan import Planned
from checker.site.model import SITE
from checker.values.truth import Truth, all_of

_MISSES = (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)


def follows_from(planned: Planned, evaluation: Evaluation, view: View, on: date) -> str | None:
    """The one stated fact without which it would be open whether the rule applies; a role comes before any other fact."""
    if evaluation.outcome not in _MISSES:
        return None
    deciding = list(_deciding(planned, evaluation, view, on))
    roles = [leaf for leaf in deciding if leaf.name == "role"]
    chosen = roles or deciding
    return leaf_name(chosen[0]) if len(chosen) == 1 else None


def _is_a_decision(leaf: Leaf, planned: Planned) -> bool:
    """A role, or a fact of another piece; what the site or the subject itself is brought nothing about."""
    return leaf.name == "role" or leaf.subject not in (SITE, planned.subject)


def _deciding(planned: Planned, evaluation: Evaluation, view: View, on: date) -> Iterator[Leaf]:
    look = evaluation.look
    for leaf in sorted(look.belongs.leaves | look.when.leaves, key=lambda each: each.order):
        is_stated = view.ground.site.stated(leaf.subject, leaf.name) is not None
        if leaf.ask is not Ask.FACT or not is_stated or not _is_a_decision(leaf, planned):
            continue
        without = SiteEvidence(view.pinned({leaf: view.ground.catalog.facts[leaf.name].anything()}))
        numbers = Numbers.of(planned.rule)
        again = applied(planned.rule, planned.subject, planned.belongs(without), without, on, numbers)
        if all_of((again.belongs.truth, again.when.truth)) is not Truth.YES:
            yield leaf
