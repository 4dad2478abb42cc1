"""The rating on the fuel that is used stays open until somebody writes it, whatever other rating is written."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.facts.known import Leaf
from checker.facts.view import View
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.tasks.questions.asked import asked_as
from checker.values.possible import ABSENT, number
from tests.facts.reading import fact_of
from tests.facts.set_sites import site_view

SITE = """
site: {{name: Sedge Mine, stage: plan_review, other_sources: none, altitude: 100 ft, hottest_day: 80 F}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire{set}, altitude_derating: none, heat_derating: none}}
"""
SET = Subject("generator", "GEN1")


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def view_of(folder: Path, library: Library, more: str) -> View:
    return site_view(folder, library, SITE.format(set=more))


def test_the_fuel_used_is_open_where_another_rating_is_written(tmp_path: Path, library: Library) -> None:
    view = view_of(tmp_path, library, ", fuel: propane, rated_power: {natural_gas: 20 kW}")
    open_one = fact_of(view, "GEN1", "rated_power.propane")
    assert not open_one.only_absent
    assert open_one.spans
    assert fact_of(view, "GEN1", "rated_power.diesel") == ABSENT
    at_site = view.known(SET, "power_at_site")
    assert not at_site.value.is_exact
    assert at_site.value.undefined == ("The rating on propane, the fuel used, is not shown.",)
    # The other rating may be the larger one, so the greatest is at least what is written.
    greatest = fact_of(view, "GEN1", "greatest_power")
    assert greatest.hull is not None
    assert greatest.hull.low == 20_000
    assert greatest.hull.high is None


def test_with_the_fuel_used_and_its_rating_written_nothing_is_open(tmp_path: Path, library: Library) -> None:
    view = view_of(tmp_path, library, ", fuel: natural_gas, rated_power: {natural_gas: 20 kW}")
    assert fact_of(view, "GEN1", "power_at_site") == number(20_000)
    assert fact_of(view, "GEN1", "greatest_power") == number(20_000)


def test_while_the_fuel_is_open_so_is_every_other_rating(tmp_path: Path, library: Library) -> None:
    view = view_of(tmp_path, library, ", rated_power: {natural_gas: 20 kW}")
    assert fact_of(view, "GEN1", "rated_power.natural_gas") == number(20_000)
    assert not fact_of(view, "GEN1", "rated_power.diesel").only_absent
    assert Leaf(SET, "fuel") in view.known(SET, "rated_power.diesel").leaves


def test_a_nameplate_that_is_known_to_give_nothing_says_so(tmp_path: Path, library: Library) -> None:
    view = view_of(tmp_path, library, ", fuel: propane, rated_power: {natural_gas: 20 kW, propane: none}")
    assert fact_of(view, "GEN1", "power_at_site").undefined == ("The nameplate gives no rating on propane.",)


@pytest.mark.parametrize(
    ("more", "asked"),
    [
        ("", "fuel"),
        (", rated_power: {natural_gas: 20 kW}", "fuel"),
        (", fuel: propane or diesel", "fuel"),
        (", fuel: propane", "rated_power.propane"),
    ],
)
def test_the_fuel_is_asked_first_and_then_the_rating_on_it(
    more: str, asked: str, tmp_path: Path, library: Library
) -> None:
    ground = view_of(tmp_path, library, more).ground
    assert asked_as(Leaf(SET, "rated_power.diesel"), ground.site, ground.catalog) == Leaf(SET, asked)
