"""Tables and numbers of the fuel gas code in force, as the sizing of gas pipe takes them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.pipe_sizing import Equation, Printed, Sizing
from checker.facts.numbers import number_in_force, rows_in_force, word_of_trust
from checker.rules.model.citing import Citation
from checker.rules.model.in_force import NumbersInForce
from checker.rules.model.numbers import Row, TableValues

NATURAL_GAS, PROPANE = "natural_gas", "propane"
STEEL, CSST, COPPER = "steel", "csst", "copper"

CONDITIONS = "pressures-of-the-gas-pipe-tables"
"""For each table the inlet pressure from which and below which it counts, and the pressure that is lost."""
FACTORS: Mapping[str, str] = {NATURAL_GAS: "gas-factor-of-natural-gas", PROPANE: "gas-factor-of-propane"}
PROPANE_HEAT = "heat-behind-the-propane-tables"
HIGH_FROM = "pressure-from-which-gas-is-high"
DIAMETERS: Mapping[str, str] = {STEEL: "schedule-40-inside-diameters", COPPER: "copper-tubing-inside-diameters"}
"""Of the materials for which the equation counts; tubing with corrugations follows none."""

TABLES: Mapping[tuple[str, str], tuple[str, ...]] = {
    (NATURAL_GAS, STEEL): (
        *("natural-gas-steel-0-3", "natural-gas-steel-0-5", "natural-gas-steel-2-psi", "natural-gas-steel-5-psi"),
    ),
    (NATURAL_GAS, CSST): ("natural-gas-csst-0-5",),
    (PROPANE, STEEL): ("propane-steel-11-in-wc", "propane-steel-10-psi"),
    (PROPANE, CSST): ("propane-csst-11-in-wc",),
    (NATURAL_GAS, COPPER): ("natural-gas-copper-0-5",),
    (PROPANE, COPPER): ("propane-copper-11-in-wc", "propane-copper-10-psi"),
}
UNITS: Mapping[str, str] = {NATURAL_GAS: "ft3/h", PROPANE: "BTU/h"}

READ = (
    *(*FACTORS.values(), PROPANE_HEAT, HIGH_FROM, CONDITIONS, *DIAMETERS.values()),
    *(name for names in TABLES.values() for name in names),
)

_SIZE_KEYS: Mapping[str, str] = {STEEL: "size", CSST: "flow_designation", COPPER: "size"}


@dataclass(frozen=True, slots=True)
class Pressures:
    """Gas pressure at the start of the line and what it may lose on the way, in inches of water."""

    inlet: Fraction
    drop: Fraction


@dataclass(frozen=True, slots=True)
class _Conditions:
    """For which inlet pressures and loss a table is printed."""

    table: str
    least: Fraction
    below: Fraction | None
    drop: Fraction

    def holds(self, inlet: Fraction) -> bool:
        """Whether an inlet pressure lies in its range."""
        return self.least <= inlet and (self.below is None or inlet < self.below)


def sizing(numbers: NumbersInForce, gas: str, material: str, pressures: Pressures) -> Sizing:
    """What answers for this gas, material and these pressures in the documents in force.

    Where the equation holds (steel and copper, low pressure) it answers together with the table made for this loss or,
    where none is, for the next greater one; elsewhere the table made for the greatest loss that is not more. So a
    smaller loss never lets more through. OutsideLimits where no document in force has an answer.
    """
    number_in_force(numbers, FACTORS[gas])
    names = TABLES.get((gas, material))
    if names is None:
        raise OutsideLimits("Only Schedule 40 steel, corrugated stainless steel and copper tubing are sized here.")
    tables = [each for each in (_conditions(numbers, name) for name in names) if each.holds(pressures.inlet)]
    equation = _equation(numbers, gas, material, pressures) if material in DIAMETERS else None
    if equation is None:
        table = max((each for each in tables if each.drop <= pressures.drop), key=_lost, default=None)
    else:
        table = min((each for each in tables if each.drop >= pressures.drop), key=_lost, default=None)
    if equation is None and table is None:
        raise OutsideLimits("No table here is made for this gas pressure and this loss of pressure.")
    printed = None if table is None else _printed(numbers, table, material, pressures)
    return Sizing(printed, equation, UNITS[gas])


def _lost(table: _Conditions) -> Fraction:
    return table.drop


def cited_here(numbers: NumbersInForce, name: str) -> str:
    """Where a table stands in the fuel gas code that is in force, with its edition."""
    own = numbers.parameters[HIGH_FROM].cites
    editions = {each.document: each.edition for each in own}
    table: TableValues = numbers.tables[name]
    cites = [each for each in table.cites if each.document in editions] or list(table.cites)
    return "; ".join(_cite(each, editions.get(each.document)) for each in cites) + word_of_trust(numbers, name)


def _cite(citation: Citation, edition: str | None) -> str:
    return " ".join(f"{citation.document} {citation.edition or edition or ''} {citation.section}".split())


def _conditions(numbers: NumbersInForce, table: str) -> _Conditions:
    cells = {
        str(row.keys["pressure"].atom): row.value.number
        for row in rows_in_force(numbers, CONDITIONS)
        if row.keys["table"].atom == table.replace("-", "_")
    }
    least, drop = cells.get("from"), cells.get("lost")
    if least is None or drop is None:
        raise OutsideLimits(f"No document in force says for which pressures the table {table} is made.")
    return _Conditions(table, least, cells.get("below"), drop)


def _printed(numbers: NumbersInForce, table: _Conditions, material: str, pressures: Pressures) -> Printed:
    rows = rows_in_force(numbers, table.table)
    made_for = "" if table.drop == pressures.drop else f", made for a loss of {float(table.drop):g} in wc"
    cells = tuple(_cell(row, _SIZE_KEYS[material]) for row in rows)
    return Printed(cells, f"{cited_here(numbers, table.table)}{made_for}")


def _cell(row: Row, size: str) -> tuple[Fraction, Fraction, Fraction]:
    """Length at the upper end of the row, size, capacity."""
    hull, of, capacity = row.keys["length"].hull, row.keys[size].number, row.value.number
    if hull is None or hull.high is None or of is None or capacity is None:
        raise OutsideLimits("A row of the table has no one length, size or capacity.")
    return hull.high, of, capacity


def _equation(numbers: NumbersInForce, gas: str, material: str, pressures: Pressures) -> Equation | None:
    """The equation for low pressure; None from the pressure on at which another one counts."""
    if pressures.inlet >= number_in_force(numbers, HIGH_FROM) or pressures.drop <= 0:
        return None
    diameters = tuple(
        (size, inside)
        for row in rows_in_force(numbers, DIAMETERS[material])
        if (size := row.keys["size"].number) is not None and (inside := row.value.number) is not None
    )
    heat = number_in_force(numbers, PROPANE_HEAT) if gas == PROPANE else None
    factor = FACTORS[gas]
    source = "; ".join(_cite(each, None) for each in numbers.parameters[factor].cites)
    return Equation(diameters, pressures.drop, number_in_force(numbers, factor), heat, source)
