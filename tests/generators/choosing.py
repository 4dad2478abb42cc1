"""Choices that a generator makes: from a seed for long runs, or drawn by hypothesis so that a failure can be made
smaller.

Every choice comes down to one whole number whose smallest value is the plainest choice.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from typing import Protocol, TypeVar

from hypothesis import strategies as st

_Item = TypeVar("_Item")

_PERCENT = 100


class Chooser(Protocol):
    """Makes choices."""

    def whole(self, low: int, high: int) -> int:
        """A whole number from low to high, both included."""
        ...

    def chance(self, percent: int) -> bool:
        """True about so many times of a hundred."""
        ...

    def one(self, items: Sequence[_Item]) -> _Item:
        """One of the items, which are not empty."""
        ...

    def some(self, items: Sequence[_Item], least: int = 0, most: int | None = None) -> list[_Item]:
        """Some of the items, each at most once, in the order of the items."""
        ...

    def shuffled(self, items: Sequence[_Item]) -> list[_Item]:
        """The items in another order."""
        ...


class _Choices:
    """All choices, made of whole numbers."""

    def __init__(self, whole: Callable[[int, int], int]) -> None:
        self.whole = whole

    def chance(self, percent: int) -> bool:
        return self.whole(0, _PERCENT - 1) >= _PERCENT - percent

    def one(self, items: Sequence[_Item]) -> _Item:
        return items[self.whole(0, len(items) - 1)]

    def some(self, items: Sequence[_Item], least: int = 0, most: int | None = None) -> list[_Item]:
        size = self.whole(least, min(len(items), len(items) if most is None else most))
        left = list(range(len(items)))
        taken = {left.pop(self.whole(0, len(left) - 1)) for _ in range(size)}
        return [item for place, item in enumerate(items) if place in taken]

    def shuffled(self, items: Sequence[_Item]) -> list[_Item]:
        left = list(items)
        return [left.pop(self.whole(0, len(left) - 1)) for _ in range(len(left))]


def seeded(seed: int) -> Chooser:
    """Choices that follow from a number: the same number, the same choices."""
    return _Choices(Random(seed).randint)


def recorded(seed: int) -> tuple[Chooser, list[int]]:
    """The choices of ``seeded``, and a list that fills with them: how far each lies above the smallest one."""
    random, steps = Random(seed), list[int]()

    def whole(low: int, high: int) -> int:
        steps.append(random.randint(low, high) - low)
        return low + steps[-1]

    return _Choices(whole), steps


def replayed(steps: Sequence[int]) -> Chooser:
    """The choices of a list; the smallest ones after its end, and the largest where a step goes too far."""
    left = iter(steps)
    return _Choices(lambda low, high: min(high, low + next(left, 0)))


def drawn(draw: Callable[[st.SearchStrategy[int]], int]) -> Chooser:
    """Choices made by hypothesis."""
    return _Choices(lambda low, high: draw(st.integers(low, high)))
