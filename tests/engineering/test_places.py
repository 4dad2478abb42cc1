"""Sound, distances, working space and enclosures: laws, limits, and where there is no answer."""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.sites.distances import DistanceLimit, Sense, allowed
from checker.engineering.sites.enclosures import (
    CrossTable,
    EnclosureTable,
    Protection,
    for_place,
    read_protection,
)
from checker.engineering.sites.sound import (
    DISTANCE_FOR_LEVEL,
    SOUND_AT_DISTANCE,
    SOUND_FROM_POWER,
    SOUND_OF_LINE,
    sum_of_levels,
)

F = Fraction
LEVELS = st.integers(0, 1300).map(lambda tenth: F(tenth, 10))
FEET = st.integers(1, 3000).map(lambda tenth: F(tenth, 10))
THREE_DECIBELS = 10 * math.log10(2)

# --- sound -----------------------------------------------------------------------------------------------------------


@given(LEVELS, FEET, FEET)
def test_a_point_source_falls_six_decibels_for_twice_the_distance(
    level: Fraction, first: Fraction, distance: Fraction
) -> None:
    point = {"level": level, "measured_at": first, "correction": F(0)}
    near = SOUND_AT_DISTANCE.function({**point, "distance": distance})
    far = SOUND_AT_DISTANCE.function({**point, "distance": 2 * distance})
    assert float(near - far) == pytest.approx(20 * math.log10(2), abs=1e-12)
    near = SOUND_OF_LINE.function({**point, "distance": distance})
    far = SOUND_OF_LINE.function({**point, "distance": 2 * distance})
    assert float(near - far) == pytest.approx(THREE_DECIBELS, abs=1e-12)


@given(LEVELS)
def test_two_equal_sounds_are_three_decibels_louder(level: Fraction) -> None:
    assert float(sum_of_levels([level, level]) - level) == pytest.approx(THREE_DECIBELS, abs=1e-12)


@given(st.lists(LEVELS, min_size=1, max_size=6), LEVELS)
def test_one_more_sound_never_makes_it_quieter(levels: list[Fraction], more: Fraction) -> None:
    together = sum_of_levels(levels)
    assert together >= max(levels)
    assert sum_of_levels([*levels, more]) >= together
    assert together <= max(levels) + F(10) * F(str(math.log10(len(levels)))) + F(1, 10**9)


@given(LEVELS, FEET, st.integers(20, 90).map(F))
def test_at_the_distance_for_a_level_the_level_is_reached(level: Fraction, first: Fraction, limit: Fraction) -> None:
    point = {"level": level, "measured_at": first, "correction": F(3)}
    distance = DISTANCE_FOR_LEVEL.function({**point, "limit": limit})
    found = SOUND_AT_DISTANCE.function({**point, "distance": distance})
    assert float(found) == pytest.approx(float(limit), abs=1e-9)


def test_half_a_sphere_is_three_decibels_louder_than_a_whole_one() -> None:
    point = {"power_level": F(100), "distance": F(23)}
    half, whole = (SOUND_FROM_POWER.function({**point, "directivity": F(each)}) for each in (2, 1))
    assert float(half - whole) == pytest.approx(THREE_DECIBELS)


def test_sound_without_an_answer() -> None:
    with pytest.raises(OutsideLimits, match="distances above zero"):
        SOUND_AT_DISTANCE.at({"level": F(65), "measured_at": F(23), "distance": F(0), "correction": F(0)})
    with pytest.raises(OutsideLimits, match="Nothing makes any sound"):
        sum_of_levels([])


# --- distances -------------------------------------------------------------------------------------------------------

TOWN = DistanceLimit(Sense.NOT_NEARER, F(10), "town", "14-31")
FIRE = DistanceLimit(Sense.NOT_NEARER, F(5), "NFPA 37", "4.1.4")
MAKER = DistanceLimit(Sense.NOT_NEARER, F(3, 2), "instructions", "page 8")
UTILITY = DistanceLimit(Sense.NOT_FARTHER, F(25), "utility", "letter")


def test_the_stricter_counts_and_all_are_told() -> None:
    found = allowed((MAKER, TOWN, FIRE, UTILITY))
    assert found.nearest == 10
    assert found.farthest == 25
    assert (found.nearest_by, found.farthest_by) == ((TOWN,), (UTILITY,))
    assert found.others == (FIRE, MAKER)
    assert [found.holds(F(each)) for each in (9, 10, 25, 26)] == [False, True, True, False]
    assert found.missed(F(4)) == (TOWN, FIRE)
    assert found.missed(F(26)) == (UTILITY,)


def test_equal_limits_count_together() -> None:
    other = replace(TOWN, authority="county")
    assert allowed((TOWN, other, FIRE)).nearest_by == (TOWN, other)


def test_limits_that_contradict_each_other() -> None:
    found = allowed((TOWN, replace(UTILITY, distance=F(9))))
    assert found.contradicts
    assert not any(found.holds(F(each)) for each in range(30))
    assert not allowed((TOWN, replace(UTILITY, distance=F(10)))).contradicts


def test_nobody_sets_a_limit() -> None:
    found = allowed(())
    assert (found.nearest, found.farthest, found.contradicts, found.holds(F(0))) == (None, None, False, True)
    with pytest.raises(OutsideLimits):
        allowed((replace(TOWN, distance=F(-1)),))


LIMITS = st.lists(
    st.builds(DistanceLimit, st.sampled_from(Sense), st.integers(0, 30).map(F), st.just("town"), st.just("1")),
    max_size=6,
)


@given(LIMITS, st.integers(0, 31).map(F))
def test_a_distance_holds_where_no_limit_is_missed(limits: list[DistanceLimit], distance: Fraction) -> None:
    found = allowed(limits)
    assert found.holds(distance) == (not found.missed(distance))
    assert len(found.nearest_by) + len(found.farthest_by) + len(found.others) == len(limits)
    if found.holds(distance):
        assert allowed(limits[1:]).holds(distance)


# --- enclosures ------------------------------------------------------------------------------------------------------

TYPES = EnclosureTable(
    {"rain": frozenset({"3R", "3S", "4X"}), "ice": frozenset({"3S"}), "corrosion": frozenset({"4X"})}, "the table"
)
CODES = CrossTable({"3R": Protection(2, 4), "6P": Protection(6, 8), "4X": Protection(6, 6)}, "the annex")


def test_types_for_a_place() -> None:
    assert for_place("3R", ("rain", "ice", "corrosion"), TYPES).not_made_for == ("ice", "corrosion")
    assert for_place("3R", ("rain",), TYPES).serves


@pytest.mark.parametrize(("type_", "conditions"), [("9", ("rain",)), ("3R", ()), ("3R", ("snow",))])
def test_places_and_types_that_the_table_does_not_have(type_: str, conditions: tuple[str, ...]) -> None:
    with pytest.raises(OutsideLimits):
        for_place(type_, conditions, TYPES)


@pytest.mark.parametrize(
    ("code", "wanted", "covers"),
    [
        ("IP24", "IP14", True),
        ("IP24", "IP34", False),
        ("IP24", "IP25", False),
        ("IP66", "IP65", True),
        ("IP67", "IP66", False),  # immersion does not include jets
        ("IP67", "IP65", False),
        ("IP68", "IP67", True),
        ("IP67", "IP54", True),
    ],
)
def test_what_an_ip_code_covers(code: str, wanted: str, covers: bool) -> None:
    assert read_protection(code).covers(read_protection(wanted)) is covers


@pytest.mark.parametrize("code", ["IP2X", "IP79", "54", "IP5", "IP69", "IP²5", "IPIP54"])
def test_codes_that_are_none(code: str) -> None:
    with pytest.raises(OutsideLimits, match="no IP code"):
        read_protection(code)


def test_a_code_is_printed_as_it_is_read() -> None:
    assert str(read_protection("IP54")) == "IP54"


def test_from_type_to_code_and_not_back() -> None:
    assert CODES.type_reaches("4X", Protection(6, 5))
    assert not CODES.type_reaches("3R", Protection(5, 4))
    with pytest.raises(OutsideLimits):
        CODES.least("12")
