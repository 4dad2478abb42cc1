"""Quantities as the trade types them, read and shown exactly."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.values.kinds import KINDS, Kind, Unit, kind
from checker.values.lengths import feet_text, inches_text
from checker.values.number_text import (
    DECIMAL,
    MIXED,
    decimal,
    decimal_text,
    decimals_shown,
    plain_text,
    split_number,
)
from checker.values.refusals import NotationError, quoted, readable
from checker.values.unit_advice import bare_ratio, refusal

__all__ = ["NotationError", "Quantity", "read_quantity", "show", "show_pair"]

FEET_AND_INCHES = "ft in"
"""The unit of a length that was given in feet and inches."""

_PLAIN = re.compile(r"([0-9]{1,15})(?:\.([0-9]{1,15}))? ?([^\s0-9.,/_-].*)")
"""What nearly every quantity looks like; everything else takes the long way."""

_UNIT = r"""[^\s0-9.,/-][^0-9,/-]*?"""
_COMPOUND = re.compile(rf"(?P<sign>[-\u2212]?)({DECIMAL})\s*({_UNIT})\s*-?\s*({MIXED}|{DECIMAL})\s*-?({_UNIT})")
_COMPOUND_UNITS: Mapping[tuple[str, str], str] = {
    ("ft", "in"): FEET_AND_INCHES,
    ("d", "h"): "h",
    ("h", "min"): "min",
    ("min", "s"): "s",
}
"""Pairs of units that are given together, and the unit in which the whole is shown."""

_END = rf"({MIXED}|{DECIMAL})"
_RANGE = re.compile(rf"{_END}\s*[^\s0-9]*\s*[-\u2013]\s*{_END}\s*([^0-9].*)?")


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in the base unit of its kind, with the unit in which it was given."""

    number: Fraction
    kind: str
    unit: str


def read_quantity(text: str, kind: str) -> Quantity:
    """A quantity of the given kind; raises NotationError for the text and KeyError for a kind that does not exist."""
    plain = _PLAIN.fullmatch(text)
    if plain is not None and kind in KINDS:
        whole, decimals, spelled = plain.groups()
        unit = KINDS[kind].unit(spelled)
        if unit is not None:
            number = Fraction(int(whole + decimals), 10 ** len(decimals)) if decimals else Fraction(int(whole))
            return Quantity(unit.to_base(number), kind, unit.symbol)
    return _read_slowly(readable(text), kind)


def _read_slowly(text: str, kind_name: str) -> Quantity:
    wanted = kind(kind_name)
    compound = _compound(text, wanted)
    if compound is not None:
        return compound
    number, spelled = split_number(text, fractions=wanted.fractions)
    spelled = spelled.removeprefix("-").strip()
    unit = wanted.unit(spelled)
    if unit is None:
        _refuse_range(text)
        raise refusal(text, number, spelled, wanted)
    if unit.symbol == "" and "%" in wanted.units and abs(number) > 1:
        raise bare_ratio(text, number)
    return Quantity(unit.to_base(number), wanted.name, unit.symbol)


def _compound(text: str, wanted: Kind) -> Quantity | None:
    """Two numbers with two units of one kind, the second finer: 5'-6", 1 h 30 min; None where it is no such text."""
    match = _COMPOUND.fullmatch(text)
    if match is None:
        return None
    sign, first_digits, first_unit, rest_digits, rest_unit = match.groups()
    coarse, fine = wanted.unit(first_unit), wanted.unit(rest_unit)
    if coarse is None or fine is None or (coarse.symbol, fine.symbol) not in _COMPOUND_UNITS:
        return None
    first, (rest, _) = decimal(first_digits), split_number(rest_digits)
    if first.denominator != 1 or fine.to_base(rest) >= coarse.factor:
        raise NotationError(
            f"{quoted(text)} does not add up as {coarse.symbol} and {fine.symbol}.",
            f"Write whole {coarse.symbol} and less than {plain_text(coarse.factor / fine.factor)} {fine.symbol}.",
        )
    total = coarse.to_base(first) + fine.to_base(rest)
    return Quantity(-total if sign else total, wanted.name, _COMPOUND_UNITS[coarse.symbol, fine.symbol])


def _refuse_range(text: str) -> None:
    match = _RANGE.fullmatch(text)
    if match is not None:
        low, high, unit = match.groups()
        raise NotationError(
            f"{quoted(text)} is not one quantity.", f"Write {low} to {high} {(unit or '').strip()}".rstrip() + "."
        )


def show(number: Fraction, kind: str, unit: str | None = None) -> str:
    """A number (in the base unit of the kind) as text in the given unit, or in the usual one of its kind.

    Exact where three decimals are enough, otherwise at least four significant digits; lengths in feet and inches as on
    a drawing. KeyError for a kind or unit that does not exist.
    """
    measure, shown = _shown_unit(kind, unit)
    drawn = _as_drawn(number, measure, unit)
    return drawn or _with_symbol(plain_text(shown.from_base(number)), shown)


def show_pair(first: Fraction, second: Fraction, kind: str, unit: str | None = None) -> tuple[str, str]:
    """Two numbers as ``show`` writes them, with as many more decimals as it takes to tell different numbers apart."""
    measure, shown = _shown_unit(kind, unit)
    drawn = _as_drawn(first, measure, unit), _as_drawn(second, measure, unit)
    if first == second or (drawn[0] and drawn[1]):
        return show(first, kind, unit), show(second, kind, unit)
    numbers = shown.from_base(first), shown.from_base(second)
    decimals = max(decimals_shown(numbers[0]), decimals_shown(numbers[1]))
    while True:
        texts = decimal_text(numbers[0], decimals), decimal_text(numbers[1], decimals)
        if texts[0] != texts[1]:
            return _with_symbol(texts[0], shown), _with_symbol(texts[1], shown)
        decimals += 1


def _shown_unit(kind_name: str, symbol: str | None) -> tuple[Kind, Unit]:
    """The kind, and the unit in which the number itself is written (feet for feet and inches)."""
    measure = kind(kind_name)
    wanted = measure.shown_unit if symbol is None else "ft" if symbol == FEET_AND_INCHES else symbol
    unit = measure.unit(wanted)
    if unit is None:
        raise KeyError(f"{symbol} is no unit of {kind_name}")
    return measure, unit


def _as_drawn(number: Fraction, measure: Kind, unit: str | None) -> str | None:
    """A length in fractions of an inch; None for all other quantities and lengths.

    Decimal feet that were given as such stay decimal.
    """
    if measure.name != "length":
        return None
    if unit == "in":
        return inches_text(number * 12)
    if unit in (None, FEET_AND_INCHES) or (unit == "ft" and 1000 % number.denominator):
        return feet_text(number)
    return None


def _with_symbol(text: str, unit: Unit) -> str:
    return f"{text} {unit.symbol}" if unit.symbol else text
