"""Capacity of gas pipe by its printed table and by the equation behind it, and the smallest size that carries a demand.

Length in feet with fittings counted, capacity in the unit of the table. A table goes before the equation. Where both
answer for one length the smaller counts, as some printed tables carry length labels that the equation does not bear
out. Past the last row of a table the equation goes on, never above that row. So the capacity never rises with length.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.gas_equation import LOW_PRESSURE_FLOW
from checker.engineering.worked import Paper, Worked


@dataclass(frozen=True, slots=True)
class Printed:
    """A printed table: cells by length (ft) and size, and where it is printed."""

    cells: tuple[tuple[Fraction, Fraction, Fraction], ...]
    source: str

    def at(self, size: Fraction, length: Fraction) -> tuple[Fraction, Fraction] | None:
        """Row and capacity at or above a length; None past the last row of this size."""
        found = [(row, capacity) for row, of, capacity in self.cells if of == size and row >= length]
        return min(found, default=None)

    def last(self, size: Fraction) -> Fraction | None:
        """The capacity in the longest row of a size."""
        found = [(row, capacity) for row, of, capacity in self.cells if of == size]
        return max(found)[1] if found else None

    @property
    def sizes(self) -> tuple[Fraction, ...]:
        """The sizes from small to large."""
        return tuple(sorted({of for _, of, _ in self.cells}))


@dataclass(frozen=True, slots=True)
class Equation:
    """The low-pressure equation for one gas: inside diameters (ft) by size, the pressure that may be lost (in wc), the
    factor Cr, and BTU/ft3 where the capacity is a heat rate.
    """

    diameters: tuple[tuple[Fraction, Fraction], ...]
    pressure_drop: Fraction
    gas_factor: Fraction
    heat: Fraction | None
    source: str

    def at(self, size: Fraction, length: Fraction) -> Fraction | None:
        """The capacity; None for a size without an inside diameter."""
        diameter = dict(self.diameters).get(size)
        if diameter is None:
            return None
        flow = LOW_PRESSURE_FLOW.at(
            {
                "inside_diameter": diameter,
                "length": length,
                "pressure_drop": self.pressure_drop,
                "gas_factor": self.gas_factor,
            }
        )
        return flow if self.heat is None else flow * self.heat


@dataclass(frozen=True, slots=True)
class Sizing:
    """What answers for one gas, material, pressure and loss: a table, the equation, or both; the unit of capacities."""

    table: Printed | None
    equation: Equation | None
    unit: str

    def capacity(self, size: Fraction, length: Fraction) -> Fraction:
        """The capacity that counts; falls with the length, rises with the size. OutsideLimits where nothing answers."""
        return self.worked(size, length).value

    def worked(self, size: Fraction, length: Fraction) -> Worked:
        """The capacity with its steps."""
        if length <= 0:
            raise OutsideLimits("A pipe needs a length above zero.")
        paper = Paper()
        found = [*self._by_table(paper, size, length), *self._by_equation(paper, size, length)]
        if not found:
            raise OutsideLimits(f"Neither table nor equation gives a capacity of this size for {_number(length)} ft.")
        if len(found) > 1:
            both = " and ".join(step.letter for step in paper.steps)
            paper.write("capacity", f"the smaller of {both}", min(found), self.unit)
        return paper.result()

    def smallest(self, demand: Fraction, length: Fraction) -> Fraction:
        """The smallest size that carries the demand over the length; OutsideLimits where none does."""
        for size in self.sizes:
            try:
                if self.capacity(size, length) >= demand:
                    return size
            except OutsideLimits:
                continue
        raise OutsideLimits(f"No size of the table carries {_number(demand)} {self.unit} over {_number(length)} ft.")

    @property
    def sizes(self) -> tuple[Fraction, ...]:
        """The sizes from small to large: those of the table, or of the equation where there is no table."""
        if self.table is not None:
            return self.table.sizes
        return () if self.equation is None else tuple(sorted(size for size, _ in self.equation.diameters))

    def _by_table(self, paper: Paper, size: Fraction, length: Fraction) -> list[Fraction]:
        if self.table is None:
            return []
        row = self.table.at(size, length)
        if row is not None:
            paper.write("by the table", f"row of {_number(row[0])} ft", row[1], self.unit, self.table.source)
            return [row[1]]
        last = self.table.last(size)
        if last is None or self.equation is None:
            return []
        paper.write("by the table", "its last row, as no longer one is printed", last, self.unit, self.table.source)
        return [last]

    def _by_equation(self, paper: Paper, size: Fraction, length: Fraction) -> list[Fraction]:
        found = None if self.equation is None else self.equation.at(size, length)
        if self.equation is None or found is None:
            return []
        inches = dict(self.equation.diameters)[size] * _INCHES
        given = (f"D = {_number(inches)} in", f"dH = {_number(self.equation.pressure_drop)} in wc")
        more = (f"Cr = {_number(self.equation.gas_factor)}", f"L = {_number(length)} ft")
        heat = "" if self.equation.heat is None else f" x {_number(self.equation.heat)} BTU/ft3"
        how = f"(19.17 D (dH / (Cr L))^0.206)^(1/0.381){heat} with {', '.join((*given, *more))}"
        paper.write("by the equation", how, found, self.unit, self.equation.source)
        return [found]


_INCHES = 12
"""In a foot."""


def _number(value: Fraction) -> str:
    return f"{float(value):g}"
