"""Rows that stand for everything down to the row below, against the meaning spelled out row by row."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.rules.model.numbers import Row, TableKey
from checker.rules.reading.row_spans import AT_OR_ABOVE, with_spans
from checker.values.possible import Possible, exactly, number

KEYS = (TableKey("rating", AT_OR_ABOVE, "load_current"), TableKey("metal", "exact", "choice"))
_POINTS = [Fraction(step, 2) for step in range(16)]


def _row(rating: int, metal: str) -> Row:
    return Row({"rating": number(rating), "metal": exactly(metal)}, number(rating), f"{rating} {metal}")


_ROWS = st.lists(st.builds(_row, st.integers(0, 6), st.sampled_from(["copper", "aluminum"])), max_size=8)


def _met(rows: Sequence[Row], point: Fraction, metal: Possible) -> set[int]:
    """The places of the rows that a number meets: of those with this metal that are not below it, the nearest."""
    ratings = {place: row.keys["rating"].number for place, row in enumerate(rows) if row.keys["metal"] == metal}
    reaching = {place: rating for place, rating in ratings.items() if rating is not None and rating >= point}
    nearest = min(reaching.values(), default=None)
    return {place for place, rating in reaching.items() if rating == nearest}


@given(_ROWS, st.sampled_from(["copper", "aluminum"]))
def test_a_number_meets_the_nearest_row_not_below_it(rows: list[Row], metal: str) -> None:
    spanned = with_spans(rows, KEYS)
    for point in _POINTS:
        holding = {
            place
            for place, row in enumerate(spanned)
            if row.keys["metal"] == exactly(metal) and any(span.holds(point) for span in row.keys["rating"].spans)
        }
        assert holding == _met(rows, point, exactly(metal))


def test_other_keys_texts_and_values_stay() -> None:
    rows = (_row(100, "copper"), _row(200, "copper"))
    for before, after in zip(rows, with_spans(rows, KEYS), strict=True):
        assert (after.keys["metal"], after.value, after.text) == (before.keys["metal"], before.value, before.text)
    exact = (TableKey("rating", "exact", "load_current"), KEYS[1])
    assert with_spans(rows, exact) == rows
