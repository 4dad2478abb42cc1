"""The Canadian rule for a single dwelling: its steps one by one, and how it moves."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.canadian_dwelling import CanadianDwelling, canadian_dwelling_load
from tests.published.canadian_numbers import SQUARE_FEET, canadian

F = Fraction
EMPTY = CanadianDwelling(
    90 * SQUARE_FEET,
    F(0),
    F(0),
    None,
    (),
    (),
    heating_and_cooling_together=False,
    numbers=canadian(),
    area_without_basement=90 * SQUARE_FEET,
)


@pytest.mark.parametrize(
    ("metres", "load"), [("90", 5000), ("90.1", 6000), ("180", 6000), ("180.1", 7000), ("40", 5000)]
)
def test_each_further_part_of_an_area_counts_whole(metres: str, load: int) -> None:
    worked = canadian_dwelling_load(replace(EMPTY, area=F(metres) * SQUARE_FEET))
    assert worked.step("basic load").value == load


@pytest.mark.parametrize(("metres", "least"), [("80", 24_000), ("79", 14_400)])
def test_the_least_load_by_area(metres: str, least: int) -> None:
    # The basic load goes by the whole living area, the least load by the area without a basement.
    assert canadian_dwelling_load(replace(EMPTY, area_without_basement=F(metres) * SQUARE_FEET)).value == least


@pytest.mark.parametrize(("rating", "load"), [(8000, 6000), (12_000, 6000), (14_500, 7000)])
def test_a_range(rating: int, load: int) -> None:
    assert canadian_dwelling_load(replace(EMPTY, range_rating=F(rating))).step("range").value == load


def test_heating_has_tiers_and_cooling_does_not_run_with_it() -> None:
    case = replace(EMPTY, heating=F(14_000), cooling=F(12_000))
    assert canadian_dwelling_load(case).step("heating or cooling").value == 13_000
    both = canadian_dwelling_load(replace(case, heating_and_cooling_together=True))
    assert both.step("heating and cooling").value == 25_000


@pytest.mark.parametrize(
    ("range_rating", "others", "load"),
    [
        (9000, (1500, 1501), "375.25"),
        (9000, (4000, 4000), "2000"),
        (None, (4000, 4000), "6500"),
        (None, (5000,), "5000"),
    ],
)
def test_further_loads_count_at_a_quarter_and_more_without_a_range(
    range_rating: int | None, others: tuple[int, ...], load: str
) -> None:
    rating = None if range_rating is None else F(range_rating)
    case = replace(EMPTY, range_rating=rating, others=tuple(F(each) for each in others))
    assert canadian_dwelling_load(case).step("further loads").value == F(load)


def test_a_heat_pump_runs_in_both_seasons_and_its_strip_heat_in_one() -> None:
    """4 kW of compressor; 12 kW of strip heat, of which 10 kW count in full and the rest at 75 %; 5 kW of cooling."""
    case = replace(EMPTY, heat_pump=F(4000), supplementary=F(12_000), cooling=F(5000))
    assert canadian_dwelling_load(case).step("heating or cooling").value == 11_500 + 4000
    apart = replace(case, with_compressor=False)
    assert canadian_dwelling_load(apart).step("heating or cooling").value == 11_500
    small_strip = replace(apart, supplementary=F(2000))
    assert canadian_dwelling_load(small_strip).step("heating or cooling").value == 9000
    both = replace(case, heating_and_cooling_together=True)
    assert canadian_dwelling_load(both).step("heating and cooling").value == 11_500 + 4000 + 5000


WATTS = st.integers(0, 20_000).map(F)


@given(WATTS, WATTS, st.lists(WATTS, max_size=4), st.integers(1, 9000).map(F), st.booleans())
def test_the_load_rises_with_every_part(
    heating: Fraction, cooling: Fraction, others: list[Fraction], more: Fraction, both: bool
) -> None:
    case = replace(
        EMPTY,
        heating=heating,
        cooling=cooling,
        others=tuple(others),
        range_rating=F(9000),
        heating_and_cooling_together=both,
    )
    load = canadian_dwelling_load(case).value
    for change in (
        {"area": case.area + more},
        {"area_without_basement": case.area_without_basement + more},
        {"heat_pump": more},
        {"supplementary": more},
        {"heating_and_cooling_together": True},
        {"heating": heating + more},
        {"cooling": cooling + more},
        {"range_rating": F(9000) + more},
        {"in_full": (more,)},
        {"others": (*others, more)},
    ):
        assert load <= canadian_dwelling_load(replace(case, **change)).value


def test_no_area_is_no_dwelling() -> None:
    with pytest.raises(OutsideLimits):
        canadian_dwelling_load(replace(EMPTY, area=F(0)))
