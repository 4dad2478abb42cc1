"""Lengths on the label sheet: in the units of the site first, in the others behind them, both of one value."""

from __future__ import annotations

from fractions import Fraction

MM_PER_INCH = Fraction(254, 10)
"""By the definition of the international inch."""
INCHES_PER_FOOT = 12
_FINEST = 16
"""A rule has sixteenths of an inch; what is no whole number of them is written with decimals."""


def both_units(inches: Fraction, *, metric: bool) -> tuple[str, str]:
    """A length in the units of the site, and in brackets in the others."""
    told = _inches(inches), f"{_short(float(inches * MM_PER_INCH))} mm"
    first, second = reversed(told) if metric else told
    return first, f"({second})"


def _inches(inches: Fraction) -> str:
    whole, rest = divmod(inches, 1)
    if inches <= 0 or rest.denominator > _FINEST or _FINEST % rest.denominator:
        return f"{_short(float(inches))} in"
    parts = ([str(whole)] if whole or not rest else []) + ([f"{rest.numerator}/{rest.denominator}"] if rest else [])
    return f"{'-'.join(parts)} in"


def _short(number: float) -> str:
    return f"{number:.2f}".rstrip("0").rstrip(".") if number < 10 else f"{number:.1f}".rstrip("0").rstrip(".")
