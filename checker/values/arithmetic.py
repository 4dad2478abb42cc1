"""Sums, products, extremes and rounding over numbers of which not everything is known.

Results cover every combination of the possibilities that go in. Few single numbers are combined one by one, so that
``8 A or 10 A`` stays two values; wider sets are combined end by end.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import product

from checker.values.possible import ENUMERATION_LIMIT, Possible, Span, merged_spans, number, union_of

SIGNIFICANT_DIGITS = 9
"""A computed number becomes a fact by one rounding to this many significant digits."""


def rounded(value: Fraction) -> Fraction:
    """The number rounded half to even to nine significant digits; exact where it has no more."""
    if value == 0:
        return value
    digits = len(str(abs(value.numerator) // value.denominator)) if abs(value) >= 1 else -_leading_zeros(value)
    step = Fraction(10) ** (digits - SIGNIFICANT_DIGITS)
    return round(value / step) * step


def _leading_zeros(value: Fraction) -> int:
    """Zeros between the decimal sign and the first digit of a number below one."""
    zeros, scaled = 0, abs(value) * 10
    while scaled < 1:
        zeros, scaled = zeros + 1, scaled * 10
    return zeros


def total(terms: Sequence[Possible]) -> Possible:
    """The sum of all terms; absent where a term may be absent."""
    return _combined(terms, _sum_of_spans)


def product_of(first: Possible, second: Possible) -> Possible:
    """The product of two numbers, the corners taken over both ends of each."""
    return _combined((first, second), _product_of_spans)


def largest(terms: Sequence[Possible], *, skip_absent: bool) -> Possible:
    """The largest of the terms. A term that is absent is skipped, or makes the result absent."""
    return _extreme(terms, max, skip_absent=skip_absent)


def smallest(terms: Sequence[Possible], *, skip_absent: bool) -> Possible:
    """The smallest of the terms. A term that is absent is skipped, or makes the result absent."""
    return _extreme(terms, min, skip_absent=skip_absent)


def within(value: Possible, low: Fraction | None, high: Fraction | None) -> Possible:
    """The same without the numbers outside physical bounds; unchanged where nothing would be left."""
    kept = [clipped for span in value.spans if (clipped := _clipped(span, low, high)) is not None]
    if not kept:
        return value
    return Possible(value.atoms, value.anything, merged_spans(kept), value.sets, value.absent, value.undefined)


def _clipped(span: Span, low: Fraction | None, high: Fraction | None) -> Span | None:
    start, start_open = span.low, span.low_open
    if low is not None and (start is None or start < low):
        start, start_open = low, False
    end, end_open = span.high, span.high_open
    if high is not None and (end is None or end > high):
        end, end_open = high, False
    if start is not None and end is not None and (start > end or (start == end and (start_open or end_open))):
        return None
    return Span(start, end, start_open, end_open)


def _combined(terms: Sequence[Possible], combine: Callable[[tuple[Span, ...]], Span]) -> Possible:
    undefined = tuple(sorted({reason for term in terms for reason in term.undefined}))
    absent = any(term.absent for term in terms)
    if all(term.spans for term in terms):
        spans = merged_spans(combine(chosen) for chosen in product(*(_few(term.spans, len(terms)) for term in terms)))
    else:
        spans = ()
    return Possible(spans=spans, absent=absent, undefined=undefined)


def _few(spans: tuple[Span, ...], terms: int) -> tuple[Span, ...]:
    """The spans one by one while their combinations stay few, otherwise their hull."""
    if len(spans) ** terms <= ENUMERATION_LIMIT:
        return spans
    return (Span(spans[0].low, spans[-1].high, spans[0].low_open, spans[-1].high_open),)


def _sum_of_spans(spans: tuple[Span, ...]) -> Span:
    lows, highs = [span.low for span in spans], [span.high for span in spans]
    return Span(
        None if None in lows else sum((low for low in lows if low is not None), Fraction(0)),
        None if None in highs else sum((high for high in highs if high is not None), Fraction(0)),
        any(span.low_open for span in spans),
        any(span.high_open for span in spans),
    )


def _product_of_spans(spans: tuple[Span, ...]) -> Span:
    first, second = spans
    corners = [_times(one, other) for one in _ends(first) for other in _ends(second)]
    # Of two corners that come to the same number, one that is reached makes the end belong to the result.
    low = min(corners, key=lambda corner: (corner[0], corner[2]))
    high = max(corners, key=lambda corner: (corner[0], not corner[2]))
    return Span(_finite(low), _finite(high), low[2], high[2])


_End = tuple[int, Fraction]
"""An end of a span: -1 or 1 for a missing one, otherwise 0 and its number."""

_Corner = tuple[tuple[int, Fraction], bool, bool]
"""A product that sorts by size, whether it is infinite, and whether it is reached only in the limit."""


def _ends(span: Span) -> tuple[tuple[_End, bool], tuple[_End, bool]]:
    low: _End = (-1, Fraction(0)) if span.low is None else (0, span.low)
    high: _End = (1, Fraction(0)) if span.high is None else (0, span.high)
    return (low, span.low_open), (high, span.high_open)


def _times(one: tuple[_End, bool], other: tuple[_End, bool]) -> _Corner:
    (first, first_open), (second, second_open) = one, other
    if first[0] == 0 and second[0] == 0:
        value = first[1] * second[1]
        is_zero_for_sure = (first[1] == 0 and not first_open) or (second[1] == 0 and not second_open)
        return ((0, value), False, (first_open or second_open) and not is_zero_for_sure)
    sign = _sign(first) * _sign(second)
    if sign == 0:
        # Nothing times something without an end is nothing: the missing end is not itself a number.
        return ((0, Fraction(0)), False, first_open if _sign(first) == 0 else second_open)
    return ((sign, Fraction(0)), True, False)


def _sign(end: _End) -> int:
    if end[0]:
        return end[0]
    return (end[1] > 0) - (end[1] < 0)


def _finite(corner: _Corner) -> Fraction | None:
    return None if corner[1] else corner[0][1]


def _extreme(terms: Sequence[Possible], pick: Callable[..., Span], *, skip_absent: bool) -> Possible:
    if not terms:
        return Possible(absent=True)
    result = terms[0]
    for term in terms[1:]:
        result = _extreme_of_two(result, term, pick, skip_absent=skip_absent)
    return result


def _extreme_of_two(first: Possible, second: Possible, pick: Callable[..., Span], *, skip_absent: bool) -> Possible:
    spans = [_picked(one, other, pick) for one in first.spans for other in second.spans]
    if skip_absent:
        spans += [*(second.spans if first.absent else ()), *(first.spans if second.absent else ())]
        absent = first.absent and second.absent
    else:
        absent = first.absent or second.absent
    return Possible(
        spans=merged_spans(spans), absent=absent, undefined=tuple(sorted({*first.undefined, *second.undefined}))
    )


def _picked(one: Span, other: Span, pick: Callable[..., Span]) -> Span:
    low = pick((one, other), key=_low_order)
    high = pick((one, other), key=_high_order)
    return Span(low.low, high.high, low.low_open, high.high_open)


def _low_order(span: Span) -> tuple[int, Fraction, int]:
    return (0, Fraction(0), 0) if span.low is None else (1, span.low, int(span.low_open))


def _high_order(span: Span) -> tuple[int, Fraction, int]:
    return (1, Fraction(0), 0) if span.high is None else (0, span.high, -int(span.high_open))


def where_absent(value: Possible, instead: Fraction) -> Possible:
    """The numbers that are possible, with one that stands for what may be absent."""
    numbers = [Possible(spans=value.spans)] if value.spans else []
    return union_of([*numbers, *([number(instead)] if value.absent else [])])
