"""Times, cranking and batteries against printed figures; ``timing.yaml`` names each source."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.timing.cranking import CRANKING_CHARGE, CRANKING_CYCLE
from checker.engineering.timing.restoration import LoadClass, TimedStep, restoration
from tests.published import shared_tables as shared
from tests.published.checks import Check, Found, agrees, checks, name_of

CHECKS = checks(Path(__file__).parent / "timing.yaml")
exact = shared.exact
WORDS = {True: "pass", False: "fail", None: "depends"}
TEN_SECONDS = Fraction(10)


def measured(check: Check) -> Found:
    told = check["inputs"]
    seconds = exact(told["measured_s"])
    allowed = None if told["limit_s"] is None else exact(told["limit_s"])
    step = TimedStep("measured", seconds, seconds)
    return WORDS[restoration((step,), LoadClass(told["system"], (), allowed)).in_time]


def residential(check: Check) -> Found:
    told = check["inputs"]
    sensing = exact(told["outage_sensing_s"])
    shortest, longest = (exact(each) for each in told["start_to_transfer_s"])
    steps = (TimedStep("sensing", sensing, sensing), TimedStep("start to transfer", shortest, longest))
    found = restoration(steps, LoadClass("emergency", (), TEN_SECONDS))
    assert found.shortest.value == 11
    assert found.longest.value == 15
    return WORDS[found.in_time]


def transfer(check: Check) -> Found:
    return measured(check) if "measured_s" in check["inputs"] else residential(check)


def cycle(check: Check) -> Found:
    told = check["inputs"]
    return CRANKING_CYCLE.at(
        {"cranks": exact(told["cranks"]), "crank": exact(told["crank_s"]), "rest": exact(told["rest_s"])}
    )


def charge(check: Check) -> Found:
    told = check["inputs"]
    return CRANKING_CHARGE.at(
        {
            "current": exact(told["crank_a"]),
            "crank": exact(told["crank_s"]),
            "cranks": Fraction(1),
            "cycles": Fraction(1),
        }
    )


BY_TOPIC: dict[str, Callable[[Check], Found]] = {
    "timing/transfer": transfer,
    "timing/crank": cycle,
    "battery/crank-ah": charge,
}


@pytest.mark.parametrize("check", CHECKS, ids=name_of)
def test_published_time(check: Check) -> None:
    found = BY_TOPIC[check["topic"]](check)
    assert agrees(check, found), found
