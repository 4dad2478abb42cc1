"""Fault currents and currents of motors against worked examples that anybody can look up (``faults.yaml``)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.engineering.conductors.motor import MOTOR_CONDUCTORS
from checker.engineering.faults.along import (
    NOTHING_BETWEEN,
    Beginning,
    Between,
    Conductors,
    least_past,
    point_to_point_factor,
)
from checker.engineering.faults.generators import times_rated
from checker.engineering.faults.loops import Fault, FaultCurrent, Loop, current_of, driving_voltage
from checker.engineering.faults.transformers import (
    Primary,
    Transformer,
    TransformerCase,
    at_center_tap,
    fault_power,
    full_load,
    secondary_fault,
    secondary_loop,
)
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.impedance import Impedance
from tests.published.conductor_tables import asked, look_up

Told = Mapping[str, Any]
Check = dict[str, Any]
CHECKS: list[Check] = yaml.safe_load((Path(__file__).parent / "faults.yaml").read_text(encoding="utf-8"))
OWN_FAULT = {1: Fault.LINES, 3: Fault.THREE_PHASE}
EDITION = "2020"


def exact(number: Any) -> Fraction:
    return Fraction(str(number))


def transformer(told: Told) -> Transformer:
    volts = exact(told["voltage"])
    return Transformer(
        exact(told["kva"]) * 1000,
        exact(told["pct_z"]) / 100,
        exact(told.get("z_tolerance_factor", 1)),
        None,
        told.get("phases", 3),
        volts,
        None,
    )


def without_limit(told: Told) -> FaultCurrent:
    each = transformer(told)
    return secondary_fault(TransformerCase(each, None, OWN_FAULT[each.phases]))


def behind_a_utility(told: Told) -> TransformerCase:
    power = fault_power(exact(told["hv_available_ka"]) * 1000, exact(told["hv_kv"]) * 1000, 3)
    return TransformerCase(transformer(told), Primary(power, None), Fault.THREE_PHASE)


def power_at_the_secondary(told: Told) -> Fraction:
    """Fault power in MVA: V2 / Z."""
    loop = secondary_loop(behind_a_utility(told))
    return exact(told["voltage"]) ** 2 / loop.impedance.magnitude / 1_000_000


def run_by_constant(told: Told, fault: Fault) -> Impedance:
    """A run of the point-to-point method, as a resistance: 1 / C ohm per foot in each of n conductors, the whole way
    round as the product counts it.
    """
    ohms = Impedance(exact(told["length_ft"]) / exact(told["C"]) / told["n"], Fraction(0))
    each = Between(ohms, ohms)
    added = Conductors(each, each).round_of(fault).most
    assert added is not None
    return added


def by_points(
    amperes: Fraction, fault: Fault, volts: Fraction, told: Told, count: int = 1
) -> tuple[Fraction, Fraction]:
    """f of the last run and the current at its end, source and runs at one angle: M = 1 / (1 + f), I' = M I."""
    factor = Fraction(0)
    for run in [told[name] for name in ("seg1", "seg2")[:count]]:
        begin, added = Beginning(amperes, volts), run_by_constant(run, fault)
        factor, amperes = point_to_point_factor(begin, added), least_past(begin, added)
    return factor, amperes


def past_the_transformer(told: Told, count: int = 1) -> tuple[Fraction, Fraction]:
    each = transformer(told)
    fault = OWN_FAULT[each.phases]
    volts = driving_voltage(fault, each.between_lines, None)
    return by_points(without_limit(told).value, fault, volts, told, count)


PUBLISHED_FACTOR = Fraction(3, 2)
"""Line-to-neutral over line-to-line current at the terminals of a center-tapped transformer, as the handbook has it."""


def to_neutral_at_the_terminals(told: Told) -> Fraction:
    return at_center_tap(without_limit(told).value, PUBLISHED_FACTOR)


def to_neutral_at_the_panel(told: Told) -> Fraction:
    volts = exact(told["voltage"]) / 2
    return by_points(to_neutral_at_the_terminals(told), Fault.LINE_AND_NEUTRAL, volts, told)[1]


def of_a_generator(told: Told) -> Fraction:
    """Rated current over reactance, of whatever time it is."""
    rating = exact(told["mva"]) * 1_000_000 if "mva" in told else exact(told["kva"]) * 1000
    volts = exact(told["kv"]) * 1000 if "kv" in told else exact(told["voltage"])
    rated = FULL_LOAD_CURRENT.at(
        {"power": rating, "voltage": volts, "power_factor": Fraction(1), "phases": Fraction(3)}
    )
    reactance = exact(told.get("xd_subtransient_pu", told.get("xd_transient_pu")))
    return rated * times_rated(Fault.THREE_PHASE, reactance, reactance, Fraction(0))


def of_an_impedance(told: Told) -> Fraction:
    volts = driving_voltage(Fault.THREE_PHASE, exact(told["voltage_ll"]), None)
    return current_of(Loop(Fault.THREE_PHASE, volts, Impedance(exact(told["R_total"]), exact(told["X_total"])))).value


def past_a_drop(told: Told) -> Fraction:
    """As in the post the impedances are added as numbers: a source of resistance alone before a run of resistance."""
    ohms = Impedance(exact(told["length_ft"]) / 1000 * exact(told["R_dc_ohm_per_kft"]), Fraction(0))
    added = Conductors(Between(ohms, ohms), NOTHING_BETWEEN).round_of(Fault.LINES).most
    assert added is not None
    return least_past(Beginning(exact(told["source_a"]), exact(told["voltage"])), added)


def motor_current(told: Told) -> Fraction:
    keys = {"power": asked(told["hp"]), "voltage": asked(told["voltage"])}
    found = look_up("three-phase-motor-currents", EDITION, **keys)
    assert found is not None
    return found


def motor_conductors(told: Told) -> Fraction:
    return MOTOR_CONDUCTORS.at({"full_load_current": motor_current(told), "factor": Fraction(5, 4)})


WORKED: Mapping[str, Callable[[Told], Fraction]] = {
    "W-034": lambda told: without_limit(told).value,
    "W-035.1": lambda told: full_load(transformer(told)),
    "W-035.2": lambda told: without_limit(told).value,
    "W-035.3": lambda told: past_the_transformer(told)[0],
    "W-035.4": lambda told: 1 / (1 + past_the_transformer(told)[0]),
    "W-035.5": lambda told: past_the_transformer(told)[1],
    "W-035.6": lambda told: past_the_transformer(told, 2)[1],
    "W-036.1": power_at_the_secondary,
    "W-036.2": lambda told: secondary_fault(behind_a_utility(told)).value,
    "W-037.2": of_a_generator,
    "W-038": of_a_generator,
    "W-039": of_an_impedance,
    "W-040": past_a_drop,
    "W-041.3": motor_conductors,
    **{f"W-103.{row}": motor_current for row in range(1, 8)},
    "M-002.1": lambda told: without_limit(told).value,
    "M-002.2": lambda told: past_the_transformer(told)[1],
    "M-002.3": to_neutral_at_the_terminals,
    "M-002.4": to_neutral_at_the_panel,
    "M-003.1": lambda told: without_limit(told).value,
    "M-003.2": lambda told: past_the_transformer(told)[1],
    "M-003.3": lambda told: past_the_transformer(told, 2)[1],
}
"""What of our own answers each check."""


def test_every_check_is_answered_by_something_of_our_own() -> None:
    assert {check["id"] for check in CHECKS} == set(WORKED)


@pytest.mark.parametrize("check", CHECKS, ids=lambda check: str(check["id"]))
def test_published_fault(check: Check) -> None:
    expected, found = check["expected"], WORKED[check["id"]](check["inputs"])
    tolerance = exact(expected["tolerance"])
    assert abs(found - exact(expected["value"])) <= tolerance, float(found)
    if check["kind"] == "published-wrong":
        assert abs(found - exact(check["printed"])) > tolerance
