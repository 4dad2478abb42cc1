"""The value of one open number at which a waiting finding turns, and on which side it holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.findings.judging.outcomes import Outcome
from tests.findings.small_reviews import finding, parameter

AMPERES = parameter("least", "load_current", "200 A")
POLES = parameter("number-of-poles", "count", "3")


@pytest.mark.parametrize(
    ("condition", "parameters", "told"),
    [
        ("{rated_current: {at_least: {parameter: least}}}", AMPERES, ("at_least", "200 A", "200", "A", "at least")),
        ("{rated_current: {more_than: {parameter: least}}}", AMPERES, ("more_than", "200 A", "200", "A", "more than")),
        ("{rated_current: {at_most: {parameter: least}}}", AMPERES, ("at_most", "200 A", "200", "A", "at most")),
        ("{rated_current: {less_than: {parameter: least}}}", AMPERES, ("less_than", "200 A", "200", "A", "less than")),
        ("{poles: {at_least: {parameter: number-of-poles}}}", POLES, ("at_least", "3", "3", None, "at least")),
        ("{poles: {more_than: {parameter: number-of-poles}}}", POLES, None),
        ("{poles: {less_than: {parameter: number-of-poles}}}", POLES, ("at_most", "2", "2", None, "at most")),
    ],
)
def test_where_a_finding_turns(
    condition: str, parameters: str, told: tuple[str | None, ...] | None, tmp_path: Path
) -> None:
    """A count turns at whole numbers; where only its last one is good, that is one value and no range."""
    found = finding(tmp_path, condition, "operation: automatic", parameters)
    turn = found.break_even
    assert found.outcome is Outcome.NEEDS_INFORMATION
    assert (None if turn is None else (turn.relation, turn.text, turn.value, turn.unit, turn.holds)) == told


@pytest.mark.parametrize(
    ("condition", "parameters"),
    [
        ("{rated_current: {is: {parameter: least}}}", AMPERES),
        ("{rated_current: {is_not: {parameter: least}}}", AMPERES),
        ("{operation: {is: automatic}}", ""),
        ("{some: {of: labels, that: {marking: {includes: service_disconnect, if_absent: no}}}}", ""),
    ],
)
def test_nothing_is_told_where_it_does_not_turn_once(condition: str, parameters: str, tmp_path: Path) -> None:
    found = finding(tmp_path, condition, "neutral: solid", parameters)
    assert found.outcome is Outcome.NEEDS_INFORMATION
    assert found.break_even is None


def test_what_is_settled_has_no_turning_point(tmp_path: Path) -> None:
    condition = "{rated_current: {at_least: {parameter: least}}}"
    found = finding(tmp_path, condition, "rated_current: 400 A", AMPERES)
    assert (found.outcome, found.break_even) == (Outcome.MET, None)


def test_a_miss_of_several_ways_turns_at_the_number_at_which_any_of_them_would_do(tmp_path: Path) -> None:
    """Behind a way that wants 200 A stands one that is content with more than 100 A, and one that does not hold."""
    condition = "{rated_current: {at_least: {parameter: least}}}"
    other = "{rated_current: {more_than: {parameter: enough}}}"
    numbers = AMPERES + parameter("enough", "load_current", "100 A")
    found = finding(tmp_path, condition, "rated_current: 60 A", numbers, other_way=other)
    turn = found.break_even
    assert found.outcome is Outcome.CORRECTION
    assert turn is not None
    assert (turn.fact, turn.holds, turn.text) == ("ATS1.rated_current", "more than", "100 A")


def test_a_miss_of_one_way_has_no_turning_point_beside_what_is_wanted(tmp_path: Path) -> None:
    condition = "{rated_current: {at_least: {parameter: least}}}"
    found = finding(tmp_path, condition, "rated_current: 60 A", AMPERES)
    assert (found.outcome, found.break_even) == (Outcome.CORRECTION, None)
