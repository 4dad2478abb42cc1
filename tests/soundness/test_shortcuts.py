"""What the program does to be quick gives what the long way gives.

A view with pins takes over whatever does not rest on a pinned fact; a rule that is settled at the first look is not
looked at again in every branch.
"""

from __future__ import annotations

from collections.abc import Iterator

from hypothesis import assume, given

from checker.catalog.model import Fact
from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.review.evaluation import evaluate
from checker.review.evidence import SiteEvidence
from checker.review.plan import plan
from checker.review.review import view_of
from checker.site.model import Site, Subject
from checker.values.possible import Possible
from tests.generators.cases import CATALOG, Case, cases
from tests.generators.choosing import Chooser, seeded
from tests.soundness.budget import examples
from tests.soundness.completions import completions
from tests.soundness.engine import verdicts

_MOST_PINS = 3
Pins = dict[Leaf, Possible]


def _worked_out(view: View) -> Iterator[tuple[Subject, Fact]]:
    """Every fact that is worked out on a drawing."""
    drawing = view.ground.drawing
    sides = (f"{tag}.{entry}" for tag in drawing.of("transfer_switch") for entry in drawing.inputs(tag))
    subjects = (
        *drawing.pieces.values(),
        *(feed.subject for feed in drawing.feeds),
        *(Subject("side", side) for side in sides),
    )
    for subject in subjects:
        for fact in CATALOG.facts_of(subject.type):
            if (fact.name.partition(".")[0], subject.type) in view.ground.registry:
                yield subject, fact


def _pins(choose: Chooser, view: View, completed: Site) -> Pins:
    """A few of the open facts on which something rests, as a completion has them."""
    known = (view.known(subject, fact.name) for subject, fact in _worked_out(view))
    leaves = sorted(
        {leaf for each in known for leaf in each.leaves if leaf.ask is Ask.FACT}, key=lambda leaf: leaf.order
    )
    open_leaves = [leaf for leaf in leaves if not view.read(leaf.subject, leaf.name).is_exact]
    return {
        leaf: said.value
        for leaf in choose.some(open_leaves, most=_MOST_PINS)
        if (said := completed.stated(leaf.subject, leaf.name)) is not None
    }


@examples(40)
@given(cases())
def test_a_view_with_pins_knows_what_a_new_view_knows(case: Case) -> None:
    completion = next(completions(case.site, CATALOG, case.seed, 1), None)
    assume(completion is not None)
    assert completion is not None
    view = view_of(case.site, CATALOG)
    pins = _pins(seeded(case.seed), view, completion.site)
    assume(pins)
    pinned, new = view.pinned(pins), View(view.ground, pins)
    for subject, fact in _worked_out(view):
        assert pinned.read(subject, fact.name) == new.read(subject, fact.name), f"{subject}.{fact.name}"


@examples(40)
@given(cases())
def test_looking_again_with_facts_pinned_lies_between_the_open_and_the_completed_drawing(case: Case) -> None:
    """Also for rules that were settled at the first look, and were not looked at in branches."""
    completion = next((each for each in completions(case.site, CATALOG, case.seed, 1) if each.has_answers), None)
    assume(completion is not None)
    assert completion is not None
    view = view_of(case.site, CATALOG)
    pins = _pins(seeded(case.seed), view, completion.site)
    before, after = (verdicts(site, CATALOG, case.rules) for site in (case.site, completion.site))
    evidence = SiteEvidence(view.pinned(pins))
    for planned in plan(case.rules, view):
        between = evaluate(planned.rule, planned.subject, planned.belongs, evidence, case.rules.date)
        key = (planned.rule.id, planned.subject)
        assert between.possible <= before[key].could_be, key
        assert key not in after or after[key].could_be <= between.possible, key
