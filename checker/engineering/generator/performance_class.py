"""Measured or stated answers of a set to a block of load against the performance classes of ISO 8528-5."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits


@dataclass(frozen=True, slots=True)
class Answer:
    """How a set answers a block of load: all as shares of the rated value, recovery times in seconds.

    In a limit None means that the class leaves the quantity to an agreement, in a set that nobody states it.
    """

    frequency_dip: Fraction | None = None
    frequency_rise: Fraction | None = None
    frequency_recovery: Fraction | None = None
    voltage_dip: Fraction | None = None
    voltage_rise: Fraction | None = None
    voltage_recovery: Fraction | None = None


QUANTITIES = (
    "frequency_dip",
    "frequency_rise",
    "frequency_recovery",
    "voltage_dip",
    "voltage_rise",
    "voltage_recovery",
)


@dataclass(frozen=True, slots=True)
class PerformanceClass:
    """A class with its limits for one kind of engine, and where they are from."""

    name: str
    limits: Answer
    source: str


@dataclass(frozen=True, slots=True)
class AgainstClass:
    """What of a set's answer is past the limits of a class, what is not stated although the class limits it, and what
    the class leaves to an agreement that is not looked at here.
    """

    name: str
    exceeded: tuple[str, ...]
    not_stated: tuple[str, ...]
    by_agreement: tuple[str, ...]

    @property
    def within(self) -> bool | None:
        """Whether all limits hold; None while nothing is past its limit but something is open."""
        if self.exceeded:
            return False
        return None if self.not_stated or self.by_agreement else True


@dataclass(frozen=True, slots=True)
class Block:
    """The block of load for which the answer is stated, and the block that the site puts on, as shares of the rating.

    ``stated`` is None where the class is claimed without a block; such a claim cannot be looked at.
    """

    stated: Fraction | None
    put_on: Fraction


def against_class(answer: Answer, block: Block, performance: PerformanceClass) -> AgainstClass:
    """The answer of a set against one class, quantity by quantity.

    Smaller dips, rises and times never make it worse. OutsideLimits where the answer belongs to no stated block, or to
    a smaller one than the site puts on. ISO 8528-5; G4 leaves all to an agreement, which stays open.
    """
    if block.stated is None:
        raise OutsideLimits("The answer of the set is stated without the block of load that it belongs to.")
    if block.put_on > block.stated:
        raise OutsideLimits(
            f"The answer is stated for a block of {_percent(block.stated)} of the rating; the site puts on "
            f"{_percent(block.put_on)}."
        )
    exceeded, not_stated, by_agreement = [], [], []
    for quantity in QUANTITIES:
        found: Fraction | None = getattr(answer, quantity)
        limit: Fraction | None = getattr(performance.limits, quantity)
        if limit is None:
            by_agreement.append(quantity)
        elif found is None:
            not_stated.append(quantity)
        elif found > limit:
            exceeded.append(quantity)
    return AgainstClass(performance.name, tuple(exceeded), tuple(not_stated), tuple(by_agreement))


def _percent(share: Fraction) -> str:
    return f"{float(share * 100):g} %"
