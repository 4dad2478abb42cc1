"""Kinds of quantity as the trade tells them apart, each with its units.

Finer than dimensions: kVA is no kW, a breaker's rating in amperes is no fault rating, an hour is no month. Base units
are the ones in which the codes print their limits. Factors are exact.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from types import MappingProxyType

from checker.values.refusals import nearest
from checker.values.unit_table import KIND_ROWS, KindRow, UnitRow

_FEET_MARKS = "\u2032\u2018\u2019"
_INCH_MARKS = "\u2033\u201c\u201d"
_HYPHENS = "-\u2010\u2011"
_PLAIN_CHARACTERS = str.maketrans(
    {
        **dict.fromkeys(_FEET_MARKS, "'"),
        **dict.fromkeys(_INCH_MARKS, '"'),
        **dict.fromkeys(_HYPHENS, " "),
        "²": "2", "³": "3", "₂": "2", "℃": "°c", "℉": "°f", "º": "°", "·": " ", "_": " ", "\u2126": "ω", ".": None,
    }
)  # fmt: skip
_PER = re.compile(r"\s*/\s*|\sper\s")
_MEGA_OR_MILLI = frozenset({"mw", "mva", "mv", "ma", "mwh", "mvar", "mω", "mohm", "mohms"})
"""Units that mean something else with a capital M; all others are read whatever their case."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: ``factor`` base units each, plus ``offset`` where its zero is not the base unit's zero (°F)."""

    symbol: str
    factor: Fraction
    offset: Fraction = Fraction(0)

    def to_base(self, number: Fraction) -> Fraction:
        """The number, given in this unit, in the base unit."""
        scaled = number if self.factor == 1 else number * self.factor
        return scaled + self.offset if self.offset else scaled

    def from_base(self, number: Fraction) -> Fraction:
        """The number, given in the base unit, in this unit."""
        shifted = number - self.offset if self.offset else number
        return shifted if self.factor == 1 else shifted / self.factor


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of quantity.

    ``units`` maps every spelling (see ``spelling_of``) to its unit; ``symbols`` are the units as this program writes
    them, the usual ones first; ``shown_unit`` serves where no unit was given; ``label`` names the kind in a sentence;
    ``fractions`` says whether ``1-1/4`` is usual.
    """

    name: str
    base_unit: str
    units: Mapping[str, Unit] = field(hash=False)
    symbols: tuple[str, ...]
    shown_unit: str
    label: str
    fractions: bool

    def unit(self, spelled: str) -> Unit | None:
        """The unit that is spelled so, or None."""
        return self.units.get(spelled) or self.units.get(spelling_of(spelled))

    @property
    def bare_allowed(self) -> bool:
        """Whether a number without a unit means something."""
        return "" in self.units


def spelling_of(text: str) -> str:
    """A unit as it is looked up: without dots, doubled spaces and case, but telling MW from mW."""
    folded = " ".join(text.translate(_PLAIN_CHARACTERS).casefold().split())
    folded = _PER.sub("/", folded)
    return f"M{folded[1:]}" if folded in _MEGA_OR_MILLI and text.lstrip().startswith("M") else folded


def _kind(row: KindRow) -> Kind:
    units: dict[str, Unit] = {}
    for unit_row in row.units:
        unit = Unit(unit_row.symbol, Fraction(unit_row.factor), Fraction(unit_row.offset))
        for spelled in _spellings(unit_row):
            units.setdefault(spelled, unit)
    symbols = tuple(unit_row.symbol for unit_row in row.units)
    label = row.label or row.name.replace("_", " ")
    return Kind(row.name, row.base_unit, MappingProxyType(units), symbols, row.shown_unit, label, row.fractions)


def _spellings(row: UnitRow) -> Iterable[str]:
    """The symbol as it is, for speed, and every spelling with and without its spaces."""
    yield row.symbol
    for text in (row.symbol, *row.spellings):
        spelled = spelling_of(text)
        yield spelled
        yield spelled.replace(" ", "")


KINDS: Mapping[str, Kind] = MappingProxyType({row.name: _kind(row) for row in KIND_ROWS})
"""Every kind of quantity by name."""


def kind(name: str) -> Kind:
    """The kind of that name; KeyError with the nearest name where there is none."""
    try:
        return KINDS[name]
    except KeyError:
        near = nearest(name, KINDS)
        hint = f"; nearest: {near}" if near else ""
        raise KeyError(f"{name} is no kind of quantity{hint}") from None
