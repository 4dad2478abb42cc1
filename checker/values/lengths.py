"""Feet and inches as on a drawing."""

from __future__ import annotations

from fractions import Fraction

_FINEST_SHOWN = 16
"""Inches are shown in sixteenths at the finest, as on a tape."""


def inches_text(inches: Fraction) -> str | None:
    """``1-1/4 in``, or None where the length is not a whole number of sixteenths."""
    if _FINEST_SHOWN % inches.denominator:
        return None
    sign = "-" if inches < 0 else ""
    whole, rest = divmod(abs(inches), 1)
    if not rest:
        return f"{sign}{whole} in"
    return f"{sign}{whole}-{rest} in" if whole else f"{sign}{rest} in"


def feet_text(feet: Fraction) -> str | None:
    """``5 ft 6 in``, ``4 ft`` or ``3 in``, or None where the length is not a whole number of sixteenths of an inch."""
    if _FINEST_SHOWN % (feet * 12).denominator:
        return None
    sign = "-" if feet < 0 else ""
    whole, rest = divmod(abs(feet), 1)
    parts = ([f"{whole} ft"] if whole or not rest else []) + ([inches_text(rest * 12) or ""] if rest else [])
    return sign + " ".join(parts)
