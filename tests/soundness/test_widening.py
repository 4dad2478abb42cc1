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
from tests.soundness.sweep import sweep
from tests.soundness.widenings import widened


def _lost(case: Case) -> list[str] | None:
    if completed(case.site, CATALOG, seeded(case.seed)) is None:
        return None
    return _lost_from(case, case.site, most=4)


def _lost_from_all(case: Case) -> list[str] | None:
    """From a drawing of which all is known."""
    filled_in = completed(case.site, CATALOG, seeded(case.seed))
    return None if filled_in is None else _lost_from(case, filled_in.site, most=40)


def _lost_from(case: Case, site: Site, most: int) -> list[str]:
    less = widened(site, CATALOG, seeded(case.seed), most)
    return list(narrower(verdicts(site, CATALOG, case.rules), verdicts(less, CATALOG, case.rules)))


def test_less_known_of_a_drawing_leaves_more_possible() -> None:
    sweep(40, _lost)


def test_less_known_of_a_drawing_of_which_all_is_known_leaves_more_possible() -> None:
    sweep(40, _lost_from_all)


@examples(15)
@given(cases())
def test_less_known_of_a_drawn_case_leaves_more_possible(case: Case) -> None:
    found = _lost(case)
    assume(found is not None)
    assert not found


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
