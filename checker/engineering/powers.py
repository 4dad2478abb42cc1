"""Powers, roots and logarithms of exact numbers, to far more digits than the one rounding of a result keeps."""

from __future__ import annotations

from decimal import Context, Decimal
from fractions import Fraction

_DIGITS = 40
_CONTEXT = Context(prec=_DIGITS)

PI = Fraction("3.14159265358979323846264338327950288419716939937510")
"""Ratio of circumference to diameter, to fifty digits."""


def power(base: Fraction, exponent: Fraction) -> Fraction:
    """``base`` to the power ``exponent``, to forty significant digits; the base must be above zero."""
    if base <= 0:
        raise ValueError("a power with a broken exponent needs a base above zero")
    return Fraction(_CONTEXT.power(_decimal(base), _decimal(exponent)))


def square_root(value: Fraction) -> Fraction:
    """The square root to forty significant digits; the value must not be below zero."""
    if value < 0:
        raise ValueError("a square root needs a number that is not below zero")
    return Fraction(_CONTEXT.sqrt(_decimal(value)))


def log10(value: Fraction) -> Fraction:
    """The logarithm to the base ten, to forty significant digits; the value must be above zero."""
    if value <= 0:
        raise ValueError("a logarithm needs a number above zero")
    return Fraction(_CONTEXT.log10(_decimal(value)))


def exponential(exponent: Fraction) -> Fraction:
    """e to this power, to forty significant digits."""
    return Fraction(_decimal(exponent).exp(_CONTEXT))


def _decimal(value: Fraction) -> Decimal:
    return _CONTEXT.divide(Decimal(value.numerator), Decimal(value.denominator))


ROOT_OF_THREE = square_root(Fraction(3))
"""The voltage between two phases of a balanced three-phase system over that to its neutral."""
