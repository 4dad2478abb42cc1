"""Checks of gas, engines and chargers without a source outside of this project; ``fuel_and_sets.yaml`` holds them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.engineering.generator.power_adjustment import adjusted_ratio
from checker.engineering.worked import Paper
from checker.facts.numbers import number_in_force
from tests.published import shared_tables as shared
from tests.published import small_sites
from tests.published.checks import Check, Found, agrees, checks, name_of

CHECKS = checks(Path(__file__).parent / "fuel_and_sets.yaml")
exact = shared.exact


def pipe(check: Check) -> Found:
    told = check["inputs"]
    return shared.steel_natural_gas().smallest(exact(told["cfh"]), exact(told["length_ft"]))


def alpha(check: Check) -> Found:
    told, paper = check["inputs"], Paper()
    adjusted_ratio(paper, "k", exact(told["k"]), exact(told["mechanical_efficiency"]))
    return paper.result().value


CHARGER = """
site: {{name: Sedge Hall, stage: acceptance, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  GEN1: {{kind: generator, start_battery: {{capacity: {ah} Ah}}, battery_charger: {{standing_load: {load} A}}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
"""


def charger(check: Check) -> Found:
    """Through the program, with the factor and the time that are in force."""
    told = check["inputs"]
    numbers = small_sites.numbers("NFPA 110", "2022")
    assert number_in_force(numbers, "charge-put-in-over-charge-that-stays") == exact(told["K"])
    assert number_in_force(numbers, "longest-time-to-recharge-the-start-battery") == exact(told["hours"]) * 3600
    text = CHARGER.format(ah=told["ah"], load=told["fixed_load_a"])
    found = small_sites.fact(text, "GEN1", "charger_output_wanted", numbers).number
    assert found is not None
    return found


BY_TOPIC: dict[str, Callable[[Check], Found]] = {
    "gas/longest-length": pipe,
    "derating/ISO-3046": alpha,
    "battery/charger": charger,
}


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_constructed(check: Check) -> None:
    found = BY_TOPIC[check["topic"]](check)
    assert agrees(check, found), found
