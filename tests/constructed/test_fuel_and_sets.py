"""Checks of gas, engines and chargers without a source outside of this project; ``fuel_and_sets.yaml`` holds them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from checker.engineering.generator.power_adjustment import adjusted_ratio
from checker.engineering.timing.cranking import CHARGER_CURRENT
from checker.engineering.worked import Paper
from tests.published import shared_tables as shared
from tests.published.checks import Check, Found, agrees, checks, name_of

CHECKS = checks(Path(__file__).parent / "fuel_and_sets.yaml")
exact = shared.exact


def pipe(check: Check) -> Found:
    told = check["inputs"]
    return shared.steel_natural_gas().smallest(exact(told["cfh"]), exact(told["length_ft"])).size


def alpha(check: Check) -> Found:
    told, paper = check["inputs"], Paper()
    adjusted_ratio(paper, "k", exact(told["k"]), exact(told["mechanical_efficiency"]))
    return paper.result().value


def charger(check: Check) -> Found:
    told = check["inputs"]
    return CHARGER_CURRENT.at(
        {
            "capacity": exact(told["ah"]),
            "loss_factor": exact(told["K"]),
            "recharge": exact(told["hours"]) * 3600,
            "standing_load": exact(told["fixed_load_a"]),
        }
    )


BY_TOPIC: dict[str, Callable[[Check], Found]] = {
    "gas/longest-length": pipe,
    "derating/ISO-3046": alpha,
    "battery/charger": charger,
}


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_constructed(check: Check) -> None:
    found = BY_TOPIC[check["topic"]](check)
    assert agrees(check, found), found
