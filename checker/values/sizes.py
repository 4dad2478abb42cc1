"""The next size of a list: the smallest one that is not below a number."""

from __future__ import annotations

from collections.abc import Sequence

from checker.values.possible import Possible, Span
from checker.values.relations import relate
from checker.values.truth import Truth


def next_sizes(span: Span, sizes: Sequence[Possible]) -> tuple[list[Possible], bool]:
    """Every size, of a list that rises, that can be the smallest one not below a number of the span; and whether a
    number of it may lie beyond the largest.
    """
    one = Possible(spans=(span,))
    found: list[Possible] = []
    for size in sizes:
        fits = relate("at_most", one, size)
        if fits is not Truth.NO:
            found.append(size)
        if fits is Truth.YES:
            return found, False
    return found, True
