"""The tables of ``shared/`` as packs read them, and as the calculations take them."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path

from checker.engineering.conductors.tables import (
    Ampacities,
    Column,
    CountFactors,
    Impedances,
    LimitedRow,
    SizeRow,
    SizesBy,
    TemperatureFactors,
)
from checker.engineering.impedance import Impedance
from checker.files.folders import data_folder
from checker.files.yaml.tree import Mapping as MappingNode
from checker.findings.judging.operands import cell
from checker.rules.model.numbers import Row, Table
from checker.rules.problem_list import ProblemList
from checker.rules.reading import nodes
from checker.rules.reading.citing import Head
from checker.rules.reading.pack_files import read_pack_file
from checker.rules.reading.tables import read_table
from checker.values.possible import Possible, number
from checker.values.wire_sizes import SIZES, WireSize, read_wire_size, show_wire_size

EDITIONS = ("2017", "2020", "2023")
FILES = (
    "buried-wiring",
    "chapter-9",
    "conductor-ampacities",
    "dwelling-service-conductors",
    "grounding-conductors",
    "motors",
)


@cache
def tables(name: str) -> Mapping[str, Table]:
    """Every table of one file; there is nothing wrong with it."""
    problems = ProblemList()
    path: Path = data_folder("shared") / f"{name}.yaml"
    file = read_pack_file(path, f"shared/{name}.yaml", problems)
    assert file is not None
    root = file.root
    head = Head(
        file.name,
        file.name,
        nodes.text(root.get("document")),
        nodes.texts(root.get("editions")),
        None,
        {},
        root.at,
        is_shared=True,
    )
    section = root.get("tables")
    assert isinstance(section, MappingNode)
    found = {entry.key: read_table(entry, head, problems) for entry in section.entries}
    assert not len(problems), problems.in_order()
    return found


def find(name: str) -> Table:
    """The table of that name, whichever file holds it."""
    return next(tables(file)[name] for file in FILES if name in tables(file))


def look_up(name: str, edition: str, **keys: Possible) -> Fraction | None:
    """What a cell holds, as a number in base units; None where there is no such entry."""
    found = cell(find(name).values[edition], keys)
    return found.number


def sized(text: str) -> WireSize:
    """``2/0`` or ``350``, as tables print sizes."""
    return read_wire_size(f"{text} AWG" if "/" in text or int(text) < 100 else f"{text} kcmil")


def size_of(area: Fraction) -> WireSize:
    return SIZES[show_wire_size(area)]


def word(row: Row, key: str) -> str:
    atom = row.keys[key].atom
    assert isinstance(atom, str)
    return atom


def exact(row: Row, key: str) -> Fraction:
    found = row.keys[key].number
    assert found is not None
    return found


def value(row: Row) -> Fraction:
    assert row.value.number is not None
    return row.value.number


def upper_end(row: Row, key: str) -> Fraction | None:
    """The end up to which a row holds; None for the rest."""
    hull = row.keys[key].hull
    assert hull is not None
    return hull.high


def rows(name: str, edition: str) -> tuple[Row, ...]:
    return find(name).values[edition].rows


def ampacities(edition: str) -> Ampacities:
    both = (*rows("conductor-ampacities", edition), *rows("small-aluminum-ampacities", edition))
    columns: dict[tuple[str, Fraction], dict[WireSize, Fraction]] = {}
    for row in both:
        column = columns.setdefault((word(row, "material"), exact(row, "column")), {})
        column[size_of(exact(row, "size"))] = value(row)
    return Ampacities(
        tuple(Column(material, heat, column) for (material, heat), column in columns.items()), "Table 310.16"
    )


def temperature_factors(edition: str) -> TemperatureFactors:
    factors: dict[Fraction, list[LimitedRow]] = {}
    for row in rows("ambient-temperature-factors", edition):
        factors.setdefault(exact(row, "insulation"), []).append(LimitedRow(upper_end(row, "ambient"), value(row)))
    return TemperatureFactors({heat: tuple(listed) for heat, listed in factors.items()}, "Table 310.15(B)(1)")


def count_factors(edition: str) -> CountFactors:
    listed = (LimitedRow(upper_end(row, "count"), value(row)) for row in rows("conductor-count-factors", edition))
    return CountFactors(tuple(listed), "Table 310.15(C)(1)")


def by_area(name: str, edition: str, phase_material: str, material: str) -> SizesBy:
    listed = [
        SizeRow(upper_end(row, "phase"), size_of(value(row)))
        for row in rows(name, edition)
        if word(row, "phase_material") == phase_material and word(row, "material") == material
    ]
    return SizesBy(tuple(listed), find(name).values[edition].cites[0].section)


def impedances(edition: str, material: str, raceway: str) -> Impedances:
    resistances = {
        exact(row, "size"): value(row)
        for row in rows("ac-resistances", edition)
        if word(row, "material") == material and word(row, "raceway") == raceway
    }
    reactances = {
        exact(row, "size"): value(row) for row in rows("ac-reactances", edition) if word(row, "raceway") == raceway
    }
    return Impedances(
        {size_of(area): Impedance(each, reactances[area]) for area, each in resistances.items()}, "Chapter 9, Table 9"
    )


def asked(amount: Fraction | int | str) -> Possible:
    return number(Fraction(amount))
