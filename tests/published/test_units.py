"""Fuel, tanks and batteries against a general-purpose units library (pint), which knows nothing of our factors."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import Any

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.fuel.gas_demand import GAS_FLOW
from checker.engineering.fuel.running_time import LIQUID_RUNNING_TIME, PROPANE_RUNNING_TIME
from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.engineering.timing.cranking import CHARGER_CURRENT, CRANKING_CHARGE

WHOLE = st.integers(1, 5000)
PERCENT = st.integers(1, 100)


@cache
def unit() -> Any:
    return pint.UnitRegistry()


@given(WHOLE, WHOLE)
def test_gas_flow(heat: int, content: int) -> None:
    wanted = (heat * unit().Btu / unit().hour) / (content * unit().Btu / unit().foot ** 3)
    found = GAS_FLOW.at({"heat_rate": Fraction(heat), "heating_value": Fraction(content)})
    assert float(found) == pytest.approx(wanted.to("foot**3 / hour").magnitude, rel=1e-8)


@given(WHOLE, PERCENT, WHOLE, WHOLE)
def test_running_times(gallons: int, percent: int, content: int, heat: int) -> None:
    tank = gallons * unit().gallon
    wanted = tank * percent / 100 * (content * unit().Btu / unit().gallon) / (heat * unit().Btu / unit().hour)
    point = {"volume": gallons, "heating_value": content, "heat_rate": heat}
    exact = {name: Fraction(value) for name, value in point.items()}
    found = PROPANE_RUNNING_TIME.at({**exact, "usable": Fraction(percent, 100)})
    assert float(found) == pytest.approx(wanted.to("second").magnitude, rel=1e-8)
    burnt = LIQUID_RUNNING_TIME.at({"volume": Fraction(gallons), "fuel_rate": Fraction(heat)})
    assert float(burnt) == pytest.approx((tank / (heat * unit().gallon / unit().hour)).to("second").magnitude, rel=1e-8)


@given(WHOLE, PERCENT, st.integers(1, 10), st.integers(1, 48))
def test_charge_and_charger(amperes: int, seconds: int, cranks: int, hours: int) -> None:
    charge = amperes * unit().ampere * seconds * unit().second * cranks * 2
    point = {"current": amperes, "crank": seconds, "cranks": cranks, "cycles": 2}
    found = CRANKING_CHARGE.at({name: Fraction(value) for name, value in point.items()})
    assert float(found) == pytest.approx(charge.to("ampere * hour").magnitude, rel=1e-8)
    lossless = {"loss_factor": Fraction(1), "standing_load": Fraction(0)}
    current = CHARGER_CURRENT.at({"capacity": found, "recharge": Fraction(hours * 3600), **lossless})
    assert float(current) == pytest.approx((charge / (hours * unit().hour)).to("ampere").magnitude, rel=1e-7)


@given(WHOLE, st.integers(100, 1000))
def test_current_of_one_phase(kilovoltamperes: int, volts: int) -> None:
    wanted = (kilovoltamperes * unit().kilovolt * unit().ampere / (volts * unit().volt)).to("ampere")
    point = {"power": kilovoltamperes * 1000, "voltage": volts, "power_factor": 1, "phases": 1}
    found = FULL_LOAD_CURRENT.at({name: Fraction(value) for name, value in point.items()})
    assert float(found) == pytest.approx(wanted.magnitude, rel=1e-8)
