"""A Canadian dwelling whose printed current does not follow from its own items."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.loads.canadian_dwelling import CanadianDwelling, canadian_dwelling_load
from tests.published.canadian_numbers import SQUARE_FEET, canadian
from tests.published.checks import Check, agrees, checks, name_of, repeats_the_print
from tests.published.shared_tables import exact

CHECKS = checks(Path(__file__).parent / "canadian_dwelling.yaml")


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_published_dwelling(check: Check) -> None:
    told = check["inputs"]
    worked = canadian_dwelling_load(
        CanadianDwelling(
            exact(told["living_area_m2"]) * SQUARE_FEET,
            exact(0),
            exact(told["ac_w"]),
            exact(told["range_w"]),
            (exact(told["hot_tub_w"]), exact(told["ev_w"])),
            (exact(told["dryer_w"]), exact(told["water_heater_w"])),
            heating_and_cooling_together=False,
            numbers=canadian(),
            area_without_basement=exact(told["living_area_m2"]) * SQUARE_FEET,
        )
    )
    assert worked.value == 36_575
    found = FULL_LOAD_CURRENT.at(
        {"power": worked.value, "voltage": exact(told["voltage"]), "power_factor": exact(1), "phases": exact(1)}
    )
    assert agrees(check, found)
    assert not repeats_the_print(check, found)
