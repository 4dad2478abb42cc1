"""Derating, motor starting and capacity against worked examples; ``generator_set.yaml`` names each source."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.generator.capacity import CAPACITY_LEFT
from checker.engineering.generator.derating import (
    Combined,
    FactorLine,
    FactorList,
    SiteRating,
    StepRule,
    site_rating,
)
from checker.engineering.generator.motor_starting import LOCKED_ROTOR_CURRENT, Starting, starting_power
from checker.engineering.generator.voltage_dip import DIP_FROM_RATED_START, GREATEST_START, VOLTAGE_DIP
from tests.published import shared_tables as shared
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


def whole_load(check: Check) -> Found:
    """30 kW on one phase against the whole calculated load, as the switch is automatic and nothing is managed."""
    told = check["inputs"]
    assert told["automatic"]
    assert not told["load_management"]
    carries = min(
        current(exact(told["kw"]), exact(told["voltage"]), told["phases"]), exact(told["generator_breaker_a"])
    )
    left = CAPACITY_LEFT.at({"capacity": carries, "load": exact(told["calculated_load_a"])})
    return "adequate" if left >= 0 else "inadequate"


def motor(check: Check) -> Found:
    told, letters = check["inputs"], shared.code_letters()
    each = letters.highest(told["code_letter"])
    assert each == exact(told["kva_per_hp_max"])
    method = shared.starting_methods()["across_the_line"]
    power = starting_power(Starting(exact(told["hp"]), each, "code letter", method)).value
    if check["expected"]["unit"] == "kVA":
        return power / 1000
    voltage, phases = exact(told["voltage"]), exact(told["phases"])
    return LOCKED_ROTOR_CURRENT.at({"starting": power, "voltage": voltage, "phases": phases})


def letter(check: Check) -> Found:
    band = shared.code_letters().band(check["inputs"]["code_letter"])
    assert band.high is not None
    return f"{float(band.low):g}-{float(band.high):g}"


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
    told = check["inputs"]
    method = shared.starting_methods()[told["method"]]
    return starting_power(Starting(exact(told["hp"]), Fraction(1), "any motor", method)).value / 1000


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
