"""A calculation that says how its result moves with each input, so that bounds follow from the corners.

The bounds of a result over a box of inputs are its values at two corners, provided that for every input the result only
rises or only falls. That is declared here for each calculation and sampled by a property test.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from itertools import product

from checker.values.arithmetic import rounded
from checker.values.possible import ENUMERATION_LIMIT, Possible, Span, merged_spans, undefined, union_of


class Direction(Enum):
    """How a result moves when one input grows."""

    RISES = "rises"
    FALLS = "falls"
    NEITHER = "neither"


@dataclass(frozen=True, slots=True)
class Input:
    """One input: its name in the calculation, what it is, its kind of quantity, and how the result moves with it."""

    name: str
    title: str
    quantity: str
    direction: Direction


class OutsideLimits(Exception):
    """The calculation has no answer for these inputs; the text is the limit, as a plain sentence."""


@dataclass(frozen=True, slots=True)
class Calculation:
    """A formula with its inputs, its unit, its limits and where it comes from. ``function`` takes exact numbers in the
    base unit of each input's kind and gives the number in the base unit of ``gives``; it raises OutsideLimits where it
    has none.
    """

    name: str
    title: str
    inputs: tuple[Input, ...]
    gives: str
    unit: str
    formula: str
    source: str
    limits: str
    function: Callable[[Mapping[str, Fraction]], Fraction]

    def at(self, point: Mapping[str, Fraction]) -> Fraction:
        """The result for exact inputs, rounded once to nine significant digits."""
        return rounded(self.function(point))

    def over(self, inputs: Mapping[str, Possible]) -> Possible:
        """What is possible for the result. An input that may be absent leaves the result undefined for that case."""
        reasons = self._missing(inputs)
        if any(not inputs[each.name].spans for each in self.inputs):
            return Possible(undefined=reasons or (self.limits,))
        result = self._one_by_one(inputs)
        if result is None:
            result = self._corners(inputs)
        return Possible(spans=result.spans, undefined=tuple(sorted({*result.undefined, *reasons})))

    def _missing(self, inputs: Mapping[str, Possible]) -> tuple[str, ...]:
        reasons = {reason for each in self.inputs for reason in inputs[each.name].undefined}
        reasons |= {f"{each.title} is not there" for each in self.inputs if inputs[each.name].absent}
        return tuple(sorted(reasons))

    def _one_by_one(self, inputs: Mapping[str, Possible]) -> Possible | None:
        """The union over every combination, where each input has few exact possibilities; otherwise None."""
        choices = [_points(inputs[each.name]) for each in self.inputs]
        combinations = 1
        for choice in choices:
            combinations *= len(choice)
        if not 0 < combinations <= ENUMERATION_LIMIT:
            return None
        names = [each.name for each in self.inputs]
        return union_of(self._point(dict(zip(names, point, strict=True))) for point in product(*choices))

    def _point(self, point: Mapping[str, Fraction]) -> Possible:
        try:
            value = self.at(point)
        except OutsideLimits as limit:
            return undefined(str(limit))
        return Possible(spans=(Span(value, value),))

    def _corners(self, inputs: Mapping[str, Possible]) -> Possible:
        """Bounds from two corners; an input that moves the result neither way must be one of a few exact numbers."""
        fixed = [each for each in self.inputs if each.direction is Direction.NEITHER]
        choices = [_points(inputs[each.name]) for each in fixed]
        if any(not choice for choice in choices):
            return Possible(spans=(Span(None, None),))
        names = [each.name for each in fixed]
        return Possible(
            spans=merged_spans(
                Span(self._corner(inputs, exact, upper=False), self._corner(inputs, exact, upper=True))
                for exact in (dict(zip(names, point, strict=True)) for point in product(*choices))
            )
        )

    def _corner(self, inputs: Mapping[str, Possible], exact: Mapping[str, Fraction], *, upper: bool) -> Fraction | None:
        """The result at one corner; None where an end is missing, or where the corner itself has no answer."""
        point = dict(exact)
        for each in self.inputs:
            if each.direction is Direction.NEITHER:
                continue
            hull = inputs[each.name].hull
            end = None if hull is None else hull.high if upper == (each.direction is Direction.RISES) else hull.low
            if end is None:
                return None
            point[each.name] = end
        try:
            return self.at(point)
        except OutsideLimits:
            return None


def _points(possible: Possible) -> tuple[Fraction, ...]:
    """Every number that is possible, where all of them are single numbers; otherwise nothing."""
    if not all(span.is_point for span in possible.spans):
        return ()
    return tuple(span.low for span in possible.spans if span.low is not None)
