"""Sets of possibilities: union, cover, listing and the ends of spans, against listing every outcome."""

from fractions import Fraction
from itertools import pairwise, product

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from checker.values.possible import (
    ABSENT,
    ANY_WORD,
    EITHER_FLAG,
    Possible,
    SetSpan,
    Span,
    between,
    exactly,
    merged_sets,
    merged_spans,
    number,
    numbers,
    one_of,
    several,
    undefined,
    union_of,
)
from tests.values import possibilities as some
from tests.values.possibilities import GRID, lies_in, outcomes

ALIKE = st.sampled_from([some.words(), some.flags(), some.numbers(), some.sets()])


@given(ALIKE.flatmap(lambda kind: st.tuples(kind, kind)))
def test_a_union_allows_what_either_allows(pair: tuple[Possible, Possible]) -> None:
    left, right = pair
    assert set(outcomes(left.union(right))) == set(outcomes(left)) | set(outcomes(right))


@given(some.anything_at_all(), some.anything_at_all(), some.anything_at_all())
def test_unions_do_not_depend_on_order(first: Possible, second: Possible, third: Possible) -> None:
    assert first.union(second) == second.union(first)
    assert first.union(second).union(third) == first.union(second.union(third))
    assert first.union(first) == first
    assert union_of([first, second, third]) == first.union(second).union(third)


@given(some.anything_at_all(), some.anything_at_all())
def test_a_union_covers_both_and_adds_nothing_to_what_it_covers(left: Possible, right: Possible) -> None:
    both = left.union(right)
    assert both.covers(left)
    assert both.covers(right)
    if left.covers(right) and not left.anything and not right.undefined:
        assert both == left


@given(ALIKE.flatmap(lambda kind: st.tuples(kind, kind)))
def test_cover_is_never_claimed_wrongly(pair: tuple[Possible, Possible]) -> None:
    left, right = pair
    if left.covers(right):
        assert set(outcomes(right)) <= set(outcomes(left))


@given(st.sampled_from([some.flags(), some.numbers()]).flatmap(lambda kind: st.tuples(kind, kind)))
def test_cover_of_flags_and_numbers_is_found_whenever_it_is_there(pair: tuple[Possible, Possible]) -> None:
    left, right = pair
    reaches_beyond = any(
        not any(mine.covers(span) for mine in left.spans) for span in right.spans if None in (span.low, span.high)
    )
    assume(not reaches_beyond)
    assert left.covers(right) is (set(outcomes(right)) <= set(outcomes(left)))


@given(some.words() | some.flags() | some.numbers() | some.sets())
def test_alternatives_are_the_outcomes_one_by_one(fact: Possible) -> None:
    listed = fact.alternatives()
    if fact.anything or not all(span.is_point for span in fact.spans):
        assert listed is None
        return
    assert listed is not None
    assert all(each.is_exact for each in listed)
    assert union_of(listed).covers(fact) or fact.sets
    assert {outcome for each in listed for outcome in outcomes(each)} == set(outcomes(fact))
    assert len(set(listed)) == len(listed)


def test_alternatives_come_in_a_stable_order() -> None:
    assert one_of(["switched", "solid"]).alternatives() == (exactly("solid"), exactly("switched"))
    assert EITHER_FLAG.alternatives() == (exactly(True), exactly(False))
    assert numbers([3, 1]).union(ABSENT).alternatives() == (number(1), number(3), ABSENT)


def test_more_alternatives_than_the_limit_are_not_listed() -> None:
    assert numbers(range(65)).alternatives() is None
    assert numbers(range(64)).alternatives() is not None
    assert several([], [str(each) for each in range(7)]).alternatives() is None
    assert several([], [str(each) for each in range(6)]).alternatives() is not None
    assert undefined("Beyond the table.").alternatives() is None
    assert ANY_WORD.alternatives() is None


@given(some.anything_at_all())
def test_exact_means_one_outcome(fact: Possible) -> None:
    points = all(span.is_point for span in fact.spans)
    assert fact.is_exact is (points and not fact.anything and not fact.undefined and len(set(outcomes(fact))) == 1)


@given(some.anything_at_all())
def test_presence_takes_absence_away_and_nothing_else(fact: Possible) -> None:
    there = fact.present()
    left = set(outcomes(fact)) - {None}
    if there is None:
        assert fact.only_absent
        assert not left
    else:
        assert set(outcomes(there)) == left
        assert there.undefined == fact.undefined
        assert not there.absent


@given(some.numbers())
def test_the_hull_is_the_smallest_span_around_all_numbers(fact: Possible) -> None:
    hull = fact.hull
    points = [point for point in GRID if any(lies_in(point, span) for span in fact.spans)]
    if hull is None:
        assert not fact.spans
        return
    assert [point for point in GRID if lies_in(point, hull)] == [
        point for point in GRID if points[0] <= point <= points[-1]
    ]


def test_spans_meet_and_cover_as_their_points_do() -> None:
    points = {span: {point for point in GRID if lies_in(point, span)} for span in some.every_span(1)}
    for left, right in product(points, repeat=2):
        assert left.meets(right) is bool(points[left] & points[right])
        assert left.covers(right) is (points[right] <= points[left])
        joined = merged_spans((left, right))
        assert {point for point in GRID if any(lies_in(point, span) for span in joined)} == points[left] | points[right]
        assert left.is_point is (len(points[left]) == 1)


@given(some.spans(), st.sampled_from(GRID))
def test_a_span_holds_what_lies_between_its_ends(span: Span, point: Fraction) -> None:
    assert span.holds(point) is lies_in(point, span)


@given(st.lists(some.spans(), max_size=5))
def test_merging_keeps_the_points_and_leaves_no_two_spans_that_touch(given_spans: list[Span]) -> None:
    merged = merged_spans(given_spans)
    for point in GRID:
        assert any(lies_in(point, span) for span in merged) is any(lies_in(point, span) for span in given_spans)
    assert merged_spans(merged) == merged
    for lower, upper in pairwise(merged):
        assert lower.high is not None
        assert upper.low is not None
        assert lower.high < upper.low or (lower.high == upper.low and lower.high_open and upper.low_open)


@given(st.lists(some.set_spans(), max_size=4))
def test_merging_sets_drops_only_what_another_covers(given_sets: list[SetSpan]) -> None:
    merged = merged_sets(given_sets)
    assert set(merged) <= set(given_sets)
    assert all(any(kept.covers(each) for kept in merged) for each in given_sets)


@pytest.mark.parametrize(
    ("low", "high", "low_open", "high_open"),
    [(2, 1, False, False), (1, 1, True, False), (1, 1, False, True)],
)
def test_a_span_without_numbers_is_refused(low: int, high: int, low_open: bool, high_open: bool) -> None:
    with pytest.raises(ValueError, match="holds no number"):
        Span(Fraction(low), Fraction(high), low_open, high_open)


def test_a_fact_without_possibilities_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one possibility"):
        Possible()
    with pytest.raises(ValueError, match="no possibilities"):
        union_of([])
    with pytest.raises(ValueError, match="perhaps in it"):
        SetSpan(frozenset({"solid"}), frozenset())


def test_single_values_are_given_out() -> None:
    assert number(200).number == 200
    assert between(8, 12).number is None
    assert exactly("solid").atom == "solid"
    assert exactly(False).atom is False
    assert one_of(["solid", "switched"]).atom is None
    assert ABSENT.only_absent
    assert not ABSENT.union(number(1)).only_absent
