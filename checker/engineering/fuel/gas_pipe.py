"""Capacity of gas pipe and tubing by a printed table, and the smallest size that carries a demand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.gas_equation import LOW_PRESSURE_FLOW


@dataclass(frozen=True, slots=True)
class PipeRow:
    """Capacities up to this length (ft), one for each size of the table; None where the table prints none."""

    length: Fraction
    capacities: tuple[Fraction | None, ...]


@dataclass(frozen=True, slots=True)
class PipeTable:
    """A printed table: sizes from small to large (nominal size of pipe, EHD of corrugated tubing), rows by length, the
    unit of its capacities (ft3/h or BTU/h), and where it is printed.
    """

    sizes: tuple[str, ...]
    rows: tuple[PipeRow, ...]
    unit: str
    source: str

    def capacity(self, size: str, length: Fraction) -> Fraction:
        """The capacity in the row at or above the length (ft), never read between two rows; OutsideLimits where the
        table prints none.
        """
        if size not in self.sizes:
            raise OutsideLimits(f"{self.source} has no size {size}; it has {', '.join(self.sizes)}.")
        row = next((row for row in self.rows if row.length >= length), None)
        found = None if row is None else row.capacities[self.sizes.index(size)]
        if found is None:
            raise OutsideLimits(f"{self.source} prints no capacity of size {size} for {float(length):g} ft.")
        return found


@dataclass(frozen=True, slots=True)
class ByEquation:
    """What the low-pressure equation needs beside the length: inside diameters (ft) by size, the loss of pressure for
    which the table was made (in wc), the factor Cr of the gas, and BTU/ft3 where the table counts heat.
    """

    diameters: tuple[tuple[str, Fraction], ...]
    pressure_drop: Fraction
    gas_factor: Fraction
    heating_value: Fraction | None = None

    def capacity(self, size: str, length: Fraction) -> Fraction:
        """The capacity by the equation, in ft3/h, or in BTU/h where a heat content is given."""
        diameter = dict(self.diameters).get(size)
        if diameter is None:
            raise OutsideLimits(f"The inside diameter of size {size} is not given.")
        flow = LOW_PRESSURE_FLOW.at(
            {
                "inside_diameter": diameter,
                "length": length,
                "pressure_drop": self.pressure_drop,
                "gas_factor": self.gas_factor,
            }
        )
        return flow if self.heating_value is None else flow * self.heating_value


@dataclass(frozen=True, slots=True)
class PipeCapacity:
    """The capacity that counts, in the unit of the table, with what the table and the equation say one by one."""

    size: str
    length: Fraction
    by_table: Fraction
    by_equation: Fraction | None
    unit: str

    @property
    def counts(self) -> Fraction:
        """The smaller of the two; a pipe that one of them fails does not count as large enough."""
        return self.by_table if self.by_equation is None else min(self.by_table, self.by_equation)

    def only_table_carries(self, demand: Fraction) -> bool:
        """Whether the printed table has room for the demand and the equation behind it has not."""
        return self.counts < demand <= self.by_table


@dataclass(frozen=True, slots=True)
class Pipe:
    """A table, with the equation beside it where one belongs to it (not for corrugated tubing)."""

    table: PipeTable
    equation: ByEquation | None = None

    def capacity(self, size: str, length: Fraction) -> PipeCapacity:
        """The capacity of a size over a length (ft). It falls with the length. OutsideLimits past the table.

        Some printed tables carry length labels that the equation does not bear out (11 in wc propane from 80 ft on), so
        the smaller of the two counts.
        """
        if length <= 0:
            raise OutsideLimits("A pipe needs a length above zero.")
        equation = None if self.equation is None else self.equation.capacity(size, length)
        return PipeCapacity(size, length, self.table.capacity(size, length), equation, self.table.unit)

    def smallest(self, demand: Fraction, length: Fraction) -> PipeCapacity:
        """The smallest size that carries the demand over the length; OutsideLimits where none does."""
        for found in self._sizes(length):
            if found.counts >= demand:
                return found
        raise OutsideLimits(
            f"No size of {self.table.source} carries {float(demand):g} {self.table.unit} over {float(length):g} ft."
        )

    def _sizes(self, length: Fraction) -> Iterator[PipeCapacity]:
        """All sizes, from small to large, that the table prints for the length."""
        unprinted: OutsideLimits | None = None
        for size in self.table.sizes:
            try:
                yield self.capacity(size, length)
            except OutsideLimits as limit:
                unprinted = limit
        if unprinted is not None:
            raise unprinted
