"""Demand factors: tiers of a load, and factors by how many things there are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.worked import Paper, Step


@dataclass(frozen=True, slots=True)
class Tier:
    """The part of a load up to ``up_to`` (VA; None for all that is left) counts with this factor."""

    up_to: Fraction | None
    factor: Fraction


@dataclass(frozen=True, slots=True)
class Tiers:
    """Tiers in rising order, the last without an end, and where they come from."""

    tiers: tuple[Tier, ...]
    source: str

    def of(self, load: Fraction) -> Fraction:
        """The demand of a load: each part with the factor of its tier, both in VA.

        It rises with the load, since every factor is at least zero.
        """
        demand, below = Fraction(0), Fraction(0)
        for tier in self.tiers:
            end = load if tier.up_to is None else min(load, tier.up_to)
            demand += max(Fraction(0), end - below) * tier.factor
            below = max(below, end)
        return demand

    def write(self, paper: Paper, quantity: str, load: Step) -> Step:
        """One step of calculation paper with the demand of an earlier step."""
        return paper.write(quantity, self._words(load.letter), self.of(load.value), "VA", self.source)

    def _words(self, letter: str) -> str:
        parts, below = [], Fraction(0)
        for tier in self.tiers:
            part = f"the rest of {letter}" if tier.up_to is None else f"{letter} from {below} to {tier.up_to} VA"
            parts.append(f"{_percent(tier.factor)} of {part}")
            below = tier.up_to or below
        return " + ".join(parts)


@dataclass(frozen=True, slots=True)
class CountRow:
    """For up to so many things (None for any number more) this factor, or a demand in VA for all of them together."""

    up_to: int | None
    value: Fraction


@dataclass(frozen=True, slots=True)
class ByCount:
    """A column of a table by how many things there are, rows in rising order."""

    rows: tuple[CountRow, ...]
    source: str

    def of(self, count: int) -> Fraction:
        """The value for so many things; OutsideLimits past the last row."""
        for row in self.rows:
            if row.up_to is None or count <= row.up_to:
                return row.value
        raise OutsideLimits(f"{self.source} has no row for {count}.")


def together(paper: Paper, quantity: str, steps: Sequence[Step], unit: str = "VA") -> Step:
    """The sum of earlier steps."""
    how = " + ".join(step.letter for step in steps)
    return paper.write(quantity, how, sum((step.value for step in steps), Fraction(0)), unit)


def _percent(factor: Fraction) -> str:
    return f"{float(factor * 100):g} %"
