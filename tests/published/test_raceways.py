"""Insides of raceways and areas of conductors against their diameters, and against the numbers of annex C.

Both copies are from memory (``tables/raceways.yaml``), of different columns: geometry holds them against each other,
and annex C against both together with the share of Table 1.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.engineering.conductors.raceway_fill import that_fit
from checker.rules.model.numbers import Row
from tests.published.conductor_tables import sized
from tests.published.rules_used import NFPA_70, pack

COPY: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "tables" / "raceways.yaml").read_text(encoding="utf-8"))
EDITIONS = ("2017", "2020", "2023", "2026")
SQUARE_INCHES = 144
INCH = Fraction(1, 12)
KINDS = ("emt", "imc", "rmc", "pvc_40", "pvc_80", "fmc", "lfmc")
COVERINGS = ("thhn", "xhhw", "bare")
SHARES = {1: Fraction(53, 100), 2: Fraction(31, 100), 3: Fraction(2, 5)}


def rows(name: str, edition: str) -> tuple[Row, ...]:
    return pack(NFPA_70).tables[name].values[edition].rows


def inches(trade: str) -> Fraction:
    """``1-1/4`` as a number."""
    return sum((Fraction(part) for part in trade.split("-")), Fraction(0))


def insides(edition: str) -> dict[tuple[str, Fraction], Fraction]:
    """Square inches by kind and trade size in inches."""
    return {
        (str(row.keys["kind"].atom), (row.keys["size"].number or Fraction(0)) / INCH): row.value.number * SQUARE_INCHES
        for row in rows("raceway-areas", edition)
        if row.value.number is not None
    }


def conductors(edition: str) -> dict[tuple[str, Fraction], Fraction]:
    """Square inches by covering and circular mils."""
    return {
        (str(row.keys["covering"].atom), row.keys["size"].number or Fraction(0)): (row.value.number or Fraction(0))
        * SQUARE_INCHES
        for row in rows("conductor-areas", edition)
    }


def circle(diameter: float) -> float:
    return math.pi / 4 * diameter**2


def raceway_cells() -> Iterator[tuple[str, str, float | None]]:
    copy = COPY["raceway-diameters"]
    for kind in KINDS:
        for trade, diameter in zip(copy["sizes"], copy[kind], strict=True):
            yield kind, trade, diameter


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_inside_of_a_raceway_is_the_circle_of_its_diameter(edition: str) -> None:
    table, compared = insides(edition), 0
    for kind, trade, diameter in raceway_cells():
        found = table.get((kind, inches(trade)))
        assert (found is None) == (diameter is None), (kind, trade)
        if found is not None and diameter is not None:
            assert float(found) == pytest.approx(circle(diameter), abs=0.0008), (kind, trade)
            compared += 1
    assert compared == len(table) == 76


def test_electrical_metallic_tubing_is_its_outside_less_two_walls() -> None:
    copy = COPY["raceway-diameters"]
    diameters = dict(zip(copy["sizes"], copy["emt"], strict=True))
    for trade, outside, wall in COPY["emt-outside-and-wall"]["rows"]:
        assert diameters[trade] == pytest.approx(outside - 2 * wall, abs=0.0005)


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_conductor_is_the_circle_of_its_diameter(edition: str) -> None:
    """The areas of bare conductors are printed to three places, and that of 12 AWG is cut off there."""
    table = conductors(edition)
    for size, *diameters in COPY["conductor-diameters"]["rows"]:
        for covering, diameter in zip(COVERINGS, diameters, strict=True):
            found = float(table[covering, sized(size).circular_mils])
            assert found == pytest.approx(circle(diameter), rel=0.008, abs=0.0007), (covering, size)
    assert len(table) == len(COPY["conductor-diameters"]["rows"]) * len(COVERINGS) == 72


def fit(size: str, trade: str) -> int:
    """How many conductors fit by Table 1 with its note 7: a number whose own share lets it in."""
    area, inside = conductors("2020")["thhn", sized(size).circular_mils], insides("2020")["emt", inches(trade)]
    by_share = {count: that_fit(area, inside, share, Fraction(4, 5)) for count, share in SHARES.items()}
    if by_share[3] >= 3:
        return by_share[3]
    return max((count for count in (1, 2) if by_share[count] >= count), default=0)


@pytest.mark.parametrize("row", COPY["conductors-that-fit"]["rows"], ids=lambda row: str(row[0]))
def test_as_many_conductors_fit_as_annex_c_says(row: list[Any]) -> None:
    size, *numbers = row
    trades = COPY["conductors-that-fit"]["columns"][1:]
    assert [fit(size, trade) for trade in trades] == numbers
