"""The load of a two-family dwelling: published, worked by hand, and at both ends of what is known."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.facts.loads.methods import Terms, load_by
from checker.facts.loads.premises import Premises
from checker.rules.model.in_force import NumbersInForce
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, exactly
from checker.values.truth import Truth
from tests.facts.reading import fact_of, view_under
from tests.facts.test_dwelling_bounds import exact_houses, less_said, standing_rules

HOUSE = """
site: {{name: Fern Double, occupancy: two_family_dwelling, floor_area: 3600 ft2, {units}other_sources: none,
       small_appliance_circuits: 2, laundry_circuits: 1, load_method: {method}, one_feeder_to_each_unit: yes,
       electric_cooking_in_each_unit: {cooking}, electric_heating_or_cooling_in_each_unit: yes}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  D1: {{kind: disconnect, role: service_disconnect, rated_current: 400 A, fed_from: UTIL}}
  ATS1: {{kind: transfer_switch, normal: D1, alternate: GEN1, operation: automatic, rated_current: 400 A}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire}}
  PA: {{kind: panelboard, fed_from: ATS1}}
  PB: {{kind: panelboard, fed_from: {feeds}}}
loads:
  complete: {complete}
  list:
    - {{name: water heater, load_kind: appliance, motor_driven: no, load_power: 4500 VA, serves: {serves}, at: PA}}
    - {{name: dishwasher, load_kind: appliance, motor_driven: no, load_power: 1200 VA, serves: each_dwelling_unit,
       at: PA}}
    - {{name: microwave oven, load_kind: appliance, motor_driven: no, load_power: 2600 VA, serves: each_dwelling_unit,
       at: PA}}
    - {{name: disposer, load_kind: appliance, motor_driven: yes, load_power: 856 VA, serves: each_dwelling_unit,
       at: PA}}
    - {{name: range, load_kind: cooking, load_power: 12 kVA, serves: each_dwelling_unit, at: PA}}
    - {{name: dryer, load_kind: dryer, load_power: 5000 VA, serves: each_dwelling_unit, at: PA}}
    - {{name: compressor, load_kind: cooling, load_power: {cooling}, serves: each_dwelling_unit, at: PA}}
    - {{name: electric heat with its blower, load_kind: heat, load_power: 11176 VA, serves: each_dwelling_unit, at: PA}}
{more}"""
BASE = {
    "units": "",
    "method": "standard",
    "cooking": "yes",
    "complete": "yes",
    "serves": "each_dwelling_unit",
    "feeds": "ATS1",
    "cooling": "1 VA",
    "more": "",
}
PUBLISHED = Fraction(45, 100) * 141_696
"""Two units of 1,800 square feet with four fastened appliances of 9,156 VA, a range of 12,000 VA, a dryer of 5,000 VA
and heat of 10,000 VA with a blower of 1,176 VA each: 63,763 VA as three like units. A trade magazine on article
220, Branch-Circuit, Feeder and Service Calculations, Part LVIII (ecmag.com), of which an excerpt was read.
"""
STANDARD = Fraction(8880 + 13_734 + 11_000 + 10_000 + 22_352 + 214)
"""The same two units: 66,180 VA in that magazine; the parts were not read. By hand: 3000 + 35 % of 16,800 for
lighting and six circuits; 75 % of 18,312 (eight appliances); two ranges in column C; two dryers; heat; a quarter of a
motor of 856 VA, with which the parts come to what is printed.
"""


def load(folder: Path, library: Library, *, year: str = "2020", of: str = "UTIL", **but: str) -> Possible:
    name = "calculated_load" if of == "UTIL" else "automatic_load"
    return fact_of(view_under(f"nec-{year}", HOUSE.format(**{**BASE, **but}), folder, library), of, name)


def ends(found: Possible) -> tuple[Fraction | None, Fraction | None]:
    """The least and the most in VA."""
    hull = found.hull
    assert hull is not None, found.undefined
    low, high = (None if each is None else Fraction(round(each * 240 * 10), 10) for each in (hull.low, hull.high))
    return low, high


@pytest.mark.parametrize("year", ["2017", "2020", "2023"])
def test_the_published_units_by_the_standard_calculation(year: str, tmp_path: Path, library: Library) -> None:
    assert STANDARD == 66_180
    assert ends(load(tmp_path, library, year=year)) == (STANDARD, STANDARD)


@pytest.mark.parametrize("year", ["2017", "2020", "2023"])
def test_the_published_lesser_of_the_two(year: str, tmp_path: Path, library: Library) -> None:
    assert ends(load(tmp_path, library, year=year, method="multifamily")) == (PUBLISHED, PUBLISHED)


def test_the_standard_one_counts_where_it_is_the_lesser(tmp_path: Path, library: Library) -> None:
    """A range of 20 kVA: standard 11,000 x 1.40 for 4,400 VA more; three like units 45 % of 24,000 VA more."""
    more = {"cooling": "6000 VA"}
    text = HOUSE.replace("load_power: 12 kVA", "load_power: 20 kVA")
    view = view_under("nec-2020", text.format(**{**BASE, **more, "method": "multifamily"}), tmp_path, library)
    standard = STANDARD + 4400 - 214 + 1500
    assert PUBLISHED + Fraction(45, 100) * 24_000 > standard
    assert ends(fact_of(view, "UTIL", "calculated_load")) == (standard, standard)


def test_all_appliances_of_the_building_count_for_the_factor(tmp_path: Path, library: Library) -> None:
    """Three in each unit are six: 5,780 VA x 2 x 75 % = 8,670 VA, a worksheet of a teacher of the trade as quoted on a
    forum (forums.mikeholt.com, Duplex - standard calculation). Lighting of 3,600 square feet and circuits as above.
    """
    text = HOUSE.split("loads:\n", maxsplit=1)[0] + (
        "loads:\n  complete: yes\n  list:\n"
        + "".join(
            f"    - {{{{name: a{power}, load_kind: appliance, motor_driven: no, load_power: {power} VA, "
            "serves: each_dwelling_unit, at: PA}}\n"
            for power in (1320, 960, 3500)
        )
    )
    found = fact_of(view_under("nec-2020", text.format(**BASE), tmp_path, library), "UTIL", "calculated_load")
    assert ends(found) == (Fraction(8880 + 8670), Fraction(8880 + 8670))


def test_a_load_of_the_house_counts_once(tmp_path: Path, library: Library) -> None:
    more = (
        "    - {name: sump pump, load_kind: appliance, motor_driven: yes, load_power: 800 VA, serves: house, at: PA}\n"
    )
    assert ends(load(tmp_path, library, more=more)) == (STANDARD + 600, STANDARD + 600)
    beside = PUBLISHED + 800 + 200
    assert ends(load(tmp_path, library, more=more, method="multifamily")) == (beside, beside)


def test_what_is_open_whom_it_serves_counts_once_or_twice(tmp_path: Path, library: Library) -> None:
    """Of a load of one unit 4500 VA at 75 % less. A factor that falls with the count leaves no upper end."""
    once = STANDARD - Fraction(75, 100) * 4500
    assert ends(load(tmp_path, library, serves="one_dwelling_unit")) == (once, once)
    low, high = ends(load(tmp_path, library, serves="unknown"))
    assert low is not None
    assert low <= once
    assert high is None


def test_the_set_that_feeds_both_units_carries_their_load(tmp_path: Path, library: Library) -> None:
    assert ends(load(tmp_path, library, of="GEN1")) == (STANDARD, STANDARD)


def test_every_rating_in_full(tmp_path: Path, library: Library) -> None:
    """10,800 + 9,000 + 2 x (9,156 + 12,000 + 5,000 + 11,176) + a quarter of 856 VA."""
    in_full = Fraction(19_800 + 2 * 37_332 + 214)
    assert ends(load(tmp_path, library, method="connected")) == (in_full, in_full)


def test_a_list_that_may_go_on_has_no_upper_end(tmp_path: Path, library: Library) -> None:
    assert ends(load(tmp_path, library, complete="no"))[1] is None


def test_two_units_need_not_be_counted(tmp_path: Path, library: Library) -> None:
    for units in ("dwelling_units: 2, ", "dwelling_units: unknown, "):
        assert ends(load(tmp_path, library, units=units)) == (STANDARD, STANDARD)


@pytest.mark.parametrize(
    ("but", "words"),
    [
        ({"units": "dwelling_units: 3, "}, "two dwelling units"),
        ({"method": "optional"}, "for one dwelling unit"),
        ({"method": "existing_dwelling"}, "for one dwelling unit"),
        ({"method": "multifamily", "cooking": "no"}, "electric cooking in each dwelling unit"),
        ({"method": "multifamily", "serves": "one_dwelling_unit"}, "shown to be alike"),
        ({"method": "multifamily", "serves": "unknown"}, "shown to be alike"),
    ],
)
def test_where_it_does_not_hold_there_is_no_number(
    but: dict[str, str], words: str, tmp_path: Path, library: Library
) -> None:
    found = load(tmp_path, library, **but)
    assert not found.has_value
    assert words in "".join(found.undefined)


def test_of_a_part_of_the_building_what_each_unit_has_counts_once_where_it_stands(
    tmp_path: Path, library: Library
) -> None:
    part = load(tmp_path, library, of="GEN1", feeds="D1", method="multifamily")
    assert "only a part" in "".join(part.undefined)


@given(data=st.data(), house=exact_houses(), year=st.sampled_from(("2017", "2026")))
def test_what_is_filled_in_lies_between_the_ends(
    data: st.DataObject, house: Premises, year: str, numbers: dict[str, NumbersInForce]
) -> None:
    terms, by = Terms(Fraction(200), Fraction(200), Truth.NO), exactly("standard")
    exact = load_by(by, replace(house, units=2), numbers[year], terms)
    assert exact.most is not None
    assert exact.least.value == exact.most.value
    ends_of_it = load_by(by, replace(data.draw(less_said(house)), units=2), numbers[year], terms)
    assert ends_of_it.least.value <= exact.least.value
    if ends_of_it.most is not None:
        assert exact.least.value <= ends_of_it.most.value


@pytest.fixture(scope="module")
def numbers() -> dict[str, NumbersInForce]:
    library = Library.shipped()
    return {year: standing_rules(library, year) for year in ("2017", "2026")}
