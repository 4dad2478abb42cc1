"""Sizes, ampacities and voltage drops against worked examples that anybody can look up (``conductors.yaml``)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.engineering.conductors.ampacity import ampacity, smallest_size
from checker.engineering.conductors.bonding import (
    ElectrodeCase,
    JumperCase,
    PhaseConductors,
    bonding_jumper,
    electrode_conductor,
)
from checker.engineering.conductors.grounding import GroundedCircuit, equipment_grounding_conductor
from checker.engineering.conductors.overcurrent import Protected, largest_device
from checker.engineering.conductors.required_ampacity import (
    DwellingConductors,
    GeneratorLeads,
    dwelling_conductors,
    generator_leads,
    transfer_switch_rating,
)
from checker.engineering.conductors.tables import SizeRow, SizesBy
from checker.engineering.conductors.terminals import roof_adder
from checker.engineering.conductors.voltage_drop import (
    DROP_IN_PERCENT,
    VOLTAGE_DROP_BY_AREA,
    VOLTAGE_DROP_BY_IMPEDANCE,
    effective_impedance,
)
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.impedance import Impedance
from checker.values.possible import exactly
from checker.values.wire_sizes import WireSize
from tests.published import conductor_numbers as numbers
from tests.published import conductor_tables as shared
from tests.published.conductor_tables import sized
from tests.published.test_loads import WORKED as LOADS

Told = Mapping[str, Any]
Check = dict[str, Any]
CHECKS: list[Check] = yaml.safe_load((Path(__file__).parent / "conductors.yaml").read_text(encoding="utf-8"))
METALS = {"Cu": "copper", "Al": "aluminum"}
EDITION = "2020"


def exact(number: Any) -> Fraction:
    return Fraction(str(number))


# --- overcurrent devices, generators, dwellings -----------------------------------------------------------------------


def device_of_a_store(told: Told) -> Fraction:
    return numbers.standard(EDITION).at_or_above(LOADS["W-010.2"](told) / 240)


def device_for_conductors(told: Told) -> Fraction:
    case = Protected(exact(told["conductor_ampacity_a"]), sized("500"), "copper", False, numbers.overcurrent(EDITION))
    return largest_device(case).value


def of_a_dwelling(told: Told) -> Fraction:
    case = DwellingConductors(exact(told["service_a"]), "split", True, numbers.DWELLING)
    return dwelling_conductors(case).value


def size_of_a_dwelling(told: Told) -> WireSize:
    needed = of_a_dwelling(told)
    case = numbers.at_thirty_degrees("14", METALS[told["material"]], told["column_c"])
    found = smallest_size(case, needed)
    assert (
        shared.look_up(
            "dwelling-service-conductors",
            EDITION,
            rating=shared.asked(told["service_a"]),
            material=exactly(METALS[told["material"]]),
        )
        == found.circular_mils
    )
    return found


def of_a_generator(told: Told) -> Fraction:
    current = FULL_LOAD_CURRENT.at(
        {
            "power": exact(told["kva"]) * 1000,
            "voltage": exact(told["voltage"]),
            "power_factor": Fraction(1),
            "phases": Fraction(told["phases"]),
        }
    )
    proof = told.get("exception_100_percent", False)
    return generator_leads(GeneratorLeads(current, proof, False, Fraction(115, 100), Fraction(1))).value


def size_of_a_generator(told: Told) -> WireSize:
    case = numbers.at_thirty_degrees("14", METALS[told["material"]], told["column_c"])
    return smallest_size(case, of_a_generator(told))


def current_of_a_set(told: Told) -> Fraction:
    return FULL_LOAD_CURRENT.at(
        {
            "power": exact(told["kw"]) * 1000,
            "voltage": exact(told["voltage"]),
            "power_factor": exact(told["pf"]),
            "phases": Fraction(told["phases"]),
        }
    )


def switch_for_a_breaker(told: Told) -> Fraction:
    return transfer_switch_rating((exact(told["main_breaker_a"]),), ()).value


def switch_for_a_set(told: Told) -> Fraction:
    least = transfer_switch_rating((), (current_of_a_set(told),)).value
    return numbers.standard(EDITION).at_or_above(least)


# --- grounding and bonding --------------------------------------------------------------------------------------------


def equipment_grounding(told: Told) -> WireSize:
    if "ocpd_a" in told:
        table = numbers.equipment_grounding(EDITION, METALS[told.get("material", "Cu")])
    else:
        table = SizesBy((SizeRow(None, sized(told["egc_base"])),), "given")
    case = GroundedCircuit(
        exact(told.get("ocpd_a", 0)),
        sized(told["installed"]) if "installed" in told else None,
        sized(told["base"]) if "base" in told else None,
        told.get("parallel_sets", told.get("parallel_raceways", 1)),
        table,
    )
    return equipment_grounding_conductor(case).size


def phase(told: Told) -> PhaseConductors:
    if "kcmil" in told:
        return PhaseConductors(WireSize("phase conductor", exact(told["kcmil"])))
    return PhaseConductors(sized(str(told["size_kcmil"])), told["sets"])


def electrode(told: Told) -> WireSize:
    material = METALS[told.get("gec_material", told.get("material", "Cu"))]
    table = shared.by_area("electrode-conductors", EDITION, "copper", material)
    return electrode_conductor(ElectrodeCase(phase(told), table)).size


def jumper(told: Told) -> WireSize:
    table = shared.by_area("bonding-jumpers", EDITION, METALS[told["material"]], METALS[told["material"]])
    return bonding_jumper(JumperCase(phase(told), table, Fraction(1, 8))).size


# --- ampacity and voltage drop ----------------------------------------------------------------------------------------


def corrected(told: Told) -> Fraction:
    """What the question asks for: the ampacity at the insulation, terminals looked at apart."""
    case = numbers.at_thirty_degrees(told["size"], METALS[told["material"]], 90, told["ccc"], 75)
    return ampacity(case).step("corrected ampacity").value


def on_a_roof(told: Told) -> Fraction:
    height = exact(told["height_above_roof_in"]) * numbers.INCH
    adder = roof_adder(height, numbers.ROOFS_OF_2008, insulation_is_exempt=False)
    assert adder == numbers.FAHRENHEIT * exact(told["adder_f"])
    ambient = (exact(told["ambient_f"]) - 32) * numbers.FAHRENHEIT
    factor = shared.temperature_factors(EDITION).of(ambient + adder, Fraction(told["type_c"]))
    return factor * exact(told["base_a"])


def ambient_factor(told: Told) -> Fraction:
    return shared.temperature_factors(EDITION).of(Fraction(told["ambient_c_max"]), Fraction(90))


def drop_by_area(told: Told) -> Fraction:
    return VOLTAGE_DROP_BY_AREA.at(
        {
            "constant": exact(told["K"]),
            "current": exact(told["amps"]),
            "length": exact(told["length_ft"]),
            "area": sized(told["size"]).circular_mils,
            "sets": Fraction(1),
            "phases": Fraction(told["phases"]),
        }
    )


def percent_by_area(told: Told) -> Fraction:
    return 100 * DROP_IN_PERCENT.at({"drop": drop_by_area(told), "voltage": exact(told["voltage"])})


def table_9(told: Told) -> Impedance:
    """The impedance that the example prints is that of our table."""
    printed = Impedance(exact(told["R_ohm_per_kft"]), exact(told["X_ohm_per_kft"]))
    raceway = {"PVC": "pvc", "steel": "steel"}[told["conduit"]]
    assert shared.impedances(EDITION, METALS[told["material"]], raceway).of(sized(told["size"])) == printed
    return printed


def effective(told: Told) -> Fraction:
    each = table_9(told)
    return effective_impedance(each.resistance, each.reactance, exact(told["pf"]))


def drop_to_neutral(told: Told) -> Fraction:
    each = table_9(told)
    between = VOLTAGE_DROP_BY_IMPEDANCE.at(
        {
            "resistance": each.resistance,
            "reactance": each.reactance,
            "power_factor": exact(told["pf"]),
            "current": exact(told["amps"]),
            "length": exact(told["length_ft"]),
            "sets": Fraction(1),
            "phases": Fraction(1),
        }
    )
    return between / 2  # out and back lose twice what one conductor loses


def vector(told: Told) -> Fraction:
    return table_9(told).magnitude * exact(told["amps"]) * exact(told["length_ft"]) / 1000


WORKED: Mapping[str, Callable[[Told], Fraction | WireSize]] = {
    "W-010.3": device_of_a_store,
    "W-011.1": of_a_dwelling,
    "W-011.2": size_of_a_dwelling,
    "W-021.1": of_a_generator,
    "W-021.2": size_of_a_generator,
    "W-021.3": size_of_a_generator,
    "W-022.1": switch_for_a_breaker,
    "W-022.2": switch_for_a_set,
    "W-024": device_for_conductors,
    **dict.fromkeys(("W-025.1", "W-025.2", "W-026.1", "W-026.2", "W-026.3"), equipment_grounding),
    **dict.fromkeys(("W-027.1", "W-027.2", *(f"W-101.{row}" for row in range(1, 20))), equipment_grounding),
    **dict.fromkeys(("W-028.1", "W-028.2", *(f"W-102.{row}" for row in range(1, 13))), electrode),
    **dict.fromkeys(("W-029.1", "W-029.2"), jumper),
    "W-030.1": drop_by_area,
    "W-030.2": percent_by_area,
    **dict.fromkeys(("W-031", "M-001.1", "M-001.2", "M-001.3"), effective),
    **dict.fromkeys(("W-032.1", "W-032.2"), drop_to_neutral),
    "W-032.3": vector,
    **dict.fromkeys(("W-033.1", "W-033.2", "W-033.4"), corrected),
    "W-033.3": on_a_roof,
    **dict.fromkeys(("W-107.1", "W-107.2", "W-107.3"), ambient_factor),
}
"""What of our own answers each check."""


def test_every_check_is_answered_by_something_of_our_own() -> None:
    assert {check["id"] for check in CHECKS} == set(WORKED)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: str(check["id"]))
def test_published_conductor(check: Check) -> None:
    expected, found = check["expected"], WORKED[check["id"]](check["inputs"])
    if isinstance(found, WireSize):
        assert found == sized(str(expected["value"]))
        return
    tolerance = exact(expected["tolerance"])
    assert abs(found - exact(expected["value"])) <= tolerance, float(found)
    if check["kind"] == "published-wrong":
        assert abs(found - exact(check["printed"])) > tolerance


@pytest.mark.parametrize(("voltage", "switch"), [(480, 800), (415, 1000), (400, 1000)])
def test_the_switch_of_an_example_depends_on_a_voltage_that_it_does_not_state(voltage: int, switch: int) -> None:
    """W-022.2 names 800 A for 500 kW and no voltage: it follows at 480 V alone."""
    told = next(check["inputs"] for check in CHECKS if check["id"] == "W-022.2")
    assert switch_for_a_set({**told, "voltage": voltage}) == switch


def test_the_example_on_a_roof_has_no_adder_in_later_editions() -> None:
    """Six inches above a roof: 30 °F until 2014, nothing from 2017 on, where only 7/8 in. and less counts."""
    rows = numbers.ROOFS_SINCE_2017
    assert roof_adder(6 * numbers.INCH, rows, insulation_is_exempt=False) == 0
    assert roof_adder(numbers.INCH * Fraction(7, 8), rows, insulation_is_exempt=False) == 0
    assert roof_adder(numbers.INCH / 2, rows, insulation_is_exempt=False) == Fraction(100, 3)
    assert roof_adder(numbers.INCH / 2, rows, insulation_is_exempt=True) == 0
