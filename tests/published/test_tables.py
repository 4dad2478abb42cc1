"""Tables of the packs cell by cell against a second typed copy from published sources (``tables.yaml`` beside this
file).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.catalog.load import shipped_catalog
from checker.files.folders import data_folder
from checker.findings.judging.operands import cell
from checker.rules.model.numbers import TableValues
from checker.rules.model.pack import Pack
from checker.rules.reading.pack import read_pack
from checker.values.possible import exactly, number
from checker.values.quantities import read_quantity
from checker.values.wire_sizes import read_wire_size

COPY: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "tables.yaml").read_text(encoding="utf-8"))
EDITIONS = ("2017", "2020", "2023", "2026")


@pytest.fixture(scope="module")
def pack() -> Pack:
    return read_pack(data_folder("rulesets") / "nfpa-70", shipped_catalog())


def values(pack: Pack, name: str, edition: str) -> TableValues:
    return pack.tables[name].values[edition]


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("row", COPY["equipment-grounding-conductors"]["rows"], ids=lambda row: f"{row[0]} A")
def test_equipment_grounding_conductors(pack: Pack, edition: str, row: list[Any]) -> None:
    table = values(pack, "equipment-grounding-conductors", edition)
    for material, size in zip(("copper", "aluminum"), row[1:], strict=True):
        if size is not None:
            found = cell(table, {"overcurrent": number(row[0]), "material": exactly(material)})
            assert found == number(read_wire_size(size).circular_mils)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_device_between_two_rows_takes_the_larger_one(pack: Pack, edition: str) -> None:
    """Common practice with the table, no source: a 90 A device takes the row of 100 A, 8 AWG copper."""
    table = values(pack, "equipment-grounding-conductors", edition)
    found = cell(table, {"overcurrent": number(90), "material": exactly("copper")})
    assert found == number(read_wire_size("8 AWG").circular_mils)


@pytest.mark.parametrize("edition", EDITIONS)
def test_standard_overcurrent_sizes(pack: Pack, edition: str) -> None:
    sizes = [row.value for row in values(pack, "standard-overcurrent-sizes", edition).rows]
    wanted = [number(size) for size in COPY["standard-overcurrent-sizes"]["sizes"]]
    # The edition of 2023 may begin with 10 A; the second copy is silent on it, so only that cell may differ.
    assert [size for size in sizes if size != number(10)] == wanted


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("row", COPY["working-space-depth"]["feet"], ids=lambda row: f"up to {row[1]} V")
def test_working_space_depth(pack: Pack, edition: str, row: list[Any]) -> None:
    table = values(pack, "working-space-depth", edition)
    low, high, *depths = row
    for condition, depth in zip(("1", "2", "3"), depths, strict=True):
        for volts in (high, low + 1):
            found = cell(table, {"to_ground": number(volts), "condition": exactly(condition)})
            assert found == number(read_quantity(f"{depth} ft", "length").number)
