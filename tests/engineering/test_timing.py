"""Time to the last load of a class, cranking, batteries: sums, ranges, and where they are open."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.timing.cranking import CHARGER_CURRENT, CRANKING_CHARGE, CRANKING_CYCLE
from checker.engineering.timing.restoration import LoadClass, TimedStep, restoration

F = Fraction
COMMON = (TimedStep("sensing", F(1), F(3)), TimedStep("start", F(5), F(6)))
EMERGENCY = LoadClass("emergency", (TimedStep("transfer", F(0), F(1, 2)),), F(10), "700.12")


def test_all_steps_add_up_from_the_loss_of_supply_on() -> None:
    found = restoration(COMMON, EMERGENCY)
    assert (found.shortest.value, found.longest.value, found.spare) == (F(6), F(19, 2), F(1, 2))
    assert found.in_time is True
    assert [step.quantity for step in found.longest.steps] == ["sensing", "start", "transfer", "last load back"]


@pytest.mark.parametrize(
    ("allowed", "in_time"), [("9.5", True), ("9.4", None), ("6", None), ("5.9", False), (None, True)]
)
def test_in_time_surely_perhaps_or_never(allowed: str | None, in_time: bool | None) -> None:
    load_class = replace(EMERGENCY, allowed=None if allowed is None else F(allowed))
    assert restoration(COMMON, load_class).in_time is in_time


def test_without_a_time_nothing_is_spare() -> None:
    assert restoration(COMMON, replace(EMERGENCY, allowed=None)).spare is None


SECONDS = st.integers(0, 600).map(lambda tenth: F(tenth, 10))


@given(SECONDS, SECONDS, SECONDS)
def test_a_longer_step_never_comes_sooner(short: Fraction, more: Fraction, allowed: Fraction) -> None:
    load_class = LoadClass("emergency", (TimedStep("delay", short, short + more),), allowed)
    later = replace(load_class, steps=(*load_class.steps, TimedStep("next", F(0), more)))
    found, after = restoration(COMMON, load_class), restoration(COMMON, later)
    assert found.shortest.value <= found.longest.value <= after.longest.value
    if after.in_time:
        assert found.in_time
    if found.in_time is False:
        assert after.in_time is False


@pytest.mark.parametrize(("shortest", "longest"), [(2, 1), (-1, 1)])
def test_steps_that_cannot_be(shortest: int, longest: int) -> None:
    with pytest.raises(OutsideLimits, match="delay"):
        restoration(COMMON, replace(EMERGENCY, steps=(TimedStep("delay", F(shortest), F(longest)),)))


def test_no_step_at_all() -> None:
    with pytest.raises(OutsideLimits, match="No step"):
        restoration((), replace(EMERGENCY, steps=()))


def test_continuous_cranking_is_one_crank() -> None:
    assert CRANKING_CYCLE.at({"cranks": F(1), "crank": F(45), "rest": F(15)}) == 45
    with pytest.raises(OutsideLimits, match="one crank"):
        CRANKING_CYCLE.at({"cranks": F(0), "crank": F(45), "rest": F(15)})


def test_charge_and_charger_by_hand() -> None:
    """Constructed: 600 A for three cranks of 15 s, twice, is 15 Ah; back in 24 h with 10 % lost, 1 A standing."""
    charge = CRANKING_CHARGE.at({"current": F(600), "crank": F(15), "cranks": F(3), "cycles": F(2)})
    assert charge == 15
    point = {"capacity": charge, "loss_factor": F(11, 10), "recharge": F(86_400), "standing_load": F(1)}
    assert CHARGER_CURRENT.at(point) == F("1.6875")
    with pytest.raises(OutsideLimits, match="time to recharge"):
        CHARGER_CURRENT.at({**point, "recharge": F(0)})
    with pytest.raises(OutsideLimits, match="below zero"):
        CHARGER_CURRENT.at({**point, "capacity": F(-1)})
