"""What the program does to be quick gives what the long way gives.

A view with pins takes over whatever does not rest on a pinned fact; a rule that is settled at the first look is not
looked at again in every branch.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checker.facts.view import View
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.plan import plan
from checker.findings.review import view_of
from checker.site.model import Site, Stated, Thing
from checker.values.positions import Position
from tests.generators.cases import CATALOG, Case
from tests.generators.choosing import seeded
from tests.soundness.completions import Completion, completions
from tests.soundness.engine import verdicts
from tests.soundness.sweep import sweep
from tests.soundness.views import Pins, pins, worked_out

_FILLED_IN = Position("site.yaml", 1, 1)


def _as_drawn(site: Site, pinned: Pins) -> Site:
    """The drawing with what is pinned written on it."""
    things = dict(site.things)
    for leaf, value in pinned.items():
        thing = things.get(leaf.subject) or Thing(leaf.subject, _FILLED_IN, {})
        facts = {**thing.facts, leaf.name: Stated(value, "pinned", _FILLED_IN)}
        things[leaf.subject] = Thing(leaf.subject, thing.at, facts)
    return replace(site, things=things)


def _unlike_pinned(case: Case) -> list[str] | None:
    """Where a view with pins differs from a new view with them, or from that of the drawing with them written on it."""
    completion = next(completions(case.site, CATALOG, case.seed, 1), None)
    if completion is None:
        return None
    view = view_of(case.site, CATALOG)
    chosen = pins(seeded(case.seed), view, completion.site)
    pinned, others = view.pinned(chosen), (View(view.ground, chosen), view_of(_as_drawn(case.site, chosen), CATALOG))
    return [
        f"{subject}.{fact.name}: {pinned.read(subject, fact.name)}, and the long way {other.read(subject, fact.name)}"
        for subject, fact in worked_out(view)
        for other in others
        if pinned.read(subject, fact.name) != other.read(subject, fact.name)
    ]


def test_a_view_with_pins_knows_what_a_new_view_and_the_drawing_itself_know() -> None:
    sweep(50, _unlike_pinned)


def _not_between(case: Case) -> list[str] | None:
    """Findings that come out of a look with pins, but not of the open or the completed drawing.

    Also of rules that were settled at the first look, and were not looked at in branches.
    """
    completion = next((each for each in completions(case.site, CATALOG, case.seed, 1) if each.has_answers), None)
    return None if completion is None else list(_outside(case, completion))


def _outside(case: Case, completion: Completion) -> Iterator[str]:
    view = view_of(case.site, CATALOG)
    before, after = (verdicts(site, CATALOG, case.rules) for site in (case.site, completion.site))
    evidence = SiteEvidence(view.pinned(pins(seeded(case.seed), view, completion.site)))
    for planned in plan(case.rules, view):
        found = evaluate(planned.rule, planned.subject, planned.belongs, evidence, case.rules.date).possible
        key = (planned.rule.id, planned.subject)
        if not found <= before[key].could_be:
            yield f"{key}: with pins {found}, and without {before[key].could_be}"
        if key in after and not after[key].could_be <= found:
            yield f"{key}: with pins {found}, and completed {after[key].could_be}"


def test_looking_again_with_facts_pinned_lies_between_the_open_and_the_completed_drawing() -> None:
    sweep(40, _not_between)
