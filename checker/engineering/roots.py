"""Roots and exponentials of exact numbers, to more digits than any result keeps."""

from __future__ import annotations

from decimal import Context
from fractions import Fraction
from math import isqrt

_DIGITS = 30
"""Digits after the decimal sign of a root, before the one rounding of a result."""

_CONTEXT = Context(prec=_DIGITS + 10)


def square_root(value: Fraction) -> Fraction:
    """The square root, cut after 30 digits; it never falls when the number grows. The number is zero or more."""
    scale = 10**_DIGITS
    return Fraction(isqrt(value.numerator * scale * scale // value.denominator), scale)


ROOT_OF_THREE = square_root(Fraction(3))
"""The voltage between two phases of a balanced three-phase system over that to its neutral."""


def exponential(power: Fraction) -> Fraction:
    """e to this power, to 30 digits."""
    exponent = _CONTEXT.divide(_CONTEXT.create_decimal(power.numerator), _CONTEXT.create_decimal(power.denominator))
    return Fraction(exponent.exp(_CONTEXT))
