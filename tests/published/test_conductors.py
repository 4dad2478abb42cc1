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
from tests.published import rules_used as asked
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
    load = asked.amperes(LOADS["W-010.2"](told) / 240)
    facts = f"calculated_load: {load}, load_with_vehicles_in_full: {load}"
    return smallest_rating(
        lambda rating: f"{facts}, service_rating: {rating}", "service-disconnects-carry-the-calculated-load", NEW
    )


NEW = "service_disconnects: {complete: yes, list: [{status: new}]}, "


def smallest_rating(facts: Callable[[str], str], rule: str, before: str = "", pack: str = asked.NFPA_70) -> Fraction:
    """The smallest standard rating with which a rule is met."""
    met = [
        each
        for each in asked.standard_ratings()
        if asked.outcome(rule, before + facts(asked.amperes(each)), pack) == "met"
    ]
    return min(met)


def device_for_conductors(told: Told) -> Fraction:
    """The largest standard device behind which the conductors may stand."""
    carry = f"{NO_TAP}, ampacity: {told['conductor_ampacity_a']} A"
    return max(each for each in asked.standard_ratings() if behind(each, carry) == "met")


NO_TAP = "site.occupancy: business, from.kind: panelboard, length: 100 ft, run_outdoors: no, end_rating: 400 A"


def behind(device: Fraction, facts: str) -> str:
    """What the rule says of conductors behind a device (A)."""
    return asked.outcome(
        "conductors-protected-at-their-ampacity",
        f"{facts}, overcurrent: {{rated_current: {asked.amperes(device)}}}",
    )


def of_a_dwelling(told: Told) -> Fraction:
    home = NO_TAP.replace("business", "one_family_dwelling")
    facts = f"{home}, system: {{connection: split}}, whole_dwelling_load: yes"
    device = exact(told["service_a"])
    return asked.least_amperes(lambda carried: behind(device, f"{facts}, ampacity: {asked.amperes(carried)}"))


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


def current_of(told: Told, power: str, power_factor: Fraction) -> Fraction:
    """The full-load current (A) of a set."""
    return FULL_LOAD_CURRENT.at(
        {
            "power": exact(told[power]) * 1000,
            "voltage": exact(told["voltage"]),
            "power_factor": power_factor,
            "phases": Fraction(told["phases"]),
        }
    )


def of_a_generator(told: Told) -> Fraction:
    proof = "yes" if told.get("exception_100_percent", False) else "no"
    facts = f"from.kind: generator, overcurrent: none, from.overload_proof: {proof}"
    current = asked.amperes(current_of(told, "kva", Fraction(1)))
    return asked.least_amperes(
        lambda carried: asked.outcome(
            "set-conductors-carry-the-set",
            f"{facts}, from.greatest_current: {current}, ampacity: {asked.amperes(carried)}",
        )
    )


def size_of_a_generator(told: Told) -> WireSize:
    case = numbers.at_thirty_degrees("14", METALS[told["material"]], told["column_c"])
    return smallest_size(case, of_a_generator(told))


def switch_for_a_breaker(told: Told) -> Fraction:
    limits = f"normal.overcurrent_limit: {told['main_breaker_a']} A, alternate.overcurrent_limit: 100 A"
    return asked.least_amperes(
        lambda rated: asked.outcome("switch-not-below-its-breakers", f"{limits}, rated_current: {asked.amperes(rated)}")
    )


def switch_for_a_set(told: Told) -> Fraction:
    current = asked.amperes(current_of(told, "kw", exact(told["pf"])))
    facts = f"alternate.kind: generator, alternate.current_to_carry: {current}"
    return smallest_rating(lambda rated: f"{facts}, rated_current: {rated}", "switch-carries-the-set", pack=asked.TRADE)


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
