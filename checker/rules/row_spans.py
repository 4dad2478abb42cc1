"""What a row of a table stands for once its neighbors are known."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from checker.rules.model import Row, TableKey
from checker.values.possible import Possible, Span

AT_OR_ABOVE = "at_or_above"


def with_spans(rows: Sequence[Row], keys: Sequence[TableKey]) -> tuple[Row, ...]:
    """The same rows, each number that is matched at or above standing for everything from just above the row before it.

    So a device of 90 A meets the row of 100 A and no other. Rows are compared with those that are alike in all other keys.
    """
    result = tuple(rows)
    for key in keys:
        if key.match == AT_OR_ABOVE:
            result = tuple(_reaching_down(row, key.name, result) for row in result)
    return result


def _reaching_down(row: Row, key: str, rows: Sequence[Row]) -> Row:
    own = row.keys[key].hull
    if own is None or own.low is None or own.high is None:
        return row
    below = [top for other in rows if (top := _top_below(other, row, key, own.low)) is not None]
    start = max(below, default=None)
    span = Span(start, own.high, low_open=start is not None, high_open=own.high_open)
    return replace(row, keys={**row.keys, key: Possible(spans=(span,))})


def _top_below(other: Row, row: Row, key: str, limit: Fraction) -> Fraction | None:
    """The number of another row that lies below, if that row is alike in all other keys."""
    hull = other.keys[key].hull
    alike = all(other.keys[name] == row.keys[name] for name in row.keys if name != key)
    if not alike or hull is None or hull.high is None or hull.high >= limit:
        return None
    return hull.high
