"""Two reviews of one job held against each other, finding by finding."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checker.findings.finding import Described, Finding
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report.comparison.revised import fact_words
from checker.tasks.comparing.revisions import FactChange, Standing, Step, Unfelt, Why, revised
from tests.report.reviews import CHECK, finding, review

OPEN = [outcome for outcome in Outcome if outcome not in SETTLED_OUTCOMES]
RULE = ("", "switch-not-below-its-breaker")
HERE = Described(subjects=frozenset({"ATS1"}), rules=frozenset({RULE}))
"""The rule is in force, and the switch is on the drawing."""


def step_of(before: Finding | None, after: Finding | None, was: Described = HERE, now: Described = HERE) -> Step | None:
    one, other = (
        review(*([each] if each is not None else []), described=described)
        for each, described in ((before, was), (after, now))
    )
    steps = revised(one, other).steps
    return steps[0] if steps else None


def standing(before: Finding | None, after: Finding | None) -> Standing | None:
    step = step_of(before, after)
    return None if step is None else step.standing


@pytest.mark.parametrize("outcome", OPEN, ids=lambda outcome: outcome.value)
def test_what_was_settled_or_not_asked_and_is_open_is_new(outcome: Outcome) -> None:
    for before in (None, finding(Outcome.MET), finding(Outcome.NOT_APPLICABLE)):
        assert standing(before, finding(outcome)) is Standing.NEW


@pytest.mark.parametrize("outcome", OPEN, ids=lambda outcome: outcome.value)
def test_only_what_meets_its_rule_now_is_cured(outcome: Outcome) -> None:
    assert standing(finding(outcome), finding(Outcome.MET)) is Standing.CURED
    assert standing(finding(outcome), finding(Outcome.NOT_APPLICABLE)) is Standing.NOT_ASKED


@pytest.mark.parametrize(
    ("now", "told", "why"),
    [
        (HERE, Standing.NOT_ASKED, Why.NO_LONGER_OF_ITS_KIND),
        (replace(HERE, rules=frozenset()), Standing.NOT_ASKED, Why.RULE_NO_LONGER),
        (replace(HERE, subjects=frozenset({"P1"})), Standing.GONE, Why.SUBJECT_GONE),
    ],
    ids=["another kind", "no such rule", "no such piece"],
)
def test_what_is_gone_is_never_cured_and_says_why(now: Described, told: Standing, why: Why) -> None:
    step = step_of(finding(Outcome.CORRECTION), None, now=now)
    assert step is not None
    assert (step.standing, step.why, step.facts) == (told, (why,), ())


@pytest.mark.parametrize(
    ("was", "why"),
    [
        (HERE, Why.OF_ITS_KIND_NOW),
        (replace(HERE, rules=frozenset()), Why.RULE_ONLY_NOW),
        (replace(HERE, subjects=frozenset({"P1"})), Why.SUBJECT_ADDED),
    ],
    ids=["another kind", "no such rule", "no such piece"],
)
def test_what_appears_says_why_and_names_no_fact_that_did_not_change(was: Described, why: Why) -> None:
    step = step_of(None, finding(Outcome.CORRECTION), was=was)
    assert step is not None
    assert (step.standing, step.why, step.facts) == (Standing.NEW, (why,), ())


def test_another_edition_is_the_reason_where_no_fact_differs() -> None:
    one = finding(Outcome.MET)
    cite = replace(one.cites[0], edition="2023")
    step = step_of(one, finding(Outcome.CORRECTION, cites=(cite,)))
    assert step is not None
    assert (step.why, step.facts) == ((Why.OTHER_EDITION,), ())


def test_a_fact_that_only_one_side_looked_at_is_looked_up_on_the_other() -> None:
    unseen = finding(Outcome.NOT_APPLICABLE, checks=())
    seen = finding(Outcome.CORRECTION, checks=(replace(CHECK, wanted=None),))
    same = replace(HERE, stated={"ATS1.rated_current": "100 A"})
    for was, facts in (
        (same, ()),
        (replace(HERE, stated={"ATS1.rated_current": "60 A"}), (FactChange("ATS1.rated_current", "60 A", "100 A"),)),
        (HERE, (FactChange("ATS1.rated_current", "", "100 A"),)),
    ):
        step = step_of(unseen, seen, was=was, now=same)
        assert step is not None
        assert step.facts == facts


def test_what_is_worked_out_and_was_not_looked_at_before_is_no_change() -> None:
    step = step_of(finding(Outcome.NOT_APPLICABLE, checks=()), finding(Outcome.CORRECTION))
    assert step is not None
    assert step.facts == ()


@pytest.mark.parametrize("outcome", OPEN, ids=lambda outcome: outcome.value)
def test_what_reads_the_same_is_still_open_whatever_its_number_and_edition(outcome: Outcome) -> None:
    one = finding(outcome)
    assert standing(one, replace(one, number=7, id=one.id.replace("2020", "2023"))) is Standing.STILL_OPEN


@pytest.mark.parametrize(
    "changes",
    [
        {"outcome": Outcome.CORRECTION},
        {"says": "ATS1 is rated 150 A."},
        {"needs": ()},
        {"checks": (replace(CHECK, found=replace(CHECK.found, text="150 A")),)},
        {"checks": ()},
    ],
    ids=["outcome", "sentence", "needs", "figure", "nothing compared"],
)
def test_what_is_open_and_reads_otherwise_has_changed(changes: dict[str, Any]) -> None:
    one = finding(Outcome.NEEDS_INFORMATION)
    assert standing(one, replace(one, **changes)) is Standing.CHANGED


def test_what_is_settled_on_both_sides_is_not_told() -> None:
    assert standing(finding(Outcome.MET), finding(Outcome.NOT_APPLICABLE)) is None
    assert standing(None, finding(Outcome.MET)) is None


def test_the_facts_that_differ_say_why() -> None:
    other = replace(CHECK, found=replace(CHECK.found, text="200 A"))
    sides = review(finding(Outcome.CORRECTION)), review(finding(Outcome.MET, checks=(other,)))
    (step,) = revised(*sides).steps
    assert step.facts == (FactChange("ATS1.rated_current", "100 A", "200 A"),)


def test_what_a_figure_is_worked_out_from_is_the_reason_and_is_not_told_beside() -> None:
    """A load that was written otherwise and one that was added put more on the set; nothing rests on the color."""
    was, now = (
        Described(
            subjects=HERE.subjects | {"spa"} if is_later else HERE.subjects,
            rules=HERE.rules,
            stated={"ATS1.load": load, "ATS1.color": load, **({"spa.power": "1 kVA"} if is_later else {})},
        )
        for is_later, load in ((False, "3600 VA"), (True, "6500 VA"))
    )
    one, other = (
        finding(
            outcome,
            checks=(
                replace(
                    CHECK,
                    found=replace(CHECK.found, text=text, at=None, rests_on=frozenset({"ATS1.load", "spa.power"})),
                ),
            ),
        )
        for outcome, text in ((Outcome.MET, "69 A"), (Outcome.CORRECTION, "81 A"))
    )
    found = revised(review(one, described=was), review(other, described=now))
    (step,) = found.steps
    assert [fact_words(each) for each in step.facts] == [
        "ATS1.load was 3600 VA, is 6500 VA",
        "spa was added",
        "ATS1.rated_current was 69 A, is 81 A",
    ]
    assert found.unfelt == Unfelt((FactChange("ATS1.color", "3600 VA", "6500 VA"),))
    back = revised(review(other, described=now), review(one, described=was)).steps[0]
    assert "spa is no longer there" in map(fact_words, back.facts)


def test_what_stands_behind_a_figure_that_reads_the_same_is_no_reason() -> None:
    same = replace(CHECK, found=replace(CHECK.found, rests_on=frozenset({"ATS1.load"})))
    was, now = (replace(HERE, stated={"ATS1.load": load}) for load in ("3600 VA", "6500 VA"))
    step = step_of(finding(Outcome.MET, checks=(same,)), finding(Outcome.CORRECTION, checks=(same,)), was, now)
    assert step is not None
    assert step.facts == ()
