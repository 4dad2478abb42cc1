"""Misses of one measure, of one thing that is not there, or of one paper are told under one of them."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from checker.catalog.load import shipped_catalog
from checker.findings.assembling.together import told_together
from checker.findings.finding import Check, Figure, Finding, PaperAsked, ReadingResult
from checker.findings.judging.outcomes import MISSES, Outcome
from checker.rules.model.force import Basis, Harm
from checker.values.truth import Truth
from tests.report.reviews import CHECK, SHOWN, finding

WINDOW = Figure("distance 1.distance", "distance", "4 ft", "ft", "4", "4")
NO_STOP = Check("stop", Truth.NO, "some", Figure(None, "stops", "none", None, "0", "0"), None)


def _asks(feet: str, relation: str = "at_least", found: Figure = WINDOW) -> tuple[Check, ...]:
    return (Check("clear", Truth.NO, relation, found, Figure(None, "limit", f"{feet} ft", "ft", feet, feet)),)


def _numbered(*findings: Finding) -> list[Finding]:
    return [replace(each, number=place, id=f"town:{place}") for place, each in enumerate(findings, start=1)]


def _under(*findings: Finding) -> list[int | None]:
    """For each finding the number of the one that it is told under."""
    told = told_together(_numbered(*findings), shipped_catalog())
    numbers = {each.id: each.number for each in told}
    return [None if each.under is None else numbers[each.under] for each in told]


def _miss(checks: tuple[Check, ...], outcome: Outcome = Outcome.CORRECTION, **changes: Any) -> Finding:
    practice = {"basis": Basis.TRADE_PRACTICE} if outcome is Outcome.RECOMMENDATION else {}
    return finding(outcome, checks=checks, **{**practice, **changes})


def test_the_one_that_asks_for_most_heads_the_others() -> None:
    assert _under(_miss(_asks("5")), _miss(_asks("10")), _miss(_asks("7"))) == [2, None, 2]


def test_of_two_greatest_distances_the_smaller_heads() -> None:
    assert _under(_miss(_asks("5", "at_most")), _miss(_asks("3", "at_most"))) == [2, None]


def test_a_recommendation_never_heads_a_correction() -> None:
    """However much more it asks for, and however grave it is."""
    practice = _miss(_asks("20"), Outcome.RECOMMENDATION, harm=Harm.LIFE)
    assert _under(practice, _miss(_asks("5"))) == [2, None]


def test_the_gravest_heads_one_that_asks_for_more() -> None:
    assert _under(_miss(_asks("10")), _miss(_asks("5"), harm=Harm.LIFE)) == [2, None]


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(_asks("5", found=replace(WINDOW, fact="distance 2.distance")), id="another window"),
        pytest.param(_asks("3", "at_most"), id="the other end"),
        pytest.param((*_asks("5"), CHECK), id="something else too"),
        pytest.param((replace(_asks("5")[0], direct=False),), id="of one of several ways"),
        pytest.param((replace(_asks("5")[0], holds=Truth.YES),), id="it holds"),
        pytest.param((replace(_asks("5")[0], part=None),), id="what brings the rule into play"),
    ],
)
def test_what_is_not_one_measure_stands_alone(other: tuple[Check, ...]) -> None:
    assert _under(_miss(_asks("5")), _miss(other)) == [None, None]


@pytest.mark.parametrize("outcome", [each for each in Outcome if each not in MISSES])
def test_only_a_miss_is_told_under_another_one(outcome: Outcome) -> None:
    assert _under(_miss(_asks("5")), finding(outcome, checks=_asks("5"))) == [None, None]


def test_a_stop_that_is_not_there_is_one_thing_also_where_a_text_is_read_in_two_ways() -> None:
    read = _miss(
        (NO_STOP,), readings=(ReadingResult("away", "some", Truth.NO), ReadingResult("face", "others", Truth.NO))
    )
    assert _under(_miss((NO_STOP,)), read) == [None, 1]


def test_signs_that_are_not_there_are_each_another_one() -> None:
    sign = replace(NO_STOP, found=replace(NO_STOP.found, title="labels"))
    assert _under(_miss((sign,)), _miss((sign,))) == [None, None]


def test_stops_that_are_there_may_each_lack_something_else() -> None:
    lacking = replace(NO_STOP, found=replace(NO_STOP.found, text="STOP1"))
    assert _under(_miss((lacking,)), _miss((lacking,))) == [None, None]


def test_one_word_of_one_thing_is_one_cause() -> None:
    bond = Check("floating", Truth.NO, "is", replace(SHOWN, text="bonded"), Figure(None, "", "floating"))
    assert _under(_miss((bond,)), _miss((bond,))) == [None, 1]
    assert _under(_miss((bond,)), _miss((replace(bond, relation="is_not"),))) == [None, None]


def test_one_paper_is_one_cause_whatever_it_has_to_show() -> None:
    survey, diagram = (PaperAsked((name,), Truth.NO, (), ()) for name in ("survey", "gas_diagram"))
    asked = [_miss((NO_STOP,), papers=(each,)) for each in (survey, diagram, survey)]
    assert _under(*asked) == [None, None, 1]
