"""Random possibilities, and every way in which one can turn out, listed without help from the code under test.

Numbers are drawn with ends at small whole numbers and listed on a finer grid that reaches beyond them. Between any two
ends that differ there are three grid points, so whatever can happen between two spans happens on the grid.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations, product

from hypothesis import strategies as st

from checker.values.possible import Possible, SetSpan, Span, merged_sets, merged_spans

Outcome = str | bool | Fraction | frozenset[str] | None
"""One way a fact can turn out; None stands for absent."""

WORDS = ("bonded", "floating", "solid")
OTHER_WORDS = ("anything else", "something else still")
FURTHEST_END = 2
GRID = tuple(Fraction(step, 4) for step in range(-4 * (FURTHEST_END + 1), 4 * (FURTHEST_END + 1) + 1))


def outcomes(possible: Possible) -> Iterator[Outcome]:
    """Every way the fact can turn out; undefined is not one of them."""
    yield from possible.atoms
    if possible.anything:
        yield from WORDS
        yield from OTHER_WORDS
    yield from (point for point in GRID if any(lies_in(point, span) for span in possible.spans))
    for span in possible.sets:
        free = sorted(span.perhaps - span.surely)
        for size in range(len(free) + 1):
            yield from (span.surely | frozenset(extra) for extra in combinations(free, size))
    if possible.absent:
        yield None


def lies_in(point: Fraction, span: Span) -> bool:
    """Whether the point is a number of the span, spelled out."""
    above = span.low is None or point > span.low or (point == span.low and not span.low_open)
    below = span.high is None or point < span.high or (point == span.high and not span.high_open)
    return above and below


def every_span(furthest: int) -> Iterator[Span]:
    """Every span whose ends are open, closed or not known and lie at whole numbers from -furthest to furthest."""
    ends: list[tuple[Fraction | None, bool]] = [(None, False)]
    ends += [(Fraction(end), is_open) for end in range(-furthest, furthest + 1) for is_open in (False, True)]
    for (low, low_open), (high, high_open) in product(ends, repeat=2):
        if low is None or high is None or low < high or (low == high and not low_open and not high_open):
            yield Span(low, high, low_open, high_open)


@st.composite
def spans(draw: st.DrawFn) -> Span:
    ends = st.none() | st.integers(-FURTHEST_END, FURTHEST_END).map(Fraction)
    low, high = draw(ends), draw(ends)
    if low is not None and high is not None and low > high:
        low, high = high, low
    point = low is not None and low == high
    low_open = low is not None and not point and draw(st.booleans())
    high_open = high is not None and not point and draw(st.booleans())
    return Span(low, high, low_open, high_open)


@st.composite
def set_spans(draw: st.DrawFn) -> SetSpan:
    perhaps = draw(st.frozensets(st.sampled_from(WORDS)))
    surely = draw(st.frozensets(st.sampled_from(sorted(perhaps)))) if perhaps else perhaps
    return SetSpan(surely, perhaps)


def _with_extras(value: st.SearchStrategy[Possible], *, undefined: bool) -> st.SearchStrategy[Possible]:
    """The same, perhaps absent as well, perhaps nothing but absent, and perhaps undefined."""
    reasons = st.sampled_from([(), ("beyond the last row",)]) if undefined else st.just(())
    extras = st.builds(lambda absent, reason: (absent, reason), st.booleans(), reasons)
    with_value = st.builds(
        lambda each, extra: Possible(each.atoms, each.anything, each.spans, each.sets, *extra), value, extras
    )
    return with_value | st.just(Possible(absent=True))


def words(*, undefined: bool = False) -> st.SearchStrategy[Possible]:
    some = st.frozensets(st.sampled_from(WORDS), min_size=1).map(lambda atoms: Possible(atoms=atoms))
    return _with_extras(some | st.just(Possible(anything=True)), undefined=undefined)


def flags(*, undefined: bool = False) -> st.SearchStrategy[Possible]:
    some = st.frozensets(st.booleans(), min_size=1).map(lambda atoms: Possible(atoms=frozenset(atoms)))
    return _with_extras(some, undefined=undefined)


def numbers(*, undefined: bool = False) -> st.SearchStrategy[Possible]:
    some = st.lists(spans(), min_size=1, max_size=3).map(lambda each: Possible(spans=merged_spans(each)))
    return _with_extras(some, undefined=undefined)


def sets(*, undefined: bool = False) -> st.SearchStrategy[Possible]:
    some = st.lists(set_spans(), min_size=1, max_size=3).map(lambda each: Possible(sets=merged_sets(each)))
    return _with_extras(some, undefined=undefined)


def anything_at_all() -> st.SearchStrategy[Possible]:
    return words(undefined=True) | flags(undefined=True) | numbers(undefined=True) | sets(undefined=True)
