"""The table of equipment grounding conductors against a printing that anybody can look up.

NOM-001-SEDE-2012 (Diario Oficial de la Federacion, 2012-11-29), table 250-122, took over the table of the 2011 edition
of NFPA 70. Its copper column is printed from 15 A to 6000 A, its aluminum column from 200 A. At 400 A it prints 2 AWG
copper, where the International Residential Code, table E3908.12, has 3 AWG: a misprint, and 3 AWG stands here.
"""

import pytest

from checker.catalog.load import shipped_catalog
from checker.files.folders import data_folder
from checker.findings.judging.operands import cell
from checker.rules.reading.pack import read_pack
from checker.values.possible import exactly, number
from checker.values.wire_sizes import SIZES

COPPER = {
    15: "14 AWG", 20: "12 AWG", 60: "10 AWG", 100: "8 AWG", 200: "6 AWG", 300: "4 AWG", 400: "3 AWG", 500: "2 AWG",
    600: "1 AWG", 800: "1/0 AWG", 1000: "2/0 AWG", 1200: "3/0 AWG", 1600: "4/0 AWG", 2000: "250 kcmil",
    2500: "350 kcmil", 3000: "400 kcmil", 4000: "500 kcmil", 5000: "700 kcmil", 6000: "800 kcmil",
}  # fmt: skip
ALUMINUM = {
    200: "4 AWG", 300: "2 AWG", 400: "1 AWG", 500: "1/0 AWG", 600: "2/0 AWG", 800: "3/0 AWG", 1000: "4/0 AWG",
    1200: "250 kcmil", 1600: "350 kcmil", 2000: "400 kcmil", 2500: "600 kcmil", 3000: "600 kcmil", 4000: "750 kcmil",
}  # fmt: skip

PACK = read_pack(data_folder("rulesets") / "nfpa-70", shipped_catalog())
TABLE = PACK.tables["equipment-grounding-conductors"]
CELLS = [
    *((amperes, "copper", size) for amperes, size in COPPER.items()),
    *((amperes, "aluminum", size) for amperes, size in ALUMINUM.items()),
    *((amperes, "copper_clad_aluminum", size) for amperes, size in ALUMINUM.items()),
]


@pytest.mark.parametrize("edition", PACK.editions)
@pytest.mark.parametrize(("amperes", "material", "size"), CELLS)
def test_a_row_holds_up_to_its_rating(edition: str, amperes: int, material: str, size: str) -> None:
    found = cell(TABLE.values[edition], {"overcurrent": number(amperes), "material": exactly(material)})
    assert found == number(SIZES[size].circular_mils)


@pytest.mark.parametrize("edition", PACK.editions)
@pytest.mark.parametrize(("below", "size"), list(zip(list(COPPER)[:-1], list(COPPER.values())[1:], strict=True)))
def test_past_a_row_the_next_one_holds(edition: str, below: int, size: str) -> None:
    found = cell(TABLE.values[edition], {"overcurrent": number(below + 1), "material": exactly("copper")})
    assert found == number(SIZES[size].circular_mils)


@pytest.mark.parametrize("edition", PACK.editions)
@pytest.mark.parametrize(("amperes", "material"), [(6001, "copper"), (4001, "aluminum")])
def test_past_the_last_row_nothing_is_said(edition: str, amperes: int, material: str) -> None:
    found = cell(TABLE.values[edition], {"overcurrent": number(amperes), "material": exactly(material)})
    assert found.undefined
    assert not found.has_value
