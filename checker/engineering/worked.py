"""Calculations of several steps: the value, and every step so that an inspector can follow it from input to result."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Generic, TypeVar

from checker.engineering.calculation import Direction
from checker.values.arithmetic import rounded

_Given = TypeVar("_Given")


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what quantity, how it is found from the steps before it, its value in its unit, and where that is from.

    ``how`` names earlier steps by their letters: ``3 VA x a``. ``source`` is a section, a table, or where an input
    comes from; it is empty for plain arithmetic.
    """

    letter: str
    quantity: str
    how: str
    value: Fraction
    unit: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """The result of a calculation with its steps, the last of which is the result, and what was assumed."""

    value: Fraction
    unit: str
    steps: tuple[Step, ...]
    assumptions: tuple[str, ...] = ()

    def step(self, quantity: str) -> Step:
        """The step that gives a quantity; KeyError where there is none."""
        for each in self.steps:
            if each.quantity == quantity:
                return each
        raise KeyError(quantity)


@dataclass(slots=True)
class Paper:
    """Calculation paper: writes down steps one after another, each with the next letter."""

    steps: list[Step] = field(default_factory=list)
    assumptions: list[str] = field(default_factory=list)

    def write(self, quantity: str, how: str, value: Fraction, unit: str, source: str = "") -> Step:
        """One more step, with its value as it is; a rounding that a code prescribes is a step of its own."""
        step = Step(letters(len(self.steps)), quantity, how, value, unit, source)
        self.steps.append(step)
        return step

    def assume(self, sentence: str) -> None:
        """Something that was taken and not given."""
        if sentence not in self.assumptions:
            self.assumptions.append(sentence)

    def result(self) -> Worked:
        """What the last step gives, rounded once to nine significant digits."""
        last = self.steps[-1]
        return Worked(rounded(last.value), last.unit, tuple(self.steps), tuple(self.assumptions))


def letters(place: int) -> str:
    """``a`` to ``z``, then ``aa``, ``ab`` and so on, counted from 0."""
    head, tail = divmod(place, 26)
    return (letters(head - 1) if head else "") + "abcdefghijklmnopqrstuvwxyz"[tail]


@dataclass(frozen=True, slots=True)
class Method(Generic[_Given]):
    """A calculation whose inputs are more than a few numbers.

    ``function`` takes its inputs as one frozen value, tables and numbers that a code sets among them, and gives the
    worked result; it raises ``OutsideLimits`` where it has none. ``directions`` says for each numeric input how the
    result moves when that input alone grows; an input that is not named there moves it neither way for sure.
    """

    name: str
    title: str
    formula: str
    source: str
    limits: str
    directions: Mapping[str, Direction]
    function: Callable[[_Given], Worked]

    def __call__(self, given: _Given) -> Worked:
        """The worked result; raises ``OutsideLimits`` where the calculation has none."""
        return self.function(given)
