"""A calculation at its least and at its most, and its lines on a worksheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.worked import Step, Worked
from checker.engineering.worksheet import Line


@dataclass(frozen=True, slots=True)
class TwoEnds:
    """The result at its least and at its most; no most where something has no end."""

    least: Worked
    most: Worked | None

    @property
    def agree(self) -> bool:
        """Whether what is open moves the result nowhere."""
        return self.most is not None and self.most.value == self.least.value


def step_lines(ends: TwoEnds) -> Iterator[Line]:
    """The steps, lettered; those of the least and of the most where the two differ."""
    if ends.agree:
        yield from (_line("", each, "") for each in ends.least.steps)
        return
    yield from (_line("least: ", each, "") for each in ends.least.steps)
    if ends.most is not None:
        yield from (_line("most: ", each, "m") for each in ends.most.steps)


def _line(before: str, step: Step, mark: str) -> Line:
    quantity = f"{before}{step.quantity}"
    return Line(f"{step.letter}{mark}", quantity, step.how, amount(step.value), step.unit, step.source)


def amount(value: Fraction) -> str:
    """A number as on calculation paper: thousands set off, two decimals at most, and of small numbers four digits, so
    that the next line can be followed.
    """
    if value and abs(value) < 1:
        return f"{float(value):.4g}"
    return f"{float(value):,.2f}".rstrip("0").rstrip(".")
