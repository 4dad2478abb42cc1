"""Cranking, batteries and chargers: sums by hand, and where there is no answer."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.engineering.calculation import OutsideLimits
from checker.engineering.timing.cranking import CHARGER_CURRENT, CRANKING_CHARGE, CRANKING_CYCLE

F = Fraction


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
