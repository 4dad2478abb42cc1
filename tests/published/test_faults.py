"""Fault currents and currents of motors against worked examples that anybody can look up (``faults.yaml``)."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
import yaml

from checker.engineering.conductors.motor import MOTOR_CONDUCTORS
from checker.engineering.faults.generators import (
    Generator,
    GeneratorCase,
    Period,
    Reactances,
    generator_fault,
)
from checker.engineering.faults.loops import Available, Fault, FaultCurrent, Loop, current_of, driving_voltage, loop_of
from checker.engineering.faults.point_to_point import (
    PointToPoint,
    Segment,
    at_center_tap,
    past_transformer,
    point_to_point,
)
from checker.engineering.faults.runs import Run, RunsCase, fault_past_runs
from checker.engineering.faults.transformers import (
    Primary,
    Transformer,
    TransformerCase,
    fault_power,
    full_load,
    secondary_fault,
    secondary_loop,
)
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


def segments(told: Told, count: int) -> tuple[Segment, ...]:
    return tuple(
        Segment(exact(each["length_ft"]), each["n"], exact(each["C"]))
        for each in (told["seg1"], told.get("seg2"))[:count]
        if each is not None
    )


def by_points(told: Told, count: int = 1) -> FaultCurrent:
    each = transformer(told)
    case = PointToPoint(without_limit(told).value, OWN_FAULT[each.phases], each.between_lines, segments(told, count))
    return point_to_point(case)


PUBLISHED_FACTOR = Fraction(3, 2)
"""Line-to-neutral over line-to-line current at the terminals of a center-tapped transformer, as the handbook has it."""


def to_neutral_at_the_terminals(told: Told) -> Fraction:
    return at_center_tap(without_limit(told).value, PUBLISHED_FACTOR)


def to_neutral_at_the_panel(told: Told) -> Fraction:
    case = PointToPoint(
        to_neutral_at_the_terminals(told), Fault.LINE_AND_NEUTRAL, exact(told["voltage"]) / 2, segments(told, 1)
    )
    return point_to_point(case).value


def of_a_generator(told: Told) -> Fraction:
    rating = exact(told["mva"]) * 1_000_000 if "mva" in told else exact(told["kva"]) * 1000
    volts = exact(told["kv"]) * 1000 if "kv" in told else exact(told["voltage"])
    period = Period.TRANSIENT if "xd_transient_pu" in told else Period.SUBTRANSIENT
    own = Reactances(
        exact(told["xd_subtransient_pu"]) if "xd_subtransient_pu" in told else None,
        exact(told["xd_transient_pu"]) if "xd_transient_pu" in told else None,
        None,
    )
    return generator_fault(GeneratorCase(Generator(rating, 3, volts, None, own), period, Fault.THREE_PHASE)).value


def of_an_impedance(told: Told) -> Fraction:
    volts = driving_voltage(Fault.THREE_PHASE, exact(told["voltage_ll"]), None)
    return current_of(Loop(Fault.THREE_PHASE, volts, Impedance(exact(told["R_total"]), exact(told["X_total"])))).value


def past_a_drop(told: Told) -> Fraction:
    """As in the post the impedances are added as numbers: a source of resistance alone before a run of resistance."""
    source = loop_of(Available(Fault.LINES, exact(told["source_a"]), exact(told["voltage"]), Fraction(0)))
    run = Run(exact(told["length_ft"]), Impedance(exact(told["R_dc_ohm_per_kft"]), Fraction(0)))
    return fault_past_runs(RunsCase(source, (run,))).value


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
    "W-035.3": lambda told: by_points(told).step("f").value,
    "W-035.4": lambda told: by_points(told).step("M").value,
    "W-035.5": lambda told: by_points(told).value,
    "W-035.6": lambda told: by_points(told, 2).value,
    "W-036.1": power_at_the_secondary,
    "W-036.2": lambda told: secondary_fault(behind_a_utility(told)).value,
    "W-037.2": of_a_generator,
    "W-038": of_a_generator,
    "W-039": of_an_impedance,
    "W-040": past_a_drop,
    "W-041.3": motor_conductors,
    **{f"W-103.{row}": motor_current for row in range(1, 8)},
    "M-002.1": lambda told: without_limit(told).value,
    "M-002.2": lambda told: by_points(told).value,
    "M-002.3": to_neutral_at_the_terminals,
    "M-002.4": to_neutral_at_the_panel,
    "M-003.1": lambda told: without_limit(told).value,
    "M-003.2": lambda told: by_points(told).value,
    "M-003.3": lambda told: by_points(told, 2).value,
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


def test_a_transformer_past_a_transformer_by_f_and_m_is_that_by_impedances() -> None:
    """Second transformer of the point-to-point method against impedances of one angle: the same to the ampere."""
    primary, rating, impedance = Fraction(31_378), Fraction(225_000), Fraction("0.012")
    found = past_transformer(primary, rating, impedance, Fraction(480), Fraction(208), 3)
    case = TransformerCase(
        Transformer(rating, impedance, Fraction(1), None, 3, Fraction(208), None),
        Primary(fault_power(primary, Fraction(480), 3), None),
        Fault.THREE_PHASE,
    )
    assert abs(found - secondary_fault(case).value) < 1
