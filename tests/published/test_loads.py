"""Loads by the methods of the code against worked examples that anybody can look up; ``loads.yaml`` names each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.engineering.loads.cooking import write_ranges, write_small
from checker.engineering.loads.dwelling import (
    Appliance,
    Dwelling,
    Heating,
    OptionalCase,
    StandardCase,
    optional_load,
    standard_load,
)
from checker.engineering.loads.dwelling_neutral import NeutralCase, dwelling_neutral_load
from checker.engineering.loads.existing import ExistingCase, existing_dwelling_load
from checker.engineering.loads.multifamily import MultifamilyCase, Part, multifamily_load
from checker.engineering.loads.neutral import NeutralLoad, neutral_load
from checker.engineering.loads.other_buildings import Building, BuildingCase, building_load, conductor_load
from checker.engineering.worked import Paper, Worked
from tests.published import load_numbers as numbers

Check = dict[str, Any]
CHECKS: list[Check] = yaml.safe_load((Path(__file__).parent / "loads.yaml").read_text(encoding="utf-8"))

VOLTS = Fraction(240)
LEAST_SERVICE = Fraction(100)
"""A one-family dwelling has a service of 100 A at least (230.79(C))."""

STANDARD = numbers.standard("2017")
OPTIONAL = numbers.optional("2017")


def va(kilowatts: Any) -> Fraction:
    return numbers.exact(kilowatts) * 1000


def dwelling(told: Mapping[str, Any]) -> Dwelling:
    """The dwelling of an example; a unit of an apartment house where it says so."""
    area = told.get("floor_area_ft2", told.get("unit_area_ft2"))
    circuits = told.get("small_appliance_circuits", told.get("small_appliance_circuits_per_unit"))
    laundry = told.get("laundry_circuits", int(bool(told.get("laundry_in_unit"))))
    appliances = [
        Appliance(name, va(told[key]), to_neutral)
        for key, name, to_neutral in (
            ("water_heater_kw", "water heater", False),
            ("dishwasher_kw", "dishwasher", True),
        )
        if key in told
    ]
    return Dwelling(
        numbers.exact(area),
        circuits,
        laundry,
        tuple(appliances),
        (va(told["range_kw"]),) if "range_kw" in told else (),
        (va(told["dryer_kw"]),) if "dryer_kw" in told else (),
        (),
        heating(told),
    )


def heating(told: Mapping[str, Any]) -> Heating:
    room_ac, pump = told.get("room_ac"), told.get("heat_pump")
    return Heating(
        cooling=_amperes(room_ac),
        heat_pump=_amperes(pump),
        supplementary=va(told.get("supplementary_heat_kw", 0)),
        with_compressor=told.get("supplementary_runs_with_compressor", True),
        heat=va(told.get("space_heat_kw", told.get("new_heat_kw", 0))),
        separately_controlled=told.get("space_heat_units", 0),
    )


def _amperes(told: Mapping[str, Any] | None) -> Fraction:
    return Fraction(0) if told is None else numbers.exact(told["amps"]) * numbers.exact(told["volts"])


def standard(told: Mapping[str, Any]) -> Worked:
    return standard_load(StandardCase(dwelling(told), STANDARD))


def optional(told: Mapping[str, Any]) -> Worked:
    return optional_load(OptionalCase(dwelling(told), LEAST_SERVICE, OPTIONAL))


def neutral(told: Mapping[str, Any]) -> Worked:
    """Heating and cooling of the examples have no neutral."""
    home = replace(dwelling(told), heating=Heating())
    return dwelling_neutral_load(NeutralCase(StandardCase(home, STANDARD), numbers.neutral()))


def least_service(load: Worked) -> Fraction:
    """The next standard size at or above the load, and 100 A at least."""
    sizes = (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200)
    return max(LEAST_SERVICE, next(Fraction(size) for size in sizes if size >= load.value / VOLTS))


def one_range_bank(told: Mapping[str, Any]) -> Worked:
    """A bank of units: its lighting and circuits at their demand, and its ranges together."""
    units = told["bank_units"]
    paper, unit = Paper(), dwelling(told)
    general = units * (unit.area * STANDARD.lighting_by_area + unit.small_appliance_circuits * STANDARD.circuit)
    lighting = paper.write("lighting and circuits", "given", general, "VA")
    demand = STANDARD.lighting_tiers.write(paper, "demand", lighting)
    ranges = write_ranges(paper, (va(told["range_kw"]),) * told["bank_ranges"], STANDARD.cooking)
    paper.write("bank", "sum", demand.value + ranges.value, "VA")
    return paper.result()


def _unit(told: Mapping[str, Any], *, with_range: bool) -> Worked:
    rest = {key: value for key, value in told.items() if with_range or key != "range_kw"}
    return standard(rest)


def _store(told: Mapping[str, Any]) -> BuildingCase:
    outlet = Fraction(180)
    store = Building(
        numbers.exact(told["area_ft2"]),
        numbers.exact(told["lighting_va_per_ft2"]),
        numbers.exact(told["connected_lighting_va"]),
        told["duplex_receptacles"] * outlet,
        numbers.exact(told["show_window_ft"]),
        (numbers.exact(told["sign_va"]),),
    )
    return BuildingCase(store, numbers.building())


def _optional_multifamily(told: Mapping[str, Any]) -> Worked:
    units = told.get("bank_units", told["units"])
    unit = dwelling(told)
    connected = (
        Part("lighting", "by area", units * unit.area * STANDARD.lighting_by_area),
        Part("circuits", "by count", units * unit.small_appliance_circuits * STANDARD.circuit),
        Part("appliances", "nameplates", units * sum((each.rating for each in unit.appliances), Fraction(0))),
        Part("ranges", "nameplates", units * sum(unit.ranges, Fraction(0))),
        Part("heating", "nameplates", units * unit.heating.heat),
    )
    factors = numbers.dwelling_units("2017")
    return multifamily_load(MultifamilyCase(units, connected, None, factors, 3, True, True))


def _dryers(told: Mapping[str, Any]) -> Fraction:
    home = Dwelling(Fraction(0), 0, 0, (), (), (va(told["dryer_kw"]),) * told["dryers"], (), Heating())
    return standard_load(StandardCase(home, STANDARD)).value


def _four_wire_neutral(told: Mapping[str, Any]) -> Fraction:
    return neutral_load(NeutralLoad(numbers.exact(told["neutral_load_a"]), Fraction(0), numbers.neutral())).value


def _bank_neutral(told: Mapping[str, Any]) -> Fraction:
    paper, unit = Paper(), dwelling(told)
    general = told["bank_units"] * (unit.area * 3 + unit.small_appliance_circuits * STANDARD.circuit)
    ranges = write_ranges(paper, (va(told["range_kw"]),) * told["bank_ranges"], STANDARD.cooking)
    unbalance = (STANDARD.lighting_tiers.of(general) + Fraction(7, 10) * ranges.value) / VOLTS
    return neutral_load(NeutralLoad(unbalance, Fraction(0), numbers.neutral())).value


def _existing(told: Mapping[str, Any], tiers: list[list[Any]]) -> Fraction:
    case = ExistingCase(dwelling(told), True, numbers.tiers(tiers, "220.83"), OPTIONAL, "220.83(B)")
    return existing_dwelling_load(case).value


def _municipal_lighting(told: Mapping[str, Any]) -> Fraction:
    home = Dwelling(
        numbers.exact(told["floor_area_ft2"]), told["small_appliance_circuits"], 0, (), (), (), (), Heating()
    )
    return standard_load(StandardCase(home, STANDARD)).value


def _municipal_feeder(told: Mapping[str, Any]) -> Fraction:
    paper = Paper()
    cooking = write_small(paper, (numbers.exact(told["oven_w"]), numbers.exact(told["cooktop_w"])), STANDARD.cooking)
    others = sum((numbers.exact(told[key]) for key in ("dishwasher_w", "disposer_w", "fan_w")), Fraction(0))
    return _municipal_lighting(told) + cooking.value + others


def _remainder(told: Mapping[str, Any]) -> Fraction:
    group = numbers.exact(told["lighting_group_va"])
    first = STANDARD.lighting_tiers.tiers[0].up_to
    assert first is not None
    return STANDARD.lighting_tiers.of(group) - first


def _four_appliances(told: Mapping[str, Any]) -> Fraction:
    each = numbers.exact(told["va_each"])
    appliances = tuple(Appliance(f"appliance {place}", each) for place in range(told["fastened_appliances"]))
    home = Dwelling(Fraction(0), 0, 0, appliances, (), (), (), Heating())
    return standard_load(StandardCase(home, STANDARD)).value


def _ranges(told: Mapping[str, Any]) -> Fraction:
    return write_ranges(Paper(), (va(told["range_kw"]),) * told["ranges"], STANDARD.cooking).value / 1000


def _units(told: Mapping[str, Any]) -> Fraction:
    """In percent, as the pack has it, which is alike in all editions."""
    (found,) = {numbers.dwelling_units(year).of(told["dwelling_units"]) for year in numbers.EDITIONS}
    return found * 100


def _apartment(told: Mapping[str, Any]) -> Worked:
    """A unit whose 8 kW range counts by column B, which for one range of 8 kW is the lower of the two."""
    paper = Paper()
    range_only = write_small(paper, (va(told["range_kw"]),), STANDARD.cooking)
    rest = {key: value for key, value in told.items() if key != "range_kw"}
    paper.write("unit", "sum", standard(rest).value + range_only.value, "VA")
    return paper.result()


def _store_conductors(told: Mapping[str, Any]) -> Fraction:
    """Lighting, show window and sign run on for hours."""
    worked = building_load(_store(told))
    long = sum((worked.step(each).value for each in ("lighting", "show windows", "signs")), Fraction(0))
    return conductor_load(_store(told), long).value


WORKED: Mapping[str, Callable[[Mapping[str, Any]], Fraction]] = {
    "W-001.1": lambda told: standard(told).value,
    "W-001.2": lambda told: standard(told).value / VOLTS,
    "W-001.3": lambda told: least_service(standard(told)),
    "W-001.4": lambda told: neutral(told).value,
    "W-001.5": lambda told: neutral(told).value / VOLTS,
    "W-002.1": lambda told: optional(told).step("general load").value,
    "W-002.2": lambda told: optional(told).value,
    "W-002.3": lambda told: least_service(optional(told)),
    "W-002.4": lambda told: neutral(told).value,
    "W-003.1": lambda told: optional(told).value,
    "W-003.2": lambda told: least_service(optional(told)),
    "W-004.1": lambda told: _unit(told, with_range=True).value / VOLTS,
    "W-004.2": lambda told: _unit(told, with_range=False).value / VOLTS,
    "W-004.3": lambda told: neutral(told).value / VOLTS,
    "W-004.4": lambda told: one_range_bank(told).value,
    "W-004.5": _bank_neutral,
    "W-005.1": lambda told: _apartment(told).value,
    "W-005.2": lambda told: _optional_multifamily(told).value,
    "W-005.3": lambda told: _optional_multifamily(told).value,
    "W-006": _ranges,
    "W-007": _ranges,
    "W-008": _four_wire_neutral,
    "W-009.1": _dryers,
    "W-009.2": lambda told: numbers.neutral().cooking_and_drying * _dryers(told),
    "W-010.1": lambda told: building_load(_store(told)).value,
    "W-010.2": _store_conductors,
    "W-012.1": lambda told: _existing(told, numbers.FACTORS["optional"]["tiers"]["2017"]),
    "W-012.2": lambda told: _existing(told, numbers.FACTORS["existing_tiers"]),
    "W-013.1": _municipal_lighting,
    "W-013.2": _municipal_feeder,
    "W-014.1": _remainder,
    "W-014.2": lambda told: STANDARD.lighting_tiers.of(numbers.exact(told["lighting_group_va"])),
    "W-015": _four_appliances,
    **{f"W-104.{row}": _units for row in range(1, 13)},
}
"""What of our own answers each check."""


def test_every_check_is_answered_by_something_of_our_own() -> None:
    assert {check["id"] for check in CHECKS} == set(WORKED)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: str(check["id"]))
def test_published_load(check: Check) -> None:
    expected = check["expected"]
    tolerance = numbers.exact(expected["tolerance"])
    if expected["unit"].startswith("A") and tolerance == 0:
        tolerance = Fraction(1, 2)  # printed in whole amperes
    found = WORKED[check["id"]](check["inputs"])
    assert abs(found - numbers.exact(expected["value"])) <= tolerance, float(found)
    if check["kind"] == "published-wrong":
        assert abs(found - numbers.exact(check["printed"])) > tolerance
