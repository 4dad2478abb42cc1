"""Between the ends: whatever is filled in, the load of the finished dwelling lies between the two that were printed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.facts.known import Known, Origin
from checker.facts.loads.house import House, Load
from checker.facts.loads.methods import Ends, Terms, load_by
from checker.rules.model import NumbersInForce
from checker.site.model import Subject
from checker.tasks.reviewing import Library
from checker.tasks.standing import standing
from checker.values.possible import Possible, between, exactly, number
from checker.values.truth import Truth

KINDS = (
    *("appliance", "cooking", "dryer", "cooling", "heat_pump", "supplementary_heat", "heat", "storage_heat"),
    "vehicle_supply",
)
FIGURES = ("floor_area", "small_appliance_circuits", "laundry_circuits")
SURE = (Truth.YES, Truth.NO)
EDITIONS = ("2017", "2020", "2023", "2026")


def known(value: Possible) -> Known:
    return Known(value, Origin.STATED, frozenset())


@st.composite
def exact_loads(draw: st.DrawFn) -> Load:
    return Load(
        Subject("load", "load 1"),
        "",
        draw(st.sampled_from(KINDS)),
        known(number(draw(st.integers(0, 20_000)))),
        number(draw(st.integers(0, 4))),
        draw(st.sampled_from(SURE)),
        draw(st.sampled_from(SURE)),
        Truth.YES,
    )


@st.composite
def exact_houses(draw: st.DrawFn) -> House:
    figures = {"floor_area": st.integers(0, 6000), **dict.fromkeys(FIGURES[1:], st.integers(0, 5))}
    return House(
        {name: known(number(draw(numbers))) for name, numbers in figures.items()},
        tuple(draw(st.lists(exact_loads(), max_size=7))),
        complete=True,
    )


def _blurred(draw: st.DrawFn, value: Possible) -> Possible:
    """The number, or a span around it, or a span without an upper end."""
    exact = value.number
    assert exact is not None
    low = max(Fraction(0), exact - draw(st.integers(0, 3)))
    ends: Possible = draw(st.sampled_from((value, between(low, exact + 2), between(low, None))))
    return ends


@st.composite
def less_said(draw: st.DrawFn, house: House) -> House:
    """The same house of which less is said: spans in the place of numbers, loads left out, kinds and places open."""
    loads = []
    for each in house.loads:
        if draw(st.integers(0, 3)) == 0:
            continue
        loads.append(
            replace(
                each,
                kind=draw(st.sampled_from((each.kind, each.kind, None))),
                power=known(_blurred(draw, each.power.value)),
                controls=_blurred(draw, each.controls),
                with_compressor=draw(st.sampled_from((each.with_compressor, Truth.UNKNOWN))),
                motor=draw(st.sampled_from((each.motor, Truth.UNKNOWN))),
                counts=draw(st.sampled_from((each.counts, Truth.UNKNOWN))),
            )
        )
    figures = {name: known(_blurred(draw, figure.value)) for name, figure in house.figures.items()}
    is_complete = len(loads) == len(house.loads) and draw(st.booleans())
    return House(figures, tuple(loads), is_complete)


@pytest.fixture(scope="module")
def numbers() -> dict[str, NumbersInForce]:
    library = Library.shipped()
    return {year: standing_rules(library, year) for year in EDITIONS}


def standing_rules(library: Library, year: str) -> NumbersInForce:
    """The numbers in force where the model code of this year is adopted."""
    return standing(f"nec-{year}", library.profiles, library).on(date(2026, 3, 14)).numbers


def both(method: Possible, house: House, numbers: NumbersInForce, added: Truth = Truth.NO) -> Ends:
    return load_by(method, house, numbers, Terms(Fraction(200), added))


@pytest.mark.parametrize("method", ["optional", "standard", "existing_dwelling"])
@given(data=st.data(), house=exact_houses(), year=st.sampled_from(EDITIONS), added=st.sampled_from(SURE))
def test_what_is_filled_in_lies_between_the_ends(
    method: str,
    data: st.DataObject,
    house: House,
    year: str,
    added: Truth,
    numbers: dict[str, NumbersInForce],
) -> None:
    by = exactly(method)
    exact = both(by, house, numbers[year], added)
    assert exact.most is not None
    assert exact.least.value == exact.most.value
    open_house = data.draw(less_said(house))
    ends = both(by, open_house, numbers[year], data.draw(st.sampled_from((added, Truth.UNKNOWN))))
    assert ends.least.value <= exact.least.value
    if ends.most is not None:
        assert exact.least.value <= ends.most.value


def test_one_heater_more_can_let_all_of_them_count_less(numbers: dict[str, NumbersInForce]) -> None:
    """Three heaters with controls of their own count 65 %, four count 40 % (220.82(C)), so an open list counts 40 %."""
    heater = replace(LOAD, kind="heat", power=known(number(9000)), controls=number(3))
    small = replace(heater, power=known(number(100)), controls=number(1))
    assert least((heater, small), numbers) == Fraction(4, 10) * 9100
    assert least((heater,), numbers) == Fraction(65, 100) * 9000
    assert least((heater,), numbers, complete=False) == Fraction(4, 10) * 9000
    assert least((heater, replace(small, counts=Truth.UNKNOWN)), numbers) <= Fraction(4, 10) * 9100


def test_a_fourth_appliance_can_let_all_of_them_count_less(numbers: dict[str, NumbersInForce]) -> None:
    """By the standard calculation four appliances count 75 % (220.53), so an open list of three counts 75 %."""
    three = tuple(replace(LOAD, kind="appliance", power=known(number(1000))) for _ in range(3))
    assert least(three, numbers, "standard") == 3000
    assert least(three, numbers, "standard", complete=False) == 2250
    assert least((*three, replace(three[0], power=known(number(100)))), numbers, "standard") == 2325


LOAD = Load(Subject("load", "load 1"), "", "heat", known(number(0)), number(0), Truth.NO, Truth.NO, Truth.YES)


def least(
    loads: tuple[Load, ...], numbers: dict[str, NumbersInForce], method: str = "optional", *, complete: bool = True
) -> Fraction:
    figures = {name: known(number(0)) for name in FIGURES}
    return both(exactly(method), House(figures, loads, complete), numbers["2023"]).least.value
