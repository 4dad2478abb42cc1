"""The tables of the folder shared as the calculations take them, read by the program's own reader of packs."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

from checker.catalog.load import shipped_catalog
from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.part_load import Curve, Point
from checker.engineering.fuel.pipe_sizing import Sizing
from checker.engineering.fuel.propane import FactorRow, VaporizationFactors
from checker.engineering.generator.power_adjustment import Exponents
from checker.engineering.sites.enclosures import CrossTable, EnclosureTable, read_protection
from checker.facts.fuel.numbers import Pressures, sizing
from checker.files.folders import data_folder
from checker.rules.model.numbers import Row, Table
from checker.rules.reading.pack import read_pack
from tests.published.small_sites import numbers

EDITION = "2020"
_PACK = """\
pack: tables-of-the-tests
title: Tables
document: NFPA 70
editions: ["2017", "2020", "2023"]
basis: law
tables:
  use: [{files}]
"""
FILES = (
    "diesel-consumption",
    "enclosure-ip",
    "enclosure-types",
    "gas-pipe-schedule-40",
    "gas-tubing-copper",
    "gas-tubing-csst",
    "locked-rotor-by-horsepower",
    "locked-rotor-code-letters",
    "motors",
    "performance-classes",
    "power-adjustment",
    "propane-vaporization",
    "starting-methods",
)
NATURAL_GAS, PROPANE = Fraction("0.6094"), Fraction("1.2462")
"""Factor Cr of the two gases (NFPA 54, 6.4; IFGC, Table 402.4)."""
NATURAL_GAS_Y, PROPANE_Y = Fraction("0.9992"), Fraction("0.9910")
PROPANE_HEAT = Fraction(2475)
"""BTU/ft3 with which the printed propane tables follow the equation: worked out from them, not printed."""


def exact(number: Any) -> Fraction:
    return Fraction(str(number))


@cache
def tables() -> dict[str, Table]:
    with tempfile.TemporaryDirectory() as folder:
        names = ", ".join(f"shared/{name}.yaml" for name in FILES)
        (Path(folder) / "pack.yaml").write_text(_PACK.format(files=names), encoding="utf-8")
        return dict(read_pack(Path(folder), shipped_catalog(), data_folder("shared")).tables)


def rows(name: str) -> tuple[Row, ...]:
    return tables()[name].values[EDITION].rows


def key(row: Row, name: str) -> Fraction:
    """The key of a row: the number, or the upper end up to which it counts."""
    hull = row.keys[name].hull
    assert hull is not None
    assert hull.high is not None
    return hull.high


def word(row: Row, name: str) -> str:
    return str(row.keys[name].atom)


def number(row: Row) -> Fraction:
    value = row.value.number
    assert value is not None
    return value


def sized(row: Row, name: str) -> str:
    """A size as it is called: ``1-1/4`` of a length, ``18`` of a count."""
    value = key(row, name)
    return str(value) if name == "flow_designation" else called(value)


def called(feet: Fraction) -> str:
    """A nominal size, given in feet, as it is called: ``1-1/4``."""
    whole, part = divmod(feet * 12, 1)
    return "-".join(str(each) for each in (whole, part) if each) or "0"


@dataclass(frozen=True, slots=True)
class PrintedRow:
    """Capacities up to this length (ft), one for each size of the table; None where the table prints none."""

    length: Fraction
    capacities: tuple[Fraction | None, ...]


@dataclass(frozen=True, slots=True)
class PrintedTable:
    """A table as it is printed: sizes from small to large, rows by length, the unit of its capacities."""

    sizes: tuple[str, ...]
    rows: tuple[PrintedRow, ...]
    unit: str

    def capacity(self, size: str, length: Fraction) -> Fraction:
        """The cell in the row at or above the length (ft)."""
        row = next(row for row in self.rows if row.length >= length)
        found = row.capacities[self.sizes.index(size)]
        assert found is not None
        return found


@cache
def pipe_table(name: str) -> PrintedTable:
    size_key = "size" if "size" in {each.name for each in tables()[name].keys} else "flow_designation"
    cells = {(key(row, "length"), sized(row, size_key)): number(row) for row in rows(name)}
    sizes = tuple(dict.fromkeys(size for _, size in cells))
    lengths = dict.fromkeys(length for length, _ in cells)
    lines = tuple(PrintedRow(length, tuple(cells.get((length, size)) for size in sizes)) for length in lengths)
    return PrintedTable(sizes, lines, "BTU/h" if "propane" in name else "ft3/h")


def diameters(table: str = "schedule-40-inside-diameters") -> tuple[tuple[str, Fraction], ...]:
    return tuple((sized(row, "size"), number(row)) for row in rows(table))


@dataclass(frozen=True, slots=True)
class Sized:
    """What the program sizes pipe by, with sizes as they are called."""

    sizing: Sizing

    def smallest(self, demand: Fraction, length: Fraction) -> str:
        """The smallest size that carries the demand over the length (ft)."""
        return called(self.sizing.smallest(demand, length))

    def by(self, step: str, size: str, length: Fraction) -> Fraction:
        """The capacity by the table, by the equation, or the one that counts."""
        worked = self.sizing.worked(next(each for each in self.sizing.sizes if called(each) == size), length)
        return worked.step(step).value

    def holds(self, size: str, demand: Fraction, length: Fraction) -> bool:
        """Whether a size carries a demand; no where nothing answers for it."""
        try:
            return self.by("capacity", size, length) >= demand
        except OutsideLimits:
            return False


def half_an_inch_lost(gas: str, material: str, inlet: Fraction) -> Sizing:
    """What answers by the fuel gas code of 2021 where 0.5 in wc may be lost."""
    in_force = numbers("International Fuel Gas Code", "2021")
    return sizing(in_force, gas, material, Pressures(inlet, Fraction(1, 2)))


def steel_natural_gas() -> Sized:
    """Steel, below 2 psi, with 0.5 in wc to lose."""
    return Sized(
        sizing(
            numbers("International Fuel Gas Code", "2021"),
            "natural_gas",
            "steel",
            Pressures(Fraction(7), Fraction(1, 2)),
        )
    )


def steel_propane() -> Sized:
    """Steel at 11 in wc with 0.5 in wc to lose."""
    return Sized(
        sizing(
            numbers("International Fuel Gas Code", "2021"), "propane", "steel", Pressures(Fraction(11), Fraction(1, 2))
        )
    )


def tubing_natural_gas() -> Sizing:
    """Corrugated tubing, below 2 psi, with 0.5 in wc to lose; its sizes are flow designations."""
    return sizing(
        numbers("International Fuel Gas Code", "2021"), "natural_gas", "csst", Pressures(Fraction(7), Fraction(1, 2))
    )


def vaporization_factors() -> VaporizationFactors:
    return VaporizationFactors(
        _factors("propane-vaporization-by-fill", "fill"),
        _factors("propane-vaporization-by-temperature", "temperature"),
        "trade rule",
    )


def _factors(name: str, key_name: str) -> tuple[FactorRow, ...]:
    return tuple(FactorRow(key(row, key_name), number(row)) for row in rows(name))


def tank_dimensions() -> dict[int, dict[str, Fraction]]:
    """Diameter and length in ft by gallons."""
    found: dict[int, dict[str, Fraction]] = {}
    for row in rows("propane-tank-dimensions"):
        found.setdefault(int(key(row, "capacity")), {})[word(row, "dimension")] = number(row)
    return found


def diesel_curve(kilowatts: int) -> Curve:
    points = [row for row in rows("diesel-consumption") if key(row, "rating") == kilowatts * 1000]
    return Curve(tuple(Point(key(row, "load"), number(row)) for row in points), "gal/h", "chart of diesel consumption")


def code_letters() -> dict[str, tuple[Fraction, Fraction | None]]:
    """Both ends of the band of each letter in kVA/hp; the last one has no upper end."""
    high = {word(row, "letter"): number(row) for row in rows("locked-rotor-input-greatest")}
    least = rows("locked-rotor-input-least")
    return {word(row, "letter"): (number(row), high.get(word(row, "letter"))) for row in least}


def starting_methods() -> dict[str, Fraction]:
    """Shares of the locked-rotor input by method."""
    return {word(row, "method"): number(row) for row in rows("starting-methods")}


def performance_classes() -> dict[str, dict[str, Fraction]]:
    """Limits of each class by quantity."""
    limits: dict[str, dict[str, Fraction]] = {}
    for name in ("performance-class-deviations", "performance-class-recovery"):
        for row in rows(name):
            limits.setdefault(word(row, "class"), {})[word(row, "quantity")] = number(row)
    return limits


def enclosure_types(where: str) -> EnclosureTable:
    serving: dict[str, set[str]] = {}
    for row in rows(f"enclosure-types-{where}"):
        types = serving.setdefault(word(row, "condition"), set())
        if row.value.atom is True:
            types.add(word(row, "type"))
    return EnclosureTable({condition: frozenset(types) for condition, types in serving.items()}, "Table 110.28")


def enclosure_codes(printing: str) -> CrossTable:
    codes = {word(row, "type"): read_protection(str(row.value.atom)) for row in rows(f"enclosure-ip-{printing}")}
    return CrossTable(codes, f"annex of NEMA 250, {printing} printing")


def exponents() -> dict[str, Exponents]:
    found: dict[str, dict[str, Fraction]] = {}
    for row in rows("power-adjustment-exponents"):
        found.setdefault(word(row, "engine"), {})[word(row, "exponent")] = number(row)
    return {
        engine: Exponents(told["humidity"], told["pressure"], told["temperature"], told["coolant"], engine)
        for engine, told in found.items()
    }
