"""What load management leaves on a source: never more than its set point, and the steps in the order of priority."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.load_management.steps import ManagedLoad, Management, Order, manage

LOADS = st.integers(100, 12_000).map(Fraction)


def managed_loads() -> st.SearchStrategy[tuple[ManagedLoad, ...]]:
    def load(place: int, running: Fraction, more: Fraction, priority: int, fails_on: bool | None) -> ManagedLoad:
        return ManagedLoad(f"L{place}", running, running + more, priority, fails_on)

    one = st.tuples(LOADS, LOADS, st.integers(1, 4), st.sampled_from((True, False, None)))
    return st.lists(one, max_size=6).map(lambda listed: tuple(load(i, *each) for i, each in enumerate(listed)))


@given(LOADS, st.integers(1_000, 40_000).map(Fraction), managed_loads(), st.sampled_from(Order))
def test_nothing_is_put_on_past_the_set_point(
    base: Fraction, capacity: Fraction, loads: tuple[ManagedLoad, ...], order: Order
) -> None:
    found = manage(Management(capacity, capacity * 2, capacity, base, base, loads, order))
    running = [step.running for step in found.steps]
    assert running == sorted(running)
    assert all(each <= capacity for each in running[1:])
    assert found.greatest_running == base + sum((each.running for each in loads if each.name in found.on), Fraction(0))
    assert found.when_control_fails <= base + sum((each.running for each in loads), Fraction(0))
    assert not set(found.never_fit) & set(found.on) or found.first_exceeding is not None


@given(LOADS, managed_loads(), LOADS)
def test_strict_order_puts_on_no_more_than_filling_up(
    base: Fraction, loads: tuple[ManagedLoad, ...], more: Fraction
) -> None:
    case = Management(base + more, 3 * (base + more), base + more, base, base, loads, Order.STRICT)
    strict, fill = manage(case), manage(replace(case, order=Order.FILL))
    assert set(strict.on) <= set(fill.on)
    assert strict.greatest_running <= fill.greatest_running


def test_a_load_that_nothing_holds_off_is_there_from_the_first_step() -> None:
    load = ManagedLoad("heat pump", Fraction(5_000), Fraction(15_000), 1, True, held_off=False)
    case = Management(
        Fraction(12_000), Fraction(14_000), Fraction(12_000), Fraction(4_000), Fraction(4_000), (load,), Order.STRICT
    )
    found = manage(case)
    assert found.first_exceeding is found.steps[0]
    assert found.steps[0].running == 9_000
    assert found.steps[0].starting == 19_000
    assert found.never_fit == ("heat pump",)


def test_a_start_that_takes_less_than_running_is_refused() -> None:
    load = ManagedLoad("dryer", Fraction(5_000), Fraction(4_000), 1, None)
    case = Management(Fraction(9), Fraction(9), Fraction(9), Fraction(0), Fraction(0), (load,), Order.FILL)
    with pytest.raises(OutsideLimits, match="dryer"):
        manage(case)
    with pytest.raises(OutsideLimits, match="always on"):
        manage(replace(case, managed=(), always_on=Fraction(2)))
