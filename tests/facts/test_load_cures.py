"""What would bring the load of a set down to what it gives: worked by hand on the house of the managed load."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.reading import fact_of
from tests.facts.test_managed_load import EVERYTHING, WITHOUT_COOLING, WITHOUT_RANGE, ends, house

CURES = (
    "load_always_on",
    "load_without_one",
    "load_to_lock_out",
    "load_always_on_without_one",
    "load_to_lock_out_too",
)
WITHOUT_BOTH = Fraction("54.06")
"""(10 000 + 0.4 x (5850 + 4500 + 7086 - 10 000)) / 240: of what is kept off nothing is left."""


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def of_the_set(folder: Path, library: Library, name: str, **but: str) -> Possible:
    return fact_of(house(folder, library, **but), "GEN1", name)


@pytest.mark.parametrize(
    ("but", "least", "most"),
    [
        pytest.param({}, WITHOUT_RANGE, WITHOUT_RANGE, id="the range is managed"),
        pytest.param({"set_point": "40 A"}, WITHOUT_RANGE, WITHOUT_RANGE, id="a set point changes nothing"),
        pytest.param({"kept_off": "none"}, EVERYTHING, EVERYTHING, id="nothing is kept off"),
        pytest.param({"cooling": "until_it_fits"}, WITHOUT_BOTH, WITHOUT_BOTH, id="both are managed"),
        pytest.param({"kept_off": "until_it_fits or none"}, WITHOUT_RANGE, EVERYTHING, id="open for the range"),
    ],
)
def test_what_nothing_keeps_off(
    but: dict[str, str], least: Fraction, most: Fraction, tmp_path: Path, library: Library
) -> None:
    assert ends(of_the_set(tmp_path, library, "load_always_on", **but)) == (least, most)


def test_the_load_that_leaves_least_is_told(tmp_path: Path, library: Library) -> None:
    """89.06 A in all: less the range 0.4 x 12 000 / 240 = 20 A, less the cooling 3600 / 240 = 15 A, less the kitchen
    0.4 x 7086 / 240 = 11.8 A.
    """
    assert ends(of_the_set(tmp_path, library, "load_without_one")) == (WITHOUT_RANGE, WITHOUT_RANGE)
    assert of_the_set(tmp_path, library, "load_to_lock_out").atom == "range"


def test_what_is_kept_off_already_is_locked_out_no_second_time(tmp_path: Path, library: Library) -> None:
    kept_off = {"kept_off": "while_the_set_runs"}
    assert ends(of_the_set(tmp_path, library, "load_without_one", **kept_off)) == (WITHOUT_COOLING, WITHOUT_COOLING)
    assert of_the_set(tmp_path, library, "load_to_lock_out", **kept_off).atom == "air conditioner"


def test_an_open_load_leaves_open_which_it_is(tmp_path: Path, library: Library) -> None:
    is_open = {"kept_off": "while_the_set_runs or none"}
    found = of_the_set(tmp_path, library, "load_without_one", **is_open)
    assert ends(found) == (WITHOUT_COOLING, WITHOUT_RANGE)
    named = of_the_set(tmp_path, library, "load_to_lock_out", **is_open)
    for each in ({"kept_off": "while_the_set_runs"}, {"kept_off": "none"}):
        assert found.covers(of_the_set(tmp_path, library, "load_without_one", **each))
        assert named.covers(of_the_set(tmp_path, library, "load_to_lock_out", **each))


@pytest.mark.parametrize(
    ("but", "left", "named"),
    [
        pytest.param({}, WITHOUT_BOTH, "air conditioner", id="the range is managed"),
        pytest.param({"kept_off": "none"}, WITHOUT_RANGE, "range", id="nothing is kept off"),
        pytest.param({"kept_off": "while_the_set_runs"}, WITHOUT_BOTH, "air conditioner", id="the range is locked out"),
    ],
)
def test_one_load_is_locked_out_beside_what_is_managed(
    but: dict[str, str], left: Fraction, named: str, tmp_path: Path, library: Library
) -> None:
    assert ends(of_the_set(tmp_path, library, "load_always_on_without_one", **but)) == (left, left)
    assert of_the_set(tmp_path, library, "load_to_lock_out_too", **but).atom == named


def test_a_load_that_may_be_managed_leaves_open_what_is_locked_out_beside_it(tmp_path: Path, library: Library) -> None:
    is_open = {"kept_off": "until_it_fits or none"}
    found = of_the_set(tmp_path, library, "load_always_on_without_one", **is_open)
    assert ends(found) == (WITHOUT_BOTH, WITHOUT_RANGE)
    named = of_the_set(tmp_path, library, "load_to_lock_out_too", **is_open)
    for each in ({"kept_off": "until_it_fits"}, {"kept_off": "none"}):
        assert found.covers(of_the_set(tmp_path, library, "load_always_on_without_one", **each))
        assert named.covers(of_the_set(tmp_path, library, "load_to_lock_out_too", **each))


def test_a_record_of_demand_tells_nothing_of_it(tmp_path: Path, library: Library) -> None:
    for name in CURES:
        assert of_the_set(tmp_path, library, name, method="measured_demand").undefined
