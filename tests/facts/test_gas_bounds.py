"""More demand never makes a pipe sufficient, and neither does a longer one; what is open lies between the ends."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.pipe_sizing import Sizing
from checker.facts.fuel.ends import Ends, agreed, longest, perhaps, total
from checker.facts.fuel.numbers import CSST, NATURAL_GAS, PROPANE, STEEL, Pressures, sizing
from checker.rules.in_force.rules import rules_in_force
from checker.rules.model.in_force import NumbersInForce
from checker.rules.model.profile import Adoption
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing

INLETS = tuple(Fraction(each) for each in (4, 7, 11, 14, 40, 42, 56, 140, 280))
LOSSES = tuple(Fraction(each) for each in ("0.3", "0.4", "0.5", "0.6", "1", "5", "27.7", "28", "97"))
LENGTHS = st.integers(1, 400).map(Fraction)
DEMANDS = st.integers(1, 6000).map(Fraction)


@pytest.fixture(scope="module")
def numbers() -> NumbersInForce:
    """The fuel gas code of 2021 in the place of the one document of a profile that comes with the program."""
    library = Library.shipped()
    found = standing("nec-2020", library.profiles, library)
    adopted: Adoption = replace(found.profile.documents[0], document="International Fuel Gas Code", edition="2021")
    profile = replace(found.profile, documents=(adopted,))
    return rules_in_force(profile, date(2026, 3, 14), library.packs).numbers


@st.composite
def pressures(draw: st.DrawFn) -> tuple[str, str, Pressures]:
    gas = draw(st.sampled_from((NATURAL_GAS, PROPANE)))
    return (
        gas,
        draw(st.sampled_from((STEEL, CSST))),
        Pressures(draw(st.sampled_from(INLETS)), draw(st.sampled_from(LOSSES))),
    )


def found(numbers: NumbersInForce, given_for: tuple[str, str, Pressures]) -> Sizing:
    try:
        return sizing(numbers, *given_for)
    except OutsideLimits:
        assume(False)
        raise


def carried(answer: Sizing, size: Fraction, length: Fraction) -> Fraction | None:
    try:
        return answer.capacity(size, length)
    except OutsideLimits:
        return None


@given(given_for=pressures(), length=LENGTHS, more=LENGTHS, data=st.data())
def test_a_longer_pipe_never_carries_more(
    numbers: NumbersInForce,
    given_for: tuple[str, str, Pressures],
    length: Fraction,
    more: Fraction,
    data: st.DataObject,
) -> None:
    answer = found(numbers, given_for)
    size = data.draw(st.sampled_from(answer.sizes))
    short, long = carried(answer, size, length), carried(answer, size, length + more)
    if long is not None:
        assert short is not None
        assert long <= short


@given(given_for=pressures(), length=LENGTHS)
def test_a_larger_pipe_never_carries_less(
    numbers: NumbersInForce, given_for: tuple[str, str, Pressures], length: Fraction
) -> None:
    answer = found(numbers, given_for)
    capacities = [carried(answer, size, length) for size in answer.sizes]
    known = [each for each in capacities if each is not None]
    assert all(small <= large for small, large in pairwise(known))


@given(given_for=pressures(), length=LENGTHS, more=LENGTHS, demand=DEMANDS, rise=DEMANDS)
def test_neither_more_demand_nor_more_length_makes_a_smaller_size_do(
    numbers: NumbersInForce,
    given_for: tuple[str, str, Pressures],
    length: Fraction,
    more: Fraction,
    demand: Fraction,
    rise: Fraction,
) -> None:
    answer = found(numbers, given_for)
    try:
        harder = answer.smallest(demand + rise, length + more)
    except OutsideLimits:
        return
    assert answer.smallest(demand, length) <= harder


@given(given_for=pressures(), length=LENGTHS, data=st.data())
def test_a_smaller_loss_never_lets_more_through(
    numbers: NumbersInForce, given_for: tuple[str, str, Pressures], length: Fraction, data: st.DataObject
) -> None:
    gas, material, at = given_for
    answer = found(numbers, given_for)
    size = data.draw(st.sampled_from(answer.sizes))
    more = data.draw(st.sampled_from([loss for loss in LOSSES if loss >= at.drop]))
    through = carried(found(numbers, (gas, material, replace(at, drop=more))), size, length)
    little = carried(answer, size, length)
    if little is not None:
        assert through is not None
        assert little <= through


# --- what is open ----------------------------------------------------------------------------------------------------

AMOUNTS = st.integers(0, 500).map(Fraction)


@st.composite
def blurred(draw: st.DrawFn, exact: Fraction) -> Ends:
    """Ends that hold a number."""
    low = max(Fraction(0), exact - draw(AMOUNTS))
    return Ends(low, draw(st.sampled_from((exact, exact + draw(AMOUNTS), None))))


def holds(ends: Ends, exact: Fraction) -> bool:
    return ends.least <= exact and (ends.most is None or exact <= ends.most)


@given(data=st.data(), amounts=st.lists(AMOUNTS, min_size=1, max_size=5))
def test_sums_and_greatest_hold_whatever_is_filled_in(data: st.DataObject, amounts: list[Fraction]) -> None:
    parts = [data.draw(blurred(each)) for each in amounts]
    assert holds(total(parts), sum(amounts, Fraction(0)))
    assert holds(longest(parts), max(amounts))
    assert holds(perhaps(parts[0]), amounts[0])
    assert holds(perhaps(parts[0]), Fraction(0))


@given(data=st.data(), amount=AMOUNTS)
def test_two_ways_of_saying_one_thing_go_together(data: st.DataObject, amount: Fraction) -> None:
    both = agreed(data.draw(blurred(amount)), data.draw(blurred(amount)))
    assert both is not None
    assert holds(both, amount)


def test_two_ways_that_contradict_each_other_give_nothing() -> None:
    assert agreed(Ends(Fraction(300), Fraction(320)), Ends(Fraction(327), None)) is None
