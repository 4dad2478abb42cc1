"""Widening: with less known, every finding stays in the plan and can only become more open.

Facts that are also worked out are left alone, and drawings in which a stated figure and the one that is worked out do
not agree are set apart: there, saying less of one figure takes the other out of doubt.
"""

from __future__ import annotations

from hypothesis import assume, given

from checker.site.model import Site
from tests.generators.cases import CATALOG, Case, cases, seeded_case
from tests.generators.choosing import seeded
from tests.soundness.budget import examples, seeds
from tests.soundness.completions import completed
from tests.soundness.engine import verdicts
from tests.soundness.soundness import narrower
from tests.soundness.widenings import widened


def _lost(case: Case, site: Site, most: int) -> list[str]:
    less = widened(site, CATALOG, seeded(case.seed), most)
    return list(narrower(verdicts(site, CATALOG, case.rules), verdicts(less, CATALOG, case.rules)))


@examples(60)
@given(cases(most_rules=6))
def test_less_known_of_a_drawing_leaves_more_possible(case: Case) -> None:
    assume(completed(case.site, CATALOG, seeded(case.seed)) is not None)
    assert not _lost(case, case.site, most=4)


@examples(40)
@given(cases(most_rules=6))
def test_less_known_of_a_drawing_of_which_all_is_known_leaves_more_possible(case: Case) -> None:
    filled_in = completed(case.site, CATALOG, seeded(case.seed))
    assume(filled_in is not None)
    assert filled_in is not None
    assert not _lost(case, filled_in.site, most=40)


def test_widening_says_less_and_nothing_else() -> None:
    changed = 0
    for seed in seeds(40):
        site = seeded_case(seed).site
        less = widened(site, CATALOG, seeded(seed), 5)
        changed += less != site
        assert less.pieces == site.pieces
        assert less.feeds == site.feeds
        for subject, thing in less.things.items():
            assert thing.facts.keys() <= site.things[subject].facts.keys()
            for name, now in thing.facts.items():
                assert now.value.covers(site.things[subject].facts[name].value)
    assert changed > 0
