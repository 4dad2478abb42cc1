"""Full-load current and power at a site, worked out for the tests alone.

I = P / (V pf) for one phase and P / (sqrt(3) V pf) for three, rounded once to nine significant digits: the definition
of power in a balanced circuit.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Context, Decimal, localcontext
from fractions import Fraction
from math import ceil

_EXACT = Context(prec=60)
_NINE_DIGITS = Context(prec=9, rounding=ROUND_HALF_EVEN)
_LAST_PLACE = Decimal("1e-40")
"""Below this what two phases differ by comes from rounding of the root alone."""


def full_load_current(power: Fraction, voltage: Fraction, power_factor: Fraction, phases: Fraction) -> Fraction | None:
    """Amperes from watts, volts and per unit; None where the formula has no answer."""
    if phases not in (1, 3) or voltage <= 0 or not 0 < power_factor <= 1 or power < 0:
        return None
    line = _EXACT.sqrt(Decimal(3)) if phases == 3 else Decimal(1)
    below = _EXACT.multiply(line, _EXACT.multiply(_decimal(voltage), _decimal(power_factor)))
    return Fraction(_NINE_DIGITS.plus(_EXACT.divide(_decimal(power), below)))


def phase_currents(voltage: Fraction, balanced: Fraction, singles: Mapping[str, Fraction]) -> tuple[Fraction, Fraction]:
    """Amperes of the phase that carries most, and the greatest distance from the mean over the mean.

    ``singles`` holds VA by where they are connected: A, B, C to neutral, AB, BC, CA between phases. Each current is
    taken as seen from its own phase: one between two phases runs 30 degrees ahead in the first, behind in the second.
    """
    with localcontext(_EXACT):
        return _phase_currents(voltage, balanced, singles)


def _phase_currents(
    voltage: Fraction, balanced: Fraction, singles: Mapping[str, Fraction]
) -> tuple[Fraction, Fraction]:
    root = _EXACT.sqrt(Decimal(3))
    found = []
    for phase in "ABC":
        along = _decimal(balanced) / root
        across = Decimal(0)
        for ends, power in singles.items():
            if ends == phase:
                along += _decimal(power) * root
            elif phase in ends:
                along += _decimal(power) * root / 2
                across += _decimal(power) / 2 * (1 if ends[0] == phase else -1)
        found.append(_EXACT.divide(_EXACT.sqrt(along * along + across * across), _decimal(voltage)))
    mean = sum(found, Decimal(0)) / 3
    apart = (max(abs(each - mean) for each in found) / mean).quantize(_LAST_PLACE) if mean else Decimal(0)
    return Fraction(_NINE_DIGITS.plus(max(found))), Fraction(_NINE_DIGITS.plus(apart))


def nine_digits(number: Fraction) -> Fraction:
    """Rounded to nine significant digits."""
    return Fraction(_NINE_DIGITS.plus(_decimal(number)))


def _decimal(number: Fraction) -> Decimal:
    return _EXACT.divide(Decimal(number.numerator), Decimal(number.denominator))


@dataclass(frozen=True, slots=True)
class Loss:
    """What altitude or heat takes: a share for each step above a place, and where the set stands."""

    share: Fraction
    each: Fraction
    above: Fraction
    begun_whole: bool
    at: Fraction

    @property
    def lost(self) -> Fraction | None:
        """The share of the rating that is lost; None where the step is no length."""
        if self.each <= 0:
            return None
        steps = max(Fraction(0), self.at - self.above) / self.each
        return self.share * (ceil(steps) if self.begun_whole else steps)


def power_left(rating: Fraction, losses: Mapping[str, Loss | None], *, added: bool) -> Fraction | None:
    """Watts that are left; None where the losses leave nothing. A loss that is None takes nothing."""
    lost = [Fraction(0) if loss is None else loss.lost for loss in losses.values()]
    first, other = lost
    if first is None or other is None or first >= 1 or other >= 1:
        return None
    left = 1 - first - other if added else (1 - first) * (1 - other)
    return nine_digits(rating * left) if left > 0 else None


DERATINGS = {"altitude_derating": "altitude", "heat_derating": "hottest_day"}
"""What is lost to, by the name of the fact that says how much."""
