"""Soundness: whatever else becomes known, what was decided stays, and what is possible only shrinks.

Drawings of which no completion was found are set apart: there a stated figure and the one that is worked out do not
agree. So are completions in which a current has no answer (a set rated for no fuel at all).
"""

from __future__ import annotations

from hypothesis import assume, given

from tests.generators.cases import CATALOG, Case, cases, seeded_case
from tests.generators.choosing import seeded
from tests.soundness.budget import examples, seeds
from tests.soundness.completions import completions
from tests.soundness.engine import verdicts
from tests.soundness.exact_facts import is_set_aside
from tests.soundness.soundness import DECIDED, unsound
from tests.soundness.sweep import sweep
from tests.soundness.widenings import widened

_COMPLETIONS = 2


def _violations(case: Case) -> list[str] | None:
    found = completions(case.site, CATALOG, case.seed, _COMPLETIONS)
    answered = [completion for completion in found if completion.has_answers]
    if not answered:
        return None
    before = verdicts(case.site, CATALOG, case.rules)
    return [
        violation
        for completion in answered
        for violation in unsound(before, verdicts(completion.site, CATALOG, case.rules), completion.added)
    ]


def _violations_of_less(case: Case) -> list[str] | None:
    """A completion, and before it the same drawing with much less known."""
    found = next((each for each in completions(case.site, CATALOG, case.seed, 1) if each.has_answers), None)
    if found is None:
        return None
    less = widened(found.site, CATALOG, seeded(case.seed), most=40)
    before = verdicts(less, CATALOG, case.rules)
    return list(unsound(before, verdicts(found.site, CATALOG, case.rules), frozenset()))


def test_what_is_decided_stays_whatever_else_becomes_known() -> None:
    sweep(70, _violations)


def test_a_drawing_that_says_less_is_sound_for_what_it_left_out() -> None:
    sweep(80, _violations_of_less)


@examples(20)
@given(cases())
def test_what_is_decided_stays_in_drawn_cases(case: Case) -> None:
    found = _violations(case)
    assume(found is not None)
    assert not found


def test_completions_leave_nothing_open_and_contradict_nothing() -> None:
    for seed in seeds(25):
        site = seeded_case(seed).site
        for completion in completions(site, CATALOG, seed, 1):
            filled = completion.site
            aside = {tag for tag, piece in site.pieces.items() if is_set_aside(site, piece)}
            assert all(listed.complete for (_, owner), listed in filled.lists.items() if owner not in aside)
            for subject, thing in site.things.items():
                for name, said in thing.facts.items():
                    now = filled.stated(subject, name)
                    if now is None:
                        assert said.value == CATALOG.facts[name].anything()
                        continue
                    assert now.value.is_exact, f"{subject}.{name}"
                    assert said.value.covers(now.value), f"{subject}.{name}: {said.text} became {now.value}"


def test_most_drawings_have_completions_and_many_findings_are_decided() -> None:
    tried = [seeded_case(seed) for seed in seeds(100)]
    completed = [case for case in tried if next(completions(case.site, CATALOG, case.seed, 1), None) is not None]
    assert len(completed) * 4 >= len(tried) * 3
    outcomes = [each for case in tried for each in verdicts(case.site, CATALOG, case.rules).values()]
    decided = sum(each.outcome in DECIDED for each in outcomes)
    assert len(outcomes) / 25 < decided < len(outcomes)
