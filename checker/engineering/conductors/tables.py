"""Tables of conductors as the calculations take them; their numbers come in from the packs."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from checker.engineering.calculation import OutsideLimits
from checker.engineering.impedance import Impedance
from checker.engineering.worked import Paper, Worked
from checker.values.number_text import plain_text
from checker.values.wire_sizes import SIZES, WireSize


@dataclass(frozen=True)
class Column:
    """Ampacities in A of one metal in the column of one temperature (°C), by size."""

    material: str
    temperature: Fraction
    ampacities: Mapping[WireSize, Fraction]

    @cached_property
    def sizes(self) -> tuple[WireSize, ...]:
        """The sizes that it has, the smallest first."""
        return tuple(sorted(self.ampacities))

    @cached_property
    def _areas(self) -> tuple[Fraction, ...]:
        return tuple(size.circular_mils for size in self.sizes)

    def between(self, low: Fraction | None, high: Fraction | None) -> tuple[WireSize, ...]:
        """Its sizes from one area in circular mils to another, both with it; None: no end."""
        first = 0 if low is None else bisect_left(self._areas, low)
        return self.sizes[first : None if high is None else bisect_right(self._areas, high)]


@dataclass(frozen=True, slots=True)
class Ampacities:
    """Ampacities at the base temperature, three current-carrying conductors at most (Table 310.16)."""

    columns: tuple[Column, ...]
    source: str

    def of(self, size: WireSize, material: str, temperature: Fraction) -> Fraction:
        """The ampacity in A; OutsideLimits where the table has none."""
        found = self.column(material, temperature).ampacities.get(size)
        if found is None:
            raise OutsideLimits(f"{self.source} has no ampacity for {size.name} {material}.")
        return found

    def column(self, material: str, temperature: Fraction) -> Column:
        """The column of a metal and a temperature; OutsideLimits where there is none."""
        for column in self.columns:
            if column.material == material and column.temperature == temperature:
                return column
        raise OutsideLimits(f"{self.source} has no column of {plain_text(temperature)} °C for {material}.")


@dataclass(frozen=True, slots=True)
class LimitedRow:
    """Up to and with ``up_to`` (None: for all that is above) this value holds."""

    up_to: Fraction | None
    value: Fraction


@dataclass(frozen=True, slots=True)
class TemperatureFactors:
    """Factors by the temperature of the surroundings, for each temperature of the insulation, both in °C."""

    by_insulation: Mapping[Fraction, tuple[LimitedRow, ...]]
    source: str

    def of(self, ambient: Fraction, insulation: Fraction) -> Fraction:
        """The factor; OutsideLimits where the insulation carries no current at that temperature."""
        for row in self.by_insulation.get(insulation, ()):
            if row.up_to is None or ambient <= row.up_to:
                return row.value
        raise OutsideLimits(
            f"{self.source} has no factor for {plain_text(insulation)} °C insulation at {plain_text(ambient)} °C."
        )


@dataclass(frozen=True, slots=True)
class CountFactors:
    """Factors by how many current-carrying conductors lie together. A bundle of not more than ``shortest`` (ft) is not
    adjusted.
    """

    rows: tuple[LimitedRow, ...]
    source: str
    shortest: Fraction = Fraction(0)

    def of(self, count: int, length: Fraction | None = None) -> Fraction:
        """The factor for so many over this length in ft; None counts as long."""
        if length is not None and length <= self.shortest:
            return Fraction(1)
        return limited(self.rows, Fraction(count), self.source)


def limited(rows: tuple[LimitedRow, ...], amount: Fraction, source: str) -> Fraction:
    """The value of the first row that reaches as far; OutsideLimits past the last."""
    for row in rows:
        if row.up_to is None or amount <= row.up_to:
            return row.value
    raise OutsideLimits(f"{source} has no row for {plain_text(amount)}.")


@dataclass(frozen=True, slots=True)
class SizeRow:
    """Up to and with ``up_to`` (None: for all that is above) this size holds."""

    up_to: Fraction | None
    size: WireSize


@dataclass(frozen=True, slots=True)
class SizesBy:
    """Sizes of one metal by a current in A or by an area in kcmil, rows in rising order."""

    rows: tuple[SizeRow, ...]
    source: str

    def of(self, amount: Fraction) -> WireSize | None:
        """The size of the first row that reaches as far; None past the last."""
        return next((row.size for row in self.rows if row.up_to is None or amount <= row.up_to), None)


@dataclass(frozen=True, slots=True)
class Impedances:
    """Resistance and reactance of each conductor to neutral, in ohms per 1000 ft, by size (chapter 9, Table 9)."""

    by_size: Mapping[WireSize, Impedance]
    source: str

    def of(self, size: WireSize) -> Impedance:
        """Ohms per 1000 ft; OutsideLimits where the table has none."""
        found = self.by_size.get(size)
        if found is None:
            raise OutsideLimits(f"{self.source} has no impedance for {size.name}.")
        return found


@dataclass(frozen=True, slots=True, kw_only=True)
class Sized(Worked):
    """A result that is a size of wire; ``value`` is its area in circular mils."""

    size: WireSize


def size_with_area(area: Fraction) -> WireSize:
    """The smallest size of building wire with this area in circular mils; OutsideLimits past the largest."""
    for size in SIZES.values():
        if size.circular_mils >= area:
            return size
    raise OutsideLimits(f"There is no wire of {plain_text(area / 1000)} kcmil.")


def write_size(paper: Paper, quantity: str, how: str, size: WireSize, source: str = "") -> Sized:
    """The last step, with the name of the size, and the result."""
    paper.write(quantity, f"{how}: {size.name}", size.circular_mils, "cmil", source)
    worked = paper.result()
    return Sized(size.circular_mils, worked.unit, worked.steps, worked.assumptions, size=size)
