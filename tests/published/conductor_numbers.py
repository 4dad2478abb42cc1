"""What the editions set for conductors, typed for the tests: numbers that in use come from the packs."""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from checker.catalog.load import shipped_catalog
from checker.engineering.conductors.ampacity import AmpacityCase, AmpacityTables, Conductors, Surroundings
from checker.engineering.conductors.tables import SizeRow, SizesBy
from checker.engineering.conductors.terminals import RoofRow, TerminalNumbers
from checker.files.folders import data_folder
from checker.rules.model.pack import Pack
from checker.rules.reading.pack import read_pack
from checker.values.wire_sizes import SIZES
from tests.published import conductor_tables as shared

FAHRENHEIT = Fraction(5, 9)
INCH = Fraction(1, 12)

TERMINALS = TerminalNumbers(Fraction(100), SIZES["1 AWG"], Fraction(60), Fraction(75))
"""110.14(C)(1): from memory."""

ROOFS_OF_2008 = tuple(
    RoofRow(INCH * Fraction(height), True, FAHRENHEIT * adder)
    for height, adder in (("1/2", 60), ("7/2", 40), ("12", 30), ("36", 25))
)
"""310.15(B)(2)(c) of 2008: four bands; the third as printed in a state newsletter, the others from memory."""

ROOFS_SINCE_2017 = (RoofRow(INCH * Fraction(7, 8), False, FAHRENHEIT * 60),)
"""310.15(B)(3)(c) of 2017, 310.15(B)(2) later: trade articles."""


@cache
def pack() -> Pack:
    return read_pack(data_folder("rulesets") / "nfpa-70", shipped_catalog())


@cache
def equipment_grounding(edition: str, material: str) -> SizesBy:
    rows = pack().tables["equipment-grounding-conductors"].values[edition].rows
    listed = (
        SizeRow(shared.upper_end(row, "overcurrent"), shared.size_of(shared.value(row)))
        for row in rows
        if shared.word(row, "material") == material
    )
    return SizesBy(tuple(listed), "Table 250.122")


@cache
def ampacity_tables(edition: str) -> AmpacityTables:
    return AmpacityTables(
        shared.ampacities(edition), shared.temperature_factors(edition), shared.count_factors(edition)
    )


def at_thirty_degrees(
    size: str, material: str, column: int, count: int = 3, terminals: int | None = None
) -> AmpacityCase:
    """Conductors at the base temperature; terminals as the insulation where nothing is said of them."""
    conductors = Conductors(shared.sized(size), material, Fraction(column))
    around = Surroundings(Fraction(30), count)
    return AmpacityCase(conductors, around, Fraction(terminals or column), ampacity_tables("2020"))
