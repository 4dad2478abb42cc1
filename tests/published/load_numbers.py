"""The numbers of each edition for the methods of load, from the second copy that the tests keep."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from checker.engineering.loads.cooking import CookingTable, RangeLine
from checker.engineering.loads.demand import ByCount, CountRow, Tier, Tiers
from checker.engineering.loads.dwelling import OptionalNumbers, StandardNumbers
from checker.engineering.loads.existing import MeasuredNumbers
from checker.engineering.loads.neutral import NeutralNumbers
from checker.engineering.loads.other_buildings import BuildingNumbers
from checker.facts.loads.numbers import by_count as factors_by_count
from checker.facts.loads.several_dwellings import FACTORS as FACTORS_OF_UNITS
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing

FACTORS: dict[str, Any] = yaml.safe_load((Path(__file__).parent / "load_factors.yaml").read_text(encoding="utf-8"))
EDITIONS = ("2017", "2020", "2023", "2026")
_PERCENT = Fraction(1, 100)
_ANY_DAY = date(2026, 3, 14)


def exact(number: Any) -> Fraction:
    return Fraction(str(number))


def tiers(rows: list[list[Any]], source: str) -> Tiers:
    return Tiers(tuple(Tier(None if end is None else exact(end), exact(factor)) for end, factor in rows), source)


def by_count(rows: list[list[Any]], source: str, scale: Fraction = Fraction(1)) -> ByCount:
    return ByCount(tuple(CountRow(count, exact(value) * scale) for count, value in rows), source)


def _in_turn(values: list[int]) -> list[list[Any]]:
    return [[count, value] for count, value in enumerate(values, start=1)]


def cooking() -> CookingTable:
    source = "Table 220.55"
    return CookingTable(
        by_count(_in_turn(FACTORS["ranges_c"]), source, Fraction(1000)),
        tuple(RangeLine(count, exact(base), exact(each)) for count, base, each in FACTORS["ranges_c_lines"]),
        Fraction(12000),
        Fraction(1000),
        Fraction(5, 100),
        Fraction(27000),
        Fraction(1750),
        by_count([*_in_turn(FACTORS["ranges_a"]), [None, 30]], source, _PERCENT),
        by_count([*_in_turn(FACTORS["ranges_b"]), *FACTORS["ranges_b_on"]], source, _PERCENT),
        Fraction(3500),
        Fraction(8750),
        source,
    )


def dryers() -> ByCount:
    rows: list[list[Any]] = list(FACTORS["dryers"])
    rows += [[count, Fraction(47 - (count - 11), 100)] for count in range(12, 24)]
    rows += [[count, (35 - Fraction(count - 23, 2)) / 100] for count in range(24, 43)]
    return by_count([*rows, [None, "0.25"]], "220.54")


def standard(edition: str) -> StandardNumbers:
    told = FACTORS["standard"]
    least = told["vehicle_least"][edition]
    return StandardNumbers(
        exact(told["lighting_by_area"][edition]),
        exact(told["circuit"]),
        tiers(told["lighting_tiers"], "220.45"),
        told["appliances_from"],
        exact(told["appliances_factor"]),
        exact(told["dryer_least"]),
        dryers(),
        cooking(),
        None if least is None else exact(least),
        exact(told["motor_share"]),
        ("220.41", "220.53", "220.54", "220.57", "220.50"),
    )


def optional(edition: str) -> OptionalNumbers:
    told, common = FACTORS["optional"], standard(edition)
    return OptionalNumbers(
        common.lighting_by_area,
        common.circuit,
        tiers(told["tiers"][edition], "220.82(B)"),
        exact(told["cooling"]),
        exact(told["heat_pump"]),
        exact(told["supplementary"]),
        exact(told["storage_heat"]),
        exact(told["few_heaters"]),
        exact(told["many_heaters"]),
        told["many_from"],
        exact(told["least_rating"]),
        common.vehicle_least,
        vehicles_in_full=edition == "2026",
        source="220.82",
        heating_source="220.82(C)",
    )


def neutral() -> NeutralNumbers:
    told = FACTORS["neutral"]
    return NeutralNumbers(
        exact(told["cooking_and_drying"]), exact(told["whole_up_to"]), exact(told["share_above"]), "220.61"
    )


def measured(edition: str) -> MeasuredNumbers:
    told = FACTORS["measured"]
    return MeasuredNumbers(
        exact(told["factor"]),
        exact(told["longest_interval"]),
        exact(told["days_of_a_year"]),
        exact(told["days_of_a_short_record"]),
        source_bars_all=edition in ("2023", "2026"),
        source="220.87",
    )


@cache
def dwelling_units(year: str) -> ByCount:
    """The factors by number of dwelling units as the pack has them in an edition."""
    library = Library.shipped()
    return factors_by_count(standing(f"nec-{year}", library.profiles, library).on(_ANY_DAY).numbers, FACTORS_OF_UNITS)


def building() -> BuildingNumbers:
    return BuildingNumbers(
        Fraction(200),
        Fraction(1200),
        tiers(FACTORS["receptacles"], "220.47"),
        by_count(FACTORS["kitchen"], "220.56", _PERCENT),
        Fraction(1, 4),
        Fraction(5, 4),
        ("220.42", "220.14", "220.56", "220.50"),
    )
