"""How loads move: with every rating and the area they only rise, and with the number of things they need not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.cooking import column_c, round_half_up, write_ranges, write_small
from checker.engineering.loads.dwelling import (
    Appliance,
    Dwelling,
    Heating,
    OptionalCase,
    StandardCase,
    optional_load,
    standard_load,
)
from checker.engineering.loads.dwelling_neutral import (
    Demand,
    NeutralCase,
    NeutralOnLegs,
    dwelling_neutral_current,
    dwelling_neutral_load,
)
from checker.engineering.loads.existing import (
    DemandRecord,
    ExistingCase,
    MeasuredCase,
    existing_dwelling_load,
    measured_load,
)
from checker.engineering.loads.multifamily import MultifamilyCase, Part, multifamily_load
from checker.engineering.loads.neutral import NeutralLoad, neutral_load
from checker.engineering.loads.other_buildings import Building, BuildingCase, building_load, conductor_load
from checker.engineering.worked import Paper, Worked, letters
from tests.published import load_numbers as numbers

EMPTY = Dwelling(Fraction(0), 0, 0, (), (), (), (), Heating())
RATINGS = st.integers(100, 12_000).map(Fraction)
AREAS = st.integers(300, 6_000).map(Fraction)
EDITIONS = st.sampled_from(numbers.EDITIONS)


def heatings() -> st.SearchStrategy[Heating]:
    watts = st.integers(0, 20_000).map(Fraction)
    return st.builds(Heating, watts, watts, watts, st.booleans(), watts, st.integers(0, 6), watts)


def dwellings() -> st.SearchStrategy[Dwelling]:
    appliances = st.lists(st.builds(Appliance, st.just("appliance"), RATINGS, st.booleans()), max_size=6).map(tuple)
    ratings = st.lists(RATINGS, max_size=3).map(tuple)
    return st.builds(
        Dwelling,
        AREAS,
        st.integers(2, 4),
        st.integers(0, 2),
        appliances,
        ratings,
        ratings,
        ratings,
        heatings(),
        RATINGS,
    )


def with_more(home: Dwelling, more: Fraction, place: int) -> list[Dwelling]:
    """The same dwelling with one input greater, for every input in turn."""
    found = [replace(home, area=home.area + more), replace(home, largest_motor=home.largest_motor + more)]
    found += [
        replace(home, heating=replace(home.heating, **{name: getattr(home.heating, name) + more}))
        for name in ("cooling", "heat_pump", "supplementary", "heat", "storage_heat")
    ]
    found += [
        replace(home, ranges=_raised(home.ranges, more, place)),
        replace(home, dryers=_raised(home.dryers, more, place)),
        replace(home, vehicles=_raised(home.vehicles, more, place)),
    ]
    ratings = _raised(tuple(each.rating for each in home.appliances), more, place)
    raised = zip(home.appliances, ratings, strict=True)
    return [*found, replace(home, appliances=tuple(replace(each, rating=rating) for each, rating in raised))]


def _raised(ratings: tuple[Fraction, ...], more: Fraction, place: int) -> tuple[Fraction, ...]:
    """The same ratings with one of them greater."""
    return tuple(each + more if number == place % len(ratings) else each for number, each in enumerate(ratings))


@given(dwellings(), RATINGS, st.integers(0, 5), EDITIONS)
def test_every_load_of_a_dwelling_rises_with_every_rating(
    home: Dwelling, more: Fraction, place: int, edition: str
) -> None:
    standard, optional = numbers.standard(edition), numbers.optional(edition)
    tiers = numbers.tiers(numbers.FACTORS["existing_tiers"], "220.83")
    for greater in with_more(home, more, place):
        loads: tuple[Callable[[Dwelling], Worked], ...] = (
            lambda each: standard_load(StandardCase(each, standard)),
            lambda each: optional_load(OptionalCase(each, Fraction(200), optional)),
            lambda each: existing_dwelling_load(ExistingCase(each, True, tiers, optional, "220.83")),
            lambda each: existing_dwelling_load(ExistingCase(each, False, tiers, optional, "220.83")),
            lambda each: dwelling_neutral_load(NeutralCase(StandardCase(each, standard), numbers.neutral())),
        )
        for load in loads:
            assert load(home).value <= load(greater).value


@given(dwellings(), EDITIONS)
def test_the_last_step_is_the_result_and_every_step_is_named_once(home: Dwelling, edition: str) -> None:
    worked = standard_load(StandardCase(home, numbers.standard(edition)))
    assert worked.steps[-1].value == pytest.approx(worked.value)
    assert [step.letter for step in worked.steps] == [letters(place) for place in range(len(worked.steps))]


def test_four_appliances_can_weigh_less_than_three() -> None:
    """Facts of the code: from four appliances on three quarters of all of them count (220.53)."""

    def load(count: int) -> Fraction:
        appliances = tuple(Appliance(f"{place}", Fraction(3000)) for place in range(count))
        home = Dwelling(Fraction(0), 0, 0, appliances, (), (), (), Heating())
        return standard_load(StandardCase(home, numbers.standard("2020"))).value

    assert load(3) == load(4) == 9000
    smaller = (Appliance("small", Fraction(100)), *(Appliance(f"{place}", Fraction(3000)) for place in range(3)))
    home = Dwelling(Fraction(0), 0, 0, smaller, (), (), (), Heating())
    assert standard_load(StandardCase(home, numbers.standard("2020"))).value < load(3)


@pytest.mark.parametrize(("edition", "load"), [("2017", 12_000), ("2020", 12_000), ("2023", 12_000), ("2026", 9_800)])
def test_the_lighting_of_two_editions(edition: str, load: int) -> None:
    """2,500 ft2 with three circuits: 3 VA a square foot and 2 from 2026; a first tier of 10 kVA and then of 8 kVA."""
    home = Dwelling(Fraction(2500), 2, 1, (), (), (), (), Heating())
    worked = optional_load(OptionalCase(home, Fraction(100), numbers.optional(edition)))
    general = 7500 + 4500 if edition != "2026" else 5000 + 4500
    first = 10_000 if edition != "2026" else 8_000
    assert worked.value == first + Fraction(2, 5) * (general - first)
    assert worked.step("general load").value == general
    assert load >= worked.value


def test_the_optional_method_needs_a_service_of_a_hundred_amperes() -> None:
    home = Dwelling(Fraction(1000), 2, 1, (), (), (), (), Heating())
    with pytest.raises(OutsideLimits, match="100 A"):
        optional_load(OptionalCase(home, Fraction(99), numbers.optional("2020")))


# --- cooking ---------------------------------------------------------------------------------------------------------


@given(st.lists(st.integers(1000, 27_000).map(Fraction), min_size=1, max_size=60), st.integers(0, 59))
def test_ranges_rise_with_every_rating(ratings: list[Fraction], place: int) -> None:
    table = numbers.cooking()
    raised = list(ratings)
    raised[place % len(raised)] = min(Fraction(27_000), raised[place % len(raised)] + 1000)
    assert write_ranges(Paper(), ratings, table).value <= write_ranges(Paper(), raised, table).value


@given(st.integers(1, 24))
def test_column_c_rises_with_the_number_of_ranges_up_to_its_lines(count: int) -> None:
    table = numbers.cooking()
    assert column_c(count, table) <= column_c(count + 1, table)


def test_column_c_does_not_fall_where_its_lines_begin() -> None:
    """Facts of the code: 25 ranges 40 kW, 26 ranges 15 kW and 1 kW each, 41 ranges 25 kW and 3/4 kW each."""
    table = numbers.cooking()
    assert [column_c(count, table) for count in (25, 26, 40, 41, 60)] == [40000, 41000, 55000, 55750, 70000]


def test_a_range_past_the_table_has_no_row() -> None:
    with pytest.raises(OutsideLimits, match="27000 VA"):
        write_ranges(Paper(), (Fraction(27_001),), numbers.cooking())
    with pytest.raises(OutsideLimits, match="8750 VA"):
        write_small(Paper(), (Fraction(8_751),), numbers.cooking())


@pytest.mark.parametrize(("over", "steps"), [("0", 0), ("0.49", 0), ("0.5", 1), ("1.4", 1), ("1.5", 2)])
def test_a_major_fraction_is_a_half_or_more(over: str, steps: int) -> None:
    assert round_half_up(Fraction(over)) == steps


# --- neutral, several dwellings, other buildings, measured ------------------------------------------------------------


@given(st.integers(0, 2000).map(Fraction), st.integers(0, 500).map(Fraction), st.integers(1, 100).map(Fraction))
def test_the_neutral_rises_and_never_passes_what_is_unbalanced(
    linear: Fraction, fixed: Fraction, more: Fraction
) -> None:
    def load(unbalance: Fraction, not_reduced: Fraction) -> Fraction:
        return neutral_load(NeutralLoad(unbalance, not_reduced, numbers.neutral())).value

    whole = linear + fixed
    assert load(whole, fixed) <= whole
    assert load(whole, fixed) <= load(whole + more, fixed)
    assert load(whole, min(whole, fixed)) <= load(whole, min(whole, fixed + more))


@given(dwellings(), EDITIONS, st.booleans())
def test_each_load_alone_is_never_less_and_in_full_is_the_most(home: Dwelling, edition: str, reduces: bool) -> None:
    case = NeutralCase(StandardCase(home, numbers.standard(edition)), numbers.neutral(), reduces)
    together, alone, in_full = (dwelling_neutral_load(replace(case, demand=each)).value for each in Demand)
    assert together <= alone <= in_full
    assert dwelling_neutral_load(replace(case, reduces=True)).value <= together


def test_a_neutral_on_two_legs_of_a_wye_is_not_reduced() -> None:
    """60 kVA at 2 x 120 V are 250 A: 200 A and 70 % of 50 A on a split phase, all of it on a wye (220.61(B), (C))."""
    home = replace(EMPTY, appliances=(Appliance("spa", Fraction(60_000), to_neutral=True),))
    case = NeutralCase(StandardCase(home, numbers.standard("2020")), numbers.neutral())
    assert dwelling_neutral_current(NeutralOnLegs(case, Fraction(120))).value == 235
    of_wye = NeutralOnLegs(replace(case, reduces=False), Fraction(120))
    assert dwelling_neutral_current(of_wye).value == 250
    with pytest.raises(OutsideLimits, match="voltage to the neutral"):
        dwelling_neutral_current(replace(of_wye, to_neutral=Fraction(0)))


def test_four_appliances_count_three_quarters_also_on_the_neutral() -> None:
    """220.53 counts all that are fastened, 220.61 what of it loads the neutral: 75 % of 2 x 1000 VA."""
    two, without = (tuple(Appliance("appliance", Fraction(1000), each) for _ in range(2)) for each in (True, False))
    home = replace(EMPTY, appliances=(*two, *without))
    case = NeutralCase(StandardCase(home, numbers.standard("2020")), numbers.neutral())
    assert dwelling_neutral_load(case).value == 1500
    three = replace(case, standard=StandardCase(replace(home, appliances=(*two, without[0])), case.standard.numbers))
    assert dwelling_neutral_load(three).value == 2000


def test_several_dwellings_have_their_limits() -> None:
    factors = numbers.dwelling_units("2020")
    whole, nothing = Fraction(5_000), Fraction(0)
    house = BuildingCase(Building(nothing, nothing, nothing, nothing, other=whole), numbers.building())
    three = MultifamilyCase(3, (Part("units", "given", Fraction(30_000)),), house, factors, 3, True, True)
    assert multifamily_load(three).value == 18_500
    assert multifamily_load(replace(three, house=None)).value == 13_500
    assert multifamily_load(replace(three, in_full=(Part("vehicles", "given", Fraction(7200)),))).value == 25_700
    without = (replace(three, electric_cooking=False), replace(three, electric_heating_or_cooling=False))
    for wrong in (replace(three, units=2), *without):
        with pytest.raises(OutsideLimits):
            multifamily_load(wrong)


@given(AREAS, st.integers(0, 40_000).map(Fraction), RATINGS)
def test_a_building_rises_with_each_of_its_loads(area: Fraction, receptacles: Fraction, more: Fraction) -> None:
    building = Building(
        area, Fraction("1.3"), Fraction(1000), receptacles, Fraction(10), (Fraction(900),), (more, more)
    )
    load = building_load(BuildingCase(building, numbers.building())).value
    for name in ("area", "connected_lighting", "receptacles", "show_window", "other", "largest_motor"):
        greater = replace(building, **{name: getattr(building, name) + more})
        assert load <= building_load(BuildingCase(greater, numbers.building())).value
    raised = conductor_load(BuildingCase(building, numbers.building()), load).value
    assert raised == pytest.approx(Fraction(5, 4) * load)


def test_a_kitchen_counts_no_less_than_its_two_largest() -> None:
    kitchen = tuple(Fraction(each) for each in (10_000, 9_000, 100, 100, 100, 100))
    building = Building(Fraction(0), Fraction(0), Fraction(0), Fraction(0), kitchen=kitchen)
    worked = building_load(BuildingCase(building, numbers.building()))
    assert worked.step("kitchen").value == 19_000


RECORD = DemandRecord((Fraction(10_000), Fraction(12_000)), Fraction(15), Fraction(30), on_site_source=False)


def test_measured_demand_counts_at_five_quarters() -> None:
    case = MeasuredCase(RECORD, Fraction(3_000), numbers.measured("2020"))
    worked = measured_load(case)
    assert worked.value == 18_000
    assert worked.assumptions


@pytest.mark.parametrize(
    ("change", "edition"),
    [
        ({"days": Fraction(29)}, "2020"),
        ({"interval": Fraction(16)}, "2020"),
        ({"demands": ()}, "2020"),
        ({"demands": (Fraction(-1),)}, "2020"),
        ({"on_site_source": True}, "2020"),
        ({"on_site_source": True, "days": Fraction(365)}, "2023"),
    ],
)
def test_a_record_outside_of_the_limits_is_refused(change: dict[str, object], edition: str) -> None:
    record = replace(RECORD, **change)  # type: ignore[arg-type]
    with pytest.raises(OutsideLimits):
        measured_load(MeasuredCase(record, Fraction(0), numbers.measured(edition)))


def test_a_year_of_record_counts_beside_a_source_on_site_until_2020() -> None:
    record = replace(RECORD, on_site_source=True, days=Fraction(365), interval=Fraction(60))
    assert measured_load(MeasuredCase(record, Fraction(0), numbers.measured("2020"))).value == 15_000
