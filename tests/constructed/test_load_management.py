"""Load management by hand: 22 kW with 12.6 kW always on, and three loads that are managed. Constructed, no source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.engineering.load_management.steps import ManagedLoad, Management, Order, manage

LOADS = (
    ManagedLoad("cooling", Fraction(6_000), Fraction(6_000), 1, None),
    ManagedLoad("dryer", Fraction(5_000), Fraction(5_000), 2, None),
    ManagedLoad("range", Fraction(3_000), Fraction(3_000), 3, None),
)


@pytest.mark.parametrize(
    ("order", "running", "on"),
    [(Order.STRICT, 18_600, ("cooling",)), (Order.FILL, 21_600, ("cooling", "range"))],
)
def test_what_is_put_on(order: Order, running: int, on: tuple[str, ...]) -> None:
    """The dryer would make 23.6 kW; strict order ends there, filling up goes on to the range."""
    capacity, base = Fraction(22_000), Fraction(12_600)
    found = manage(Management(capacity, capacity, capacity, base, base, LOADS, order))
    assert found.greatest_running == running
    assert found.on == on
