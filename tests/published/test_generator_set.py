"""Derating, motor starting and capacity against worked examples; ``generator_set.yaml`` names each source."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.generator.derating import (
    Combined,
    FactorLine,
    FactorList,
    SiteRating,
    StepRule,
    site_rating,
)
from checker.engineering.generator.voltage_dip import DIP_FROM_RATED_START, GREATEST_START, VOLTAGE_DIP
from checker.findings.judging.outcomes import Outcome
from tests.published import shared_tables as shared
from tests.published import small_sites
from tests.published.checks import Check, Found, agrees, checks, name_of, repeats_the_print

CHECKS = checks(Path(__file__).parent / "generator_set.yaml")
FEET = 1 / Fraction("0.3048")
exact = shared.exact

MANUAL_ALTITUDE = StepRule(Fraction(3, 100), 500 * FEET, 1000 * FEET, "operator's manual", begun_steps_count=False)
MANUAL_HEAT = StepRule(Fraction(3, 100), Fraction(5), Fraction(40), "operator's manual", begun_steps_count=False)
PERCENT_RULE = StepRule(Fraction(3, 100), Fraction(1000), Fraction(500), "textbook", begun_steps_count=False)


def from_manual(check: Check) -> Found:
    told = check["inputs"]
    altitude = exact(told.get("altitude_m", 0)) * FEET
    heat = exact(told.get("ambient_c", 20))
    case = SiteRating(Fraction(1), "", altitude, heat, MANUAL_ALTITUDE, MANUAL_HEAT, Combined.MULTIPLIED)
    return site_rating(case).value


def from_handbook(check: Check) -> Found:
    told = check["inputs"]
    altitude, intake = exact(told["altitude_ft"]), exact(told["intake_f"])
    heights = FactorList(
        (FactorLine(Fraction(1500), Fraction(1)), FactorLine(altitude, exact(told["altitude_factor"]))), "handbook"
    )
    heats = FactorList(
        (FactorLine(Fraction(90), Fraction(1)), FactorLine(Fraction(110), exact(told.get("temp_factor", "0.95")))),
        "handbook",
    )
    return site_rating(SiteRating(exact(told["rated_hp"]), "hp", altitude, intake, heights, heats)).value


def by_percent(check: Check) -> Found:
    told = check["inputs"]
    case = SiteRating(exact(told["rated_hp"]), "hp", exact(told["altitude_ft"]), Fraction(20), PERCENT_RULE, None)
    return site_rating(case).value


def shifted_row(check: Check) -> Found:
    told = check["inputs"]
    return current(exact(told["kva"]), exact(told["voltage"]), told["phases"])


def current(kilovoltamperes: Fraction, voltage: Fraction, phases: int) -> Fraction:
    return FULL_LOAD_CURRENT.at(
        {
            "power": kilovoltamperes * 1000,
            "voltage": voltage,
            "power_factor": Fraction(1),
            "phases": Fraction(phases),
        }
    )


HOUSE = """
site: {{name: Sedge House, stage: plan_review, occupancy: one_family_dwelling, other_sources: none,
       complete: [load_manager]}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1/1, operation: automatic, classes: [optional],
         rated_current: {switch} A}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, fuel: natural_gas, rated_power: {{natural_gas: {kw} kW}},
         power_factor: "1", power_at_site: {kw} kW, automatic_load: {load} A, classes: [optional],
         ways: {{1: {{overcurrent: {breaker} A}}}}}}
"""
CARRIES = "automatic-source-carries-its-load"


def whole_load(check: Check) -> Found:
    """30 kW on one phase against the whole calculated load, as the switch is automatic and nothing is managed."""
    told = check["inputs"]
    assert told["automatic"]
    assert not told["load_management"]
    given = {"kw": told["kw"], "switch": told["switch_a"], "breaker": told["generator_breaker_a"]}
    assert small_sites.fact(HOUSE.format(**given, load=1), "GEN1", "capacity").number == exact(given["breaker"])
    fits = small_sites.outcome(HOUSE.format(**given, load=given["breaker"]), CARRIES, "GEN1")
    found = small_sites.outcome(HOUSE.format(**given, load=told["calculated_load_a"]), CARRIES, "GEN1")
    assert fits is Outcome.MET
    return {Outcome.MET: "adequate", Outcome.CORRECTION: "inadequate"}[found]


MOTOR = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator}}
loads:
  complete: yes
  list: [{{name: motor, at: ATS1, horsepower: {hp} hp, code_letter: {letter}, locked_rotor_current: {current},
          motor_voltage: {volts} V, motor_phases: {phases}, starting_method: {method}}}]
"""
PHASES = {1: "one", 3: "three"}


def starting(
    hp: float, *, letter: str = "unknown", current: str = "unknown", volts: float = 460, phases: int = 3, **by: str
) -> tuple[Fraction, Fraction]:
    """The starting power of a motor in kVA at the least and at the most."""
    method = by.get("method", "across_the_line")
    text = MOTOR.format(hp=hp, letter=letter, current=current, volts=volts, phases=PHASES[phases], method=method)
    hull = small_sites.fact(text, "load 1", "starting_power").hull
    assert hull is not None
    assert hull.low is not None
    assert hull.high is not None
    return hull.low / 1000, hull.high / 1000


def motor(check: Check) -> Found:
    """At the upper end of the band of the letter; in amperes by what one ampere of locked-rotor current stands for."""
    told = check["inputs"]
    _, power = starting(told["hp"], letter=told["code_letter"])
    assert power == exact(told["hp"]) * exact(told["kva_per_hp_max"])
    if check["expected"]["unit"] == "kVA":
        return power
    hundred, _ = starting(told["hp"], current="100 A", volts=told["voltage"], phases=told["phases"])
    return power / hundred * 100


def letter(check: Check) -> Found:
    low, high = starting(1, letter=check["inputs"]["code_letter"])
    return f"{float(low):g}-{float(high):g}"


def reactance(check: Check) -> Fraction:
    """The reactance of sets of this make, per unit of their rating, from the set that just holds the dip."""
    told = check["inputs"]
    start, dip = exact(told["hp"]) * exact(told["kva_per_hp"]), exact(told["dip"])
    return dip / (1 - dip) * exact(told["set_kva_at_dip"]) / start


def dip_of_another_set(check: Check) -> Found:
    told = check["inputs"]
    start = exact(told["hp"]) * exact(told["kva_per_hp"])
    point = {"reactance": reactance(check), "set": exact(told["set_kva"]), "starting": start}
    stated = start * exact(told["set_kva"]) / exact(told["set_kva_at_dip"])
    figure = {"rated_start": stated, "rated_dip": exact(told["dip"]), "starting": start}
    assert VOLTAGE_DIP.at(point) == DIP_FROM_RATED_START.at(figure)
    return VOLTAGE_DIP.at(point) * 100


def by_autotransformer(check: Check) -> Found:
    """The horsepower that would take as much across the line."""
    told = check["inputs"]
    direct, by_method = (
        starting(told["hp"], current="100 A", method=method)[0] for method in ("across_the_line", told["method"])
    )
    return exact(told["hp"]) * Fraction(round(by_method / direct * 10_000), 10_000)


def greatest_start(check: Check) -> Found:
    told = check["inputs"]
    return GREATEST_START.at({"reactance": reactance(check), "set": exact(told["set_kva"]), "dip": exact(told["dip"])})


BY_TOPIC: dict[str, Callable[[Check], Found]] = {
    "derating/rule-table": from_manual,
    "derating/handbook": from_handbook,
    "derating/percent-rule": by_percent,
    "known-bad/generator": shifted_row,
    "capacity/702.4": whole_load,
    "motor/code-letter": motor,
    "table/430.7(B)": letter,
    "motor/voltage-dip": dip_of_another_set,
    "motor/starting-method": by_autotransformer,
    "motor/greatest-start": greatest_start,
}


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_published_set(check: Check) -> None:
    found = BY_TOPIC[check["topic"]](check)
    assert agrees(check, found), found
    if check["kind"] == "published-wrong":
        assert not repeats_the_print(check, found)


def test_added_losses_of_the_manual_leave_88_percent() -> None:
    """The manual says that both may count and not how: adding leaves 0.88 where multiplying leaves 0.8836."""
    case = SiteRating(Fraction(1), "", 2000 * FEET, Fraction(50), MANUAL_ALTITUDE, MANUAL_HEAT, Combined.ADDED)
    assert site_rating(case).value == Fraction(88, 100)
