"""What a row of a table stands for once its neighbors are known."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from checker.rules.model.numbers import Row, TableKey
from checker.values.possible import Possible, Span

AT_OR_ABOVE = "at_or_above"


def with_spans(rows: Sequence[Row], keys: Sequence[TableKey]) -> tuple[Row, ...]:
    """The same rows, each number that is matched at or above standing for everything from just above the row before it.

    So a device of 90 A meets the row of 100 A and no other. Rows are compared with those that are alike in all other
    keys.
    """
    result = tuple(rows)
    for key in keys:
        if key.match == AT_OR_ABOVE:
            others = tuple(each.name for each in keys if each is not key)
            result = _reaching_down(result, key.name, others)
    return result


def _reaching_down(rows: Sequence[Row], key: str, others: Sequence[str]) -> tuple[Row, ...]:
    tops: dict[tuple[Possible, ...], list[Fraction]] = {}
    for row in rows:
        hull = row.keys[key].hull
        if hull is not None and hull.high is not None:
            tops.setdefault(_alike(row, others), []).append(hull.high)
    for listed in tops.values():
        listed.sort()
    return tuple(_from_next_below(row, key, tops.get(_alike(row, others), ())) for row in rows)


def _alike(row: Row, names: Sequence[str]) -> tuple[Possible, ...]:
    """What rows must share to be compared."""
    return tuple(row.keys[name] for name in names)


def _from_next_below(row: Row, key: str, tops: Sequence[Fraction]) -> Row:
    """The row from just above the highest of the sorted numbers that lies below it."""
    own = row.keys[key].hull
    if own is None or own.low is None or own.high is None:
        return row
    below = bisect_left(tops, own.low)
    start = tops[below - 1] if below else None
    span = Span(start, own.high, low_open=start is not None, high_open=own.high_open)
    return replace(row, keys={**row.keys, key: Possible(spans=(span,))})
