"""The load of a single dwelling by the Canadian code: the published example, worked by hand, and at both ends."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.facts.loads.canadian import LIVING_AREA, canadian_load
from checker.facts.loads.premises import Load, Premises
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.values.possible import Possible, number
from checker.values.truth import Truth
from tests.facts.reading import fact_of, view_under
from tests.facts.test_dwelling_bounds import exact_loads, known, less_said
from tests.published.canadian_numbers import SQUARE_FEET

HOUSE = """
site: {{name: Alder Point, stage: plan_review, occupancy: one_family_dwelling, other_sources: none, living_area: {area},
       area_without_basement: {without_basement}, heating_and_cooling_apart: {apart}, load_method: {method}}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 200 A}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire}}
  P1: {{kind: panelboard, fed_from: ATS1}}
{more}loads:
  complete: {complete}
  list:
    - {{name: air conditioner, load_kind: cooling, load_power: {cooling}, at: P1}}
    - {{name: heat, load_kind: heat, load_power: {heat}, at: P1}}
    - {{name: range, load_kind: {range}, load_power: 11 kVA, at: P1}}
    - {{name: hot tub, load_kind: tankless_or_pool_heater, load_power: 8 kVA, at: P1}}
    - {{name: vehicle charger, load_kind: vehicle_supply, load_power: 7200 VA, at: P1}}
    - {{name: dryer, load_kind: dryer, load_power: 5 kVA, at: P1}}
    - {{name: water heater, load_kind: water_heater, load_power: 4500 VA, at: P1}}
    - {{name: microwave oven, load_kind: appliance, load_power: 1500 VA, at: P1}}
"""
BASE = {
    "area": "269 m2",
    "without_basement": "unknown",
    "apart": "yes",
    "method": "unknown",
    "complete": "yes",
    "cooling": "6 kVA",
    "heat": "1 VA",
    "range": "cooking",
    "more": "",
}
PUBLISHED = Fraction(36_575)
"""W-016 of tests/published: the items of an example in a magazine for inspectors, CE Code 2012, added anew; its printed
current does not follow from them.
"""
EDITIONS = ("2021", "2024")


def load(folder: Path, library: Library, *, profile: str = "csa-c22-1-2021", of: str = "UTIL", **but: str) -> Possible:
    name = "calculated_load" if of == "UTIL" else "automatic_load"
    return fact_of(view_under(profile, HOUSE.format(**{**BASE, **but}), folder, library), of, name)


def watts(found: Possible) -> tuple[Fraction | None, Fraction | None]:
    hull = found.hull
    assert hull is not None
    low, high = (None if end is None else Fraction(round(end * 2400), 10) for end in (hull.low, hull.high))
    return low, high


def alone(value: int | Fraction) -> tuple[Fraction, Fraction]:
    return Fraction(value), Fraction(value)


@pytest.mark.parametrize("year", EDITIONS)
@pytest.mark.parametrize("of", ["UTIL", "GEN1"])
@pytest.mark.parametrize("method", ["unknown", "canadian_dwelling"])
def test_the_published_dwelling(year: str, of: str, method: str, tmp_path: Path, library: Library) -> None:
    """5000 + 2 x 1000 + 6000 + 6000 + 8000 + 7200 + (5000 + 4500) / 4 W."""
    found = load(tmp_path, library, profile=f"csa-c22-1-{year}", of=of, method=method)
    assert watts(found) == alone(PUBLISHED)


def test_heat_counts_by_its_tiers_and_with_cooling_where_nothing_keeps_them_apart(
    tmp_path: Path, library: Library
) -> None:
    """14 kW of heat count 10 kW and 75 % of the rest: 13 kW in the place of 6 kW of cooling, or beside them."""
    assert watts(load(tmp_path, library, heat="14 kVA")) == alone(PUBLISHED + 7000)
    assert watts(load(tmp_path, library, heat="14 kVA", apart="no")) == alone(PUBLISHED + 13_000)
    assert watts(load(tmp_path, library, heat="14 kVA", apart="unknown")) == (PUBLISHED + 7000, PUBLISHED + 13_000)


def test_without_a_range_the_first_large_loads_count_in_full(tmp_path: Path, library: Library) -> None:
    """The 11 kW are a further load then: 6000 + (11 000 + 9500 - 6000) / 4 in the place of 6000 + 9500 / 4 W."""
    found = load(tmp_path, library, range="appliance")
    assert watts(found) == alone(PUBLISHED - 6000 - 2375 + 6000 + 3625)


def test_the_least_load_goes_by_the_area_without_a_basement(tmp_path: Path, library: Library) -> None:
    """80 m2 and more: 24 kW; less: 14.4 kW. Nothing but a small range is there: 5000 + 6000 W."""
    text = HOUSE.format(**{**BASE, "area": "85 m2", "without_basement": "{}"})
    start = text.index("    - {name: air")
    text = text[:start] + "    - {name: range, load_kind: cooking, load_power: 8 kVA, at: P1}\n"

    def with_area(area: str) -> tuple[Fraction | None, Fraction | None]:
        written = text.replace("area_without_basement: {}", f"area_without_basement: {area}")
        return watts(fact_of(view_under("csa-c22-1-2021", written, tmp_path, library), "UTIL", "calculated_load"))

    assert with_area("80 m2") == alone(24_000)
    assert with_area("79.9 m2") == alone(14_400)
    assert with_area("unknown") == (Fraction(14_400), Fraction(24_000))


def test_what_is_open_leaves_no_upper_end(tmp_path: Path, library: Library) -> None:
    assert watts(load(tmp_path, library, complete="no")) == (PUBLISHED, None)
    assert watts(load(tmp_path, library, cooling="6 kVA or more")) == (PUBLISHED, None)


@pytest.mark.parametrize(
    ("but", "words"),
    [
        ({"area": "unknown"}, "living area"),
        ({"method": "optional"}, "No document in force"),
        ({"profile": "nec-2023", "method": "canadian_dwelling"}, "No document in force"),
        ({"of": "GEN1", "more": "  P2: {kind: panelboard, fed_from: UTIL}\n"}, "part of a dwelling"),
    ],
)
def test_where_it_does_not_hold_there_is_no_number(
    but: dict[str, str], words: str, tmp_path: Path, library: Library
) -> None:
    found = load(tmp_path, library, **but)
    assert not found.has_value
    assert words in "".join(found.undefined)


# --- between the ends ------------------------------------------------------------------------------------------------


@st.composite
def exact_homes(draw: st.DrawFn) -> Premises:
    area = known(number(draw(st.integers(40, 400)) * SQUARE_FEET))
    return Premises({LIVING_AREA: area}, tuple(draw(st.lists(exact_loads(), max_size=7))), complete=True)


@pytest.fixture(scope="module")
def numbers() -> dict[str, NumbersInForce]:
    library = Library.shipped()
    found = {year: standing(f"csa-c22-1-{year}", library.profiles, library) for year in EDITIONS}
    return {year: each.on(date(2026, 3, 14)).numbers for year, each in found.items()}


@given(
    data=st.data(),
    home=exact_homes(),
    share=st.integers(1, 10),
    apart=st.sampled_from((Truth.YES, Truth.NO)),
    year=st.sampled_from(EDITIONS),
)
def test_what_is_filled_in_lies_between_the_ends(
    data: st.DataObject,
    home: Premises,
    share: int,
    apart: Truth,
    year: str,
    numbers: dict[str, NumbersInForce],
) -> None:
    area = home.figures[LIVING_AREA].value.number
    assert area is not None
    without = number(area * share / 10)
    exact = canadian_load(home, without, apart, numbers[year])
    assert exact.most is not None
    assert exact.least.value == exact.most.value
    less = data.draw(less_said(home))
    said = data.draw(st.sampled_from((without, number(area).union(number(0)))))
    if said is not without:
        said = said.union(without)
    ends = canadian_load(less, said, data.draw(st.sampled_from((apart, Truth.UNKNOWN))), numbers[year])
    assert ends.least.value <= exact.least.value
    if ends.most is not None:
        assert exact.least.value <= ends.most.value


RANGE = Load(Subject("load", "range"), "", "cooking", known(number(1)), number(0), Truth.NO, Truth.NO, Truth.YES)


@given(
    ratings=st.lists(st.integers(0, 9000), max_size=5), rating=st.integers(0, 20_000), year=st.sampled_from(EDITIONS)
)
def test_a_range_that_comes_to_the_loads_never_lowers_the_load(
    ratings: list[int], rating: int, year: str, numbers: dict[str, NumbersInForce]
) -> None:
    others = tuple(replace(RANGE, kind="appliance", power=known(number(each))) for each in ratings)
    home = Premises({LIVING_AREA: known(number(200 * SQUARE_FEET))}, others, complete=True)
    more = replace(home, loads=(*others, replace(RANGE, power=known(number(rating)))))
    without, with_range = (
        canadian_load(each, number(0), Truth.YES, numbers[year]).least.value for each in (home, more)
    )
    assert without <= with_range
