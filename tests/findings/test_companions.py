"""What goes with a cure is named where it has anything to say: it applies somewhere, or the cure may bring it about."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from checker.facts.known import Leaf
from checker.findings.assembling.companions import Assembled, Read, with_companions_that_apply
from checker.findings.judging.outcomes import Outcome
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from tests.report.reviews import finding

FIXTURES = Path(__file__).parents[2] / "fixtures"
WARNING = "A sign at the service disconnect warns against taking off its bond while the set runs"
PLACE = Read(frozenset({Leaf(Subject("switch", "ATS1"), "place")}))
LISTING = Read(frozenset({Leaf(Subject("switch", "ATS1"), "listed")}))
STOPS = Read(lists=frozenset({"stops"}))
ASKED = Read(LISTING.leaves, STOPS.lists)


@pytest.mark.parametrize(
    ("outcomes", "scope", "told"),
    [
        ([], PLACE, True),
        ([Outcome.NOT_APPLICABLE], PLACE, False),
        ([Outcome.NOT_APPLICABLE, Outcome.NOT_APPLICABLE], PLACE, False),
        ([Outcome.NOT_APPLICABLE, Outcome.MET], PLACE, True),
        ([Outcome.NEEDS_INFORMATION], PLACE, True),
        ([Outcome.NOT_APPLICABLE], LISTING, True),
        ([Outcome.NOT_APPLICABLE], STOPS, True),
    ],
)
def test_one_that_applies_nowhere_is_left_out_unless_the_cure_touches_its_scope(
    outcomes: list[Outcome], scope: Read, told: bool
) -> None:
    missed = Assembled(finding(Outcome.CORRECTION, companions=(WARNING,)), asked=ASKED)
    beside = [Assembled(replace(finding(each), title=WARNING), scope=scope) for each in outcomes]
    assert with_companions_that_apply([missed, *beside])[0].companions == ((WARNING,) if told else ())


def test_a_sign_is_not_told_with_another_one_where_its_bond_is_none() -> None:
    """The sets of this house are separately derived, so that no bond of the service grounds them."""
    review = review_file(FIXTURES / "bittern-double" / "site.yaml", Library.shipped(), Overrides())
    signs = [each for each in review.findings if each.rule == "other-sources-named-at-the-disconnect"]
    assert {each.outcome for each in review.findings if each.title == WARNING} == {Outcome.NOT_APPLICABLE}
    assert signs
    assert not any(WARNING in each.companions for each in signs)


def test_the_mark_of_a_stop_is_told_with_a_stop_where_there_is_none_yet() -> None:
    """With no stop on the drawing there is none to mark; the one that cures it wants its mark."""
    review = review_file(FIXTURES / "crake-landing" / "site.yaml", Library.shipped(), Overrides())
    (stop,) = (each for each in review.findings if each.rule == "dwelling-stop-outside")
    (mark,) = (each for each in review.findings if each.rule == "dwelling-stop-marked")
    assert mark.outcome is Outcome.NOT_APPLICABLE
    assert mark.title in stop.companions
