"""Time from the loss of the normal supply to the last load of a class, against what its class allows."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.worked import Paper, Worked


@dataclass(frozen=True, slots=True)
class TimedStep:
    """One step with the shortest and the longest time it takes, in s; both the same where it is set exactly."""

    name: str
    shortest: Fraction
    longest: Fraction


@dataclass(frozen=True, slots=True)
class LoadClass:
    """A class of loads: the steps of its own after the common ones, up to its last load, and the time allowed (s).

    ``allowed`` is None where no time is set. ``allowed_by`` says where the time stands.
    """

    name: str
    steps: tuple[TimedStep, ...]
    allowed: Fraction | None
    allowed_by: str = ""


@dataclass(frozen=True, slots=True)
class Restored:
    """When the last load of a class is back: shortest and longest with their steps, and the time allowed, all in s."""

    name: str
    shortest: Worked
    longest: Worked
    allowed: Fraction | None

    @property
    def in_time(self) -> bool | None:
        """Whether it is in time however long the steps take; None where that hangs on the steps; yes without a time."""
        if self.allowed is None or self.longest.value <= self.allowed:
            return True
        return False if self.shortest.value > self.allowed else None

    @property
    def spare(self) -> Fraction | None:
        """What is left of the time allowed at the longest, below zero where it is not enough; None without a time."""
        return None if self.allowed is None else self.allowed - self.longest.value


def restoration(common: tuple[TimedStep, ...], load_class: LoadClass) -> Restored:
    """The sum of all steps from the loss of supply on: sensing, start, ready to load, transfer, delays of the class.

    Both ends rise with each step. Limits: steps one after another; the time counts from the loss of the normal supply,
    so that the delay before the start is part of it. NFPA 70, 700.12 (10 s), 701.12 (60 s); NFPA 110 by type.
    """
    steps = (*common, *load_class.steps)
    if not steps:
        raise OutsideLimits("No step of the return of supply is given.")
    for step in steps:
        if not 0 <= step.shortest <= step.longest:
            raise OutsideLimits(f"The shortest time of {step.name} must lie between zero and its longest.")
    shortest = _sum([(step.name, step.shortest) for step in steps])
    longest = _sum([(step.name, step.longest) for step in steps])
    return Restored(load_class.name, shortest, longest, load_class.allowed)


def _sum(steps: list[tuple[str, Fraction]]) -> Worked:
    paper = Paper()
    written = [paper.write(name, "given", seconds, "s") for name, seconds in steps]
    total = sum((step.value for step in written), Fraction(0))
    paper.write("last load back", " + ".join(step.letter for step in written), total, "s")
    return paper.result()
