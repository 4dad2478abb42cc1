"""Numbers as people type and read them, exactly: ``9,600``, ``1-1/4``, ``.5``, ``1½``."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NoReturn

from checker.values.refusals import NotationError, quoted, readable

DECIMAL = r"(?:(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+(?![0-9])|[0-9]+)(?:\.[0-9]*)?|\.[0-9]+)"
"""A decimal number, thousands set apart by commas or not; no sign."""

MIXED = r"(?:(?:[0-9]+(?:\s+|-))?[0-9]+/[0-9]+)"
"""A fraction, alone or after a whole number: ``3/4``, ``1-1/4``, ``1 1/4``; no sign."""

_LEADING = re.compile(rf"(?P<sign>[-+\u2212]?)\s*(?P<number>{MIXED}|{DECIMAL})(?P<rest>.*)", re.DOTALL)
_MIXED_PARTS = re.compile(r"(?:(?P<whole>[0-9]+)(?:\s+|-))?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)")
_NOT_FINITE = re.compile(r"[-+.]*(?:nan|inf|infinity|infinite)\b", re.IGNORECASE)
_EXPONENT = re.compile(r"[eE]([-+]?[0-9]+)")
_BASED = re.compile(r"[xXoObB][0-9a-fA-F]+")

_FINEST_FRACTION = 64
"""The finest fraction on a tape or a nameplate; ``120/240`` and ``3/14`` of a date are not fractions."""

_SIGNIFICANT_DIGITS = 4
_EXACT_DECIMALS = 3
_THOUSANDS_FROM = 10_000
_LONGEST_EXPONENT = 12

_VULGAR_FRACTIONS = str.maketrans(
    {
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "⅓": " 1/3",
        "⅔": " 2/3",
    }
)


def read_number(text: str) -> Fraction:
    """A number without a unit; raises NotationError."""
    number, rest = split_number(readable(text))
    if rest:
        raise NotationError(f"{quoted(text)} is not a number alone.", "Write the number without a unit or remark.")
    return number


def read_whole_number(text: str) -> int:
    """A count, zero or more; raises NotationError."""
    number = read_number(text)
    if number.denominator != 1 or number < 0:
        raise NotationError(f"{quoted(text)} is not a count.", "Write a whole number.")
    return number.numerator


def split_number(text: str, *, fractions: bool = True) -> tuple[Fraction, str]:
    """The number at the start of a text and what stands behind it, without spaces around.

    Raises NotationError where no number stands there, where it is written in a way that can be misread, and for a
    fraction where ``fractions`` is false.
    """
    match = _LEADING.fullmatch(text.translate(_VULGAR_FRACTIONS).strip())
    if match is None:
        _refuse_start(text)
    sign = -1 if match["sign"] in ("-", "\u2212") else 1
    rest = match["rest"]
    if rest and (rest[0] in ",._/" or rest[0].isalpha()):
        _refuse_tail(text, match["sign"] + match["number"], rest)
    number = _mixed(text, match["number"], fractions) if "/" in match["number"] else decimal(match["number"])
    rest = rest.strip()
    if rest[:1].isdigit():
        raise NotationError(f"{quoted(text)} has a space inside the number.", "Write thousands as 9600 or 9,600.")
    return sign * number, rest


def decimal(digits: str) -> Fraction:
    """A text that matches DECIMAL as a number."""
    whole, _, part = digits.replace(",", "").partition(".")
    return Fraction(int(whole + part), 10 ** len(part)) if part else Fraction(int(whole))


def _mixed(text: str, digits: str, allowed: bool) -> Fraction:
    match = _MIXED_PARTS.fullmatch(digits)
    if match is None:
        raise NotationError(f"{quoted(text)} is not a number.")
    top, bottom = int(match["top"]), int(match["bottom"])
    if not allowed or not 0 < top < bottom <= _FINEST_FRACTION:
        raise NotationError(
            f"{quoted(text)} gives two numbers with a stroke between.",
            "Write one number; a fraction as 3/4 or 1-1/4."
            if allowed
            else "Write one number, with decimals if need be.",
        )
    return int(match["whole"] or 0) + Fraction(top, bottom)


def _refuse_start(text: str) -> NoReturn:
    if _NOT_FINITE.match(text):
        raise NotationError(f"{quoted(text)} is not a number.", "Write the figure, or unknown.")
    raise NotationError(f"{quoted(text)} does not begin with a number.", "Write the number in digits, then the unit.")


def _refuse_tail(text: str, digits: str, rest: str) -> None:
    """Refuse what can stand right behind a number only by mistake; letters of a unit are left alone."""
    exponent = _EXPONENT.match(rest)
    if exponent:
        remedy = _written_out(digits, exponent[1], rest[exponent.end() :])
        raise NotationError(f"{quoted(text)} is written with an exponent.", remedy)
    if rest[0] == "_":
        raise NotationError(f"{quoted(text)} has an underscore in the number.", "Write thousands as 1000 or 1,000.")
    if rest[0] == ",":
        raise NotationError(
            f"{quoted(text)} has a comma where none can stand.",
            "Write decimals with a point, as 9.6, thousands as 9,600.",
        )
    if rest[0] == "." or (rest[0] == "/" and rest[1:2].isdigit()):
        raise NotationError(f"{quoted(text)} is not one number.", "Write one number and its unit.")
    if digits == "0" and _BASED.match(rest):
        raise NotationError(f"{quoted(text)} is not a decimal number.", "Write the number in digits, then the unit.")


def _written_out(digits: str, exponent: str, unit: str) -> str:
    power = int(exponent)
    if abs(power) > _LONGEST_EXPONENT or "/" in digits:
        return "Write the number out in digits."
    number = decimal(digits.lstrip("+-\u2212")) * Fraction(10) ** power
    return f"Write {decimal_text(number, max(0, -power) + len(digits)).replace(',', '')}{unit}."


def decimal_text(number: Fraction, decimals: int) -> str:
    """The number rounded half away from zero, without zeros at the end; commas from 10,000 on."""
    scaled = (abs(number) * 10**decimals + Fraction(1, 2)).__floor__()
    whole, part = divmod(scaled, 10**decimals)
    digits = f"{part:0{decimals}d}".rstrip("0") if decimals and part else ""
    text = f"{whole:,}" if whole >= _THOUSANDS_FROM else str(whole)
    sign = "-" if number < 0 and scaled else ""
    return f"{sign}{text}.{digits}" if digits else f"{sign}{text}"


def plain_text(number: Fraction) -> str:
    """Exact where three decimals are enough, otherwise four significant digits; whole digits are never rounded away."""
    return decimal_text(number, decimals_shown(number))


def decimals_shown(number: Fraction) -> int:
    """How many decimals ``plain_text`` rounds to."""
    for decimals in range(_EXACT_DECIMALS + 1):
        if 10**decimals % number.denominator == 0:
            return decimals
    return max(0, _SIGNIFICANT_DIGITS - 1 - _magnitude(number))


def _magnitude(number: Fraction) -> int:
    """The power of ten of the first significant digit; the number must not be zero."""
    top, bottom = abs(number.numerator), number.denominator
    power = len(str(top)) - len(str(bottom))
    return power if top * 10 ** max(0, -power) >= bottom * 10 ** max(0, power) else power - 1
