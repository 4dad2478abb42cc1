"""Interlocks that keep two devices from being closed at once, as far as the drawing lists them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from checker.facts.derivation import Context
from checker.values.possible import several
from checker.values.relations import relate
from checker.values.truth import Truth

_KEEPS_APART = several(("panel_kit", "mechanical", "key", "electrical"))
"""Interlocks that keep two devices from being closed at once. A written procedure does not."""

Apart = Sequence[frozenset[str]]
"""Pairs of ways whose devices are not closed at once."""

READS = ("interlock", "first", "second")
"""The facts that are read to find interlocks."""


@dataclass(frozen=True, slots=True)
class Interlocks:
    """Pairs of ways that are surely kept apart, that may be, and whether there may be others."""

    sure: Apart
    possible: Apart
    complete: bool


def interlocks_of(context: Context) -> Interlocks:
    """What the drawing lists, and whether it lists all. A device that is named twice is kept from nothing."""
    complete = context.members("interlocks").complete
    return replace(listed_interlocks(context), complete=complete)


def listed_interlocks(context: Context) -> Interlocks:
    """What the drawing lists, for who looks along one line, where an interlock that is not listed would not stand."""
    pairs: dict[Truth, list[frozenset[str]]] = {truth: [] for truth in Truth}
    for each in context.site.members("interlocks").members:
        pair = frozenset(str(context.read(each, end).atom) for end in ("first", "second"))
        if len(pair) > 1:
            pairs[relate("one_of", context.read(each, "interlock"), _KEEPS_APART)].append(pair)
    sure = pairs[Truth.YES]
    return Interlocks(sure, [*sure, *pairs[Truth.UNKNOWN]], complete=True)
