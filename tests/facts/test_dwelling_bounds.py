"""Between the ends: whatever is filled in, the load of the finished dwelling lies between the two that were printed."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.loads.dwelling import OPTIONAL_LOAD, OptionalCase
from checker.facts.dwelling_loads import House, Load, dwelling_at, has_end
from checker.facts.known import Known, Origin
from checker.site.model import Subject
from checker.values.possible import Possible, between, exactly, number, one_of
from checker.values.truth import Truth
from tests.published.load_numbers import EDITIONS, optional

KINDS = (
    *("appliance", "cooking", "dryer", "cooling", "heat_pump", "supplementary_heat", "heat", "storage_heat"),
    "vehicle_supply",
)
FIGURES = ("floor_area", "small_appliance_circuits", "laundry_circuits")
RATING = Fraction(200)


def known(value: Possible) -> Known:
    return Known(value, Origin.STATED, frozenset())


@st.composite
def exact_loads(draw: st.DrawFn) -> Load:
    return Load(
        Subject("load", "load 1"),
        draw(st.sampled_from(KINDS)),
        known(number(draw(st.integers(0, 20_000)))),
        number(draw(st.integers(0, 4))),
        exactly(draw(st.booleans())),
        draw(st.sampled_from((Truth.YES, Truth.NO))),
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
                with_compressor=draw(st.sampled_from((each.with_compressor, one_of((True, False))))),
                is_here=draw(st.sampled_from((each.is_here, Truth.UNKNOWN))),
            )
        )
    figures = {name: known(_blurred(draw, figure.value)) for name, figure in house.figures.items()}
    is_complete = len(loads) == len(house.loads) and draw(st.booleans())
    return House(figures, tuple(loads), is_complete)


def load_of(house: House, edition: str, *, upper: bool) -> Fraction:
    return OPTIONAL_LOAD(OptionalCase(dwelling_at(house, upper=upper), RATING, optional(edition))).value


@given(st.data(), exact_houses(), st.sampled_from(EDITIONS))
def test_what_is_filled_in_lies_between_the_ends(data: st.DataObject, house: House, edition: str) -> None:
    exact = load_of(house, edition, upper=False)
    assert exact == load_of(house, edition, upper=True)
    open_house = data.draw(less_said(house))
    assert load_of(open_house, edition, upper=False) <= exact
    if has_end(open_house):
        assert exact <= load_of(open_house, edition, upper=True)


def test_one_heater_more_can_let_all_of_them_count_less() -> None:
    """Three heaters with controls of their own count 65 %, four count 40 % (220.82(C)), so an open list counts 40 %."""
    heater = Load(Subject("load", "load 1"), "heat", known(number(9000)), number(3), exactly(True), Truth.YES)
    small = replace(heater, power=known(number(100)), controls=number(1))
    figures = {name: known(number(0)) for name in FIGURES}
    both = load_of(House(figures, (heater, small), complete=True), "2023", upper=False)
    assert both == Fraction(4, 10) * 9100
    assert load_of(House(figures, (heater,), complete=True), "2023", upper=False) == Fraction(65, 100) * 9000
    assert load_of(House(figures, (heater,), complete=False), "2023", upper=False) == Fraction(4, 10) * 9000
    unsure = replace(small, is_here=Truth.UNKNOWN)
    assert load_of(House(figures, (heater, unsure), complete=True), "2023", upper=False) <= both
