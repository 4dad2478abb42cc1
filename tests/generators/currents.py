"""Full-load current, worked out for the tests alone.

I = P / (V pf) for one phase and P / (sqrt(3) V pf) for three, rounded once to nine significant digits: the definition
of power in a balanced circuit.
"""

from __future__ import annotations

from decimal import ROUND_HALF_EVEN, Context, Decimal
from fractions import Fraction

_EXACT = Context(prec=60)
_NINE_DIGITS = Context(prec=9, rounding=ROUND_HALF_EVEN)


def full_load_current(power: Fraction, voltage: Fraction, power_factor: Fraction, phases: Fraction) -> Fraction | None:
    """Amperes from watts, volts and per unit; None where the formula has no answer."""
    if phases not in (1, 3) or voltage <= 0 or not 0 < power_factor <= 1 or power < 0:
        return None
    line = _EXACT.sqrt(Decimal(3)) if phases == 3 else Decimal(1)
    below = _EXACT.multiply(line, _EXACT.multiply(_decimal(voltage), _decimal(power_factor)))
    return Fraction(_NINE_DIGITS.plus(_EXACT.divide(_decimal(power), below)))


def _decimal(number: Fraction) -> Decimal:
    return _EXACT.divide(Decimal(number.numerator), Decimal(number.denominator))
