"""Which one decision on the drawing brought a miss about: the role of a disconnect."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.findings.assembling.naming import leaf_name
from checker.findings.judging.evaluation import Evaluation, applied
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.operands import Numbers
from checker.findings.judging.outcomes import Outcome
from checker.findings.judging.plan import Planned

DECISIONS = frozenset({"role"})
"""Facts that are decisions of whoever drew it, from which other things follow; what is merely the case is no
decision.
"""

_MISSES = (Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)


def follows_from(planned: Planned, evaluation: Evaluation, view: View, on: date) -> str | None:
    """The one stated decision without which the miss would not be certain; None where there is none or more than
    one.
    """
    if evaluation.outcome not in _MISSES or evaluation.versions:
        return None
    deciding = tuple(_deciding(planned, evaluation, view, on))
    return leaf_name(deciding[0]) if len(deciding) == 1 else None


def _deciding(planned: Planned, evaluation: Evaluation, view: View, on: date) -> Iterator[Leaf]:
    leaves = frozenset().union(*(judged.leaves for judged in evaluation.look.everything))
    for leaf in sorted(leaves, key=lambda each: each.order):
        is_stated = view.ground.site.stated(leaf.subject, leaf.name) is not None
        if leaf.ask is not Ask.FACT or leaf.name not in DECISIONS or not is_stated:
            continue
        without = SiteEvidence(view.pinned({leaf: view.ground.catalog.facts[leaf.name].anything()}))
        again = applied(planned.rule, planned.subject, planned.belongs(without), without, on, Numbers.of(planned.rule))
        if again.possible != evaluation.possible:
            yield leaf
