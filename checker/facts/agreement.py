"""Whether a stated and a derived figure agree."""

from __future__ import annotations

from fractions import Fraction

from checker.values.arithmetic import product_of
from checker.values.possible import Possible, between
from checker.values.relations import relate
from checker.values.truth import Truth


def agree(stated: Possible, derived: Possible, within: Fraction | None) -> bool:
    """Whether the two can mean the same: words that meet, or numbers no further apart than the part ``within`` of the
    derived.
    """
    if stated.spans and derived.spans and within is not None:
        tolerance = between(1 - within, 1 + within)
        return relate("is", stated, product_of(derived, tolerance)) is not Truth.NO
    return relate("is", stated, derived) is not Truth.NO or (stated.absent and derived.absent)
