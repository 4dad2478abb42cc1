"""Between the ends: whatever is filled in, the load of the finished dwelling lies between the two that were printed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.facts.known import Known, Origin
from checker.facts.loads.buildings import building_load
from checker.facts.loads.methods import Ends, Terms, load_by
from checker.facts.loads.premises import Load, Premises
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.values.possible import Possible, between, exactly, number
from checker.values.truth import Truth

KINDS = (
    *("appliance", "cooking", "dryer", "cooling", "heat_pump", "supplementary_heat", "heat", "storage_heat"),
    *("vehicle_supply", "circuit", "lighting", "receptacles", "kitchen", "sign"),
    *("water_heater", "tankless_or_pool_heater"),
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
def exact_houses(draw: st.DrawFn, *, is_part: bool = False) -> Premises:
    figures = {"floor_area": st.integers(0, 6000), **dict.fromkeys(FIGURES[1:], st.integers(0, 5))}
    return Premises(
        {} if is_part else {name: known(number(draw(numbers))) for name, numbers in figures.items()},
        tuple(draw(st.lists(exact_loads(), max_size=7))),
        complete=True,
        is_part=is_part,
    )


def _blurred(draw: st.DrawFn, value: Possible) -> Possible:
    """The number, or a span around it, or a span without an upper end."""
    exact = value.number
    assert exact is not None
    low = max(Fraction(0), exact - draw(st.integers(0, 3)))
    ends: Possible = draw(st.sampled_from((value, between(low, exact + 2), between(low, None))))
    return ends


@st.composite
def less_said(draw: st.DrawFn, house: Premises) -> Premises:
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
    return Premises(figures, tuple(loads), is_complete, house.is_part)


@pytest.fixture(scope="module")
def numbers() -> dict[str, NumbersInForce]:
    library = Library.shipped()
    return {year: standing_rules(library, year) for year in EDITIONS}


def standing_rules(library: Library, year: str) -> NumbersInForce:
    """The numbers in force where the model code of this year is adopted."""
    return standing(f"nec-{year}", library.profiles, library).on(date(2026, 3, 14)).numbers


def both(method: Possible, house: Premises, numbers: NumbersInForce, added: Truth = Truth.NO) -> Ends:
    return load_by(method, house, numbers, Terms(Fraction(200), Fraction(200), added, is_part=house.is_part))


@pytest.mark.parametrize("method", ["optional", "standard", "existing_dwelling", "connected"])
@given(data=st.data(), house=exact_houses(), year=st.sampled_from(EDITIONS), added=st.sampled_from(SURE))
def test_what_is_filled_in_lies_between_the_ends(
    method: str,
    data: st.DataObject,
    house: Premises,
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


@pytest.mark.parametrize("method", ["standard", "connected"])
@given(data=st.data(), house=exact_houses(is_part=True), year=st.sampled_from(EDITIONS))
def test_of_a_part_too_and_without_a_method_both_lie_between_the_ends(
    method: str, data: st.DataObject, house: Premises, year: str, numbers: dict[str, NumbersInForce]
) -> None:
    exact = both(exactly(method), house, numbers[year])
    assert exact.most is not None
    open_house = data.draw(less_said(house))
    for by in (exactly(method), exactly(method).union(exactly("standard")), OPEN):
        ends = both(by, open_house, numbers[year])
        assert ends.least.value <= exact.least.value
        assert ends.most is None or exact.least.value <= ends.most.value


@given(
    data=st.data(),
    house=st.one_of(exact_houses(), exact_houses(is_part=True)),
    year=st.sampled_from(EDITIONS),
    occupancy=st.sampled_from(("mercantile", "business", "educational", "storage", "industrial", "hotel")),
)
def test_of_other_buildings_too(
    data: st.DataObject, house: Premises, year: str, occupancy: str, numbers: dict[str, NumbersInForce]
) -> None:
    kind = exactly(occupancy)
    exact = building_load(kind, house, numbers[year])
    assert exact.most is not None
    assert exact.least.value == exact.most.value
    ends = building_load(kind, data.draw(less_said(house)), numbers[year])
    assert ends.least.value <= exact.least.value
    assert ends.most is None or exact.least.value <= ends.most.value


def test_a_part_is_not_worked_out_by_what_is_for_the_whole(numbers: dict[str, NumbersInForce]) -> None:
    part = Premises({}, (), complete=True, is_part=True)
    for method in ("optional", "existing_dwelling"):
        with pytest.raises(OutsideLimits, match="for the whole load of a dwelling"):
            both(exactly(method), part, numbers["2020"])


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


OPEN = exactly("standard").union(exactly("connected"))
LOAD = Load(Subject("load", "load 1"), "", "heat", known(number(0)), number(0), Truth.NO, Truth.NO, Truth.YES)


def least(
    loads: tuple[Load, ...], numbers: dict[str, NumbersInForce], method: str = "optional", *, complete: bool = True
) -> Fraction:
    figures = {name: known(number(0)) for name in FIGURES}
    return both(exactly(method), Premises(figures, loads, complete), numbers["2023"]).least.value
