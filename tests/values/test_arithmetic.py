"""Sums, products and extremes of sets of numbers, against every combination of numbers that the sets hold."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.arithmetic import largest, product_of, rounded, smallest, total, within
from checker.values.possible import ABSENT, Possible, Span, number, numbers, undefined
from tests.values import possibilities as some
from tests.values.possibilities import lies_in

_FAR = Fraction(1000)
_NEAR = Fraction(1, 1000)

Combine = Callable[[Sequence[Fraction]], Fraction]


def _samples(possible: Possible) -> list[Fraction]:
    """Numbers of a set: its closed ends, numbers just inside its open ones, some between, some far out."""
    found: set[Fraction] = set()
    for span in possible.spans:
        low = -_FAR if span.low is None else span.low
        high = _FAR if span.high is None else span.high
        tried = {low, high, (low + high) / 2, low + _NEAR, high - _NEAR, Fraction(0)}
        found |= {each for each in tried if lies_in(each, span)}
    return sorted(found)


_OPERATIONS: dict[str, tuple[Callable[[Sequence[Possible]], Possible], Combine]] = {
    "total": (total, lambda values: sum(values, Fraction(0))),
    "product": (lambda terms: product_of(*terms), lambda values: values[0] * values[1]),
    "largest": (lambda terms: largest(terms, skip_absent=False), max),
    "smallest": (lambda terms: smallest(terms, skip_absent=False), min),
}


@pytest.mark.parametrize("name", _OPERATIONS)
@given(st.tuples(some.numbers(), some.numbers()))
def test_every_combination_lies_in_the_result(name: str, terms: tuple[Possible, Possible]) -> None:
    operation, combine = _OPERATIONS[name]
    result = operation(terms)
    for values in product(*(_samples(term) for term in terms)):
        assert any(lies_in(combine(values), span) for span in result.spans)
    assert result.absent == any(term.absent for term in terms)


@pytest.mark.parametrize("name", _OPERATIONS)
@given(st.tuples(some.spans(), some.spans()))
def test_an_end_that_a_combination_reaches_belongs_to_the_result_and_no_other_does(
    name: str, spans: tuple[Span, Span]
) -> None:
    operation, combine = _OPERATIONS[name]
    terms = tuple(Possible(spans=(span,)) for span in spans)
    (result,) = operation(terms).spans
    reached = {combine(values) for values in product(*(_samples(term) for term in terms))}
    for end in (result.low, result.high):
        if end is not None:
            assert result.holds(end) == (end in reached)


def test_an_end_of_a_product_that_only_one_of_two_corners_reaches_belongs_to_it() -> None:
    """-2 times an open 3 comes near to -6, and 2 times -3 is -6."""
    first = Possible(spans=(Span(Fraction(-2), Fraction(2)),))
    second = Possible(spans=(Span(Fraction(-3), Fraction(3), high_open=True),))
    assert product_of(first, second).spans == (Span(Fraction(-6), Fraction(6)),)


@given(st.lists(some.numbers(), min_size=1, max_size=3))
def test_what_is_absent_is_skipped_where_that_is_said(terms: list[Possible]) -> None:
    for operation, pick in ((largest, max), (smallest, min)):
        result = operation(terms, skip_absent=True)
        assert result.absent == all(term.absent for term in terms)
        for chosen in product(*([*_samples(term), *([None] if term.absent else [])] for term in terms)):
            there = [value for value in chosen if value is not None]
            assert not there or any(lies_in(pick(there), span) for span in result.spans)


def test_few_alternatives_stay_alternatives() -> None:
    assert total([numbers([8, 10]), number(5)]) == numbers([13, 15])
    assert product_of(numbers([8, 10]), number(Fraction(5, 4))) == numbers([10, Fraction(25, 2)])


def test_what_has_no_answer_leaves_the_result_without_one() -> None:
    assert total([number(5), undefined("no source")]) == undefined("no source")
    assert largest([number(5), ABSENT], skip_absent=False) == ABSENT
    assert largest([], skip_absent=True) == ABSENT


@given(some.spans(), some.spans())
def test_physical_bounds_take_off_what_lies_outside_them(span: Span, bounds: Span) -> None:
    kept = within(Possible(spans=(span,)), bounds.low, bounds.high)
    inside = Span(bounds.low, bounds.high)
    if span.meets(inside):
        for value in _samples(Possible(spans=(span,))):
            assert any(lies_in(value, each) for each in kept.spans) == lies_in(value, inside)
    else:
        assert kept == Possible(spans=(span,))


@pytest.mark.parametrize(
    ("typed", "nine_digits"),
    [
        ("1.5", "1.5"), ("123456789.5", "123456790"), ("123456788.5", "123456788"),
        ("0.0001234567895", "0.000123456790"),
        ("-0.01", "-0.01"), ("0", "0"), ("999999999.9", "1000000000"), ("52.91236789", "52.9123679"),
    ],
)  # fmt: skip
def test_a_number_is_rounded_half_to_even_to_nine_significant_digits(typed: str, nine_digits: str) -> None:
    assert rounded(Fraction(typed)) == Fraction(nine_digits)
