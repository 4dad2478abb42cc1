"""The tables and shares by which a run takes away from a fault current, as the documents in force have them."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.numbers import cited, made_once, number_in_force, rows_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.rules.model.numbers import Row

RESISTANCES, REACTANCES = "ac-resistances", "ac-reactances"
COLD, HOT, CLOSE = (
    "share-of-resistance-that-a-cold-conductor-keeps",
    "share-of-resistance-that-a-hot-conductor-reaches",
    "share-of-reactance-that-conductors-close-together-keep",
)
LEAST_IMPEDANCE = "least-share-of-the-impedance-on-a-nameplate"
REACTANCE_TOLERANCE = "share-by-which-a-reactance-may-differ-from-its-data-sheet"
MOTOR_MULTIPLE = "times-its-full-load-current-that-a-motor-feeds-into-a-fault"
HALF_RESISTANCE, HALF_REACTANCE = (
    "share-of-resistance-of-half-a-center-tapped-winding",
    "share-of-reactance-of-half-a-center-tapped-winding",
)
ZERO_SEQUENCE = "least-share-of-the-zero-sequence-impedance-of-a-transformer"
LEAST_REACTANCE, SMALL_SET = "least-subtransient-reactance-of-a-small-set", "largest-small-set"
LEAST_TESTED, GREATEST_TESTED = "least-tested-x-over-r", "greatest-tested-x-over-r"

READS = (
    *(COLD, HOT, CLOSE, LEAST_IMPEDANCE, REACTANCE_TOLERANCE, MOTOR_MULTIPLE),
    *(HALF_RESISTANCE, HALF_REACTANCE, ZERO_SEQUENCE, LEAST_REACTANCE, SMALL_SET, LEAST_TESTED, GREATEST_TESTED),
)


@dataclass(frozen=True, slots=True)
class RunNumbers:
    """Rows of ohms per 1000 ft at 75 °C, the shares of them at the ends, and where the rows stand."""

    resistances: tuple[Row, ...]
    reactances: tuple[Row, ...]
    cold: Fraction
    hot: Fraction
    close: Fraction
    source: str


@made_once
def run_numbers(numbers: NumbersInForce) -> RunNumbers | None:
    """None where the documents in force do not have them all: then no run is counted."""
    try:
        return RunNumbers(
            rows_in_force(numbers, RESISTANCES),
            rows_in_force(numbers, REACTANCES),
            number_in_force(numbers, COLD),
            number_in_force(numbers, HOT),
            number_in_force(numbers, CLOSE),
            cited(numbers, RESISTANCES),
        )
    except OutsideLimits:
        return None


def share(numbers: NumbersInForce, name: str) -> Fraction | None:
    """One number; None where the documents in force do not have it."""
    try:
        return number_in_force(numbers, name)
    except OutsideLimits:
        return None
