"""The power of a set at its site by the power adjustment of ISO 3046-1, and the ends of what is open."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.engineering.generator.power_adjustment import Exponents, Surroundings
from checker.facts.sets.adjusted_power import Conditions, Engine, power_adjusted, worked
from checker.tasks.gathering.library import Library
from checker.values.possible import ABSENT, Possible, between, number
from tests.facts.reading import fact_of
from tests.facts.set_sites import ends, site_view

F = Fraction
SITE = """
site: {{name: Sedge Mine, stage: plan_review, other_sources: none, altitude: {altitude}, hottest_day: {day}{more}}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, system: 480Y/277 V 3-phase 4-wire, fuel: diesel, rated_power: {{diesel: 500 kW}},
         power_factor: "0.8", site_power_by: {by}{set}}}
"""
BASE = {
    "altitude": "5000 ft",
    "day": "104 F",
    "more": "",
    "by": "diesel_turbocharged",
    "set": ", mechanical_efficiency: none",
}


def power(folder: Path, library: Library, **but: str) -> Possible:
    return fact_of(site_view(folder, library, SITE.format(**{**BASE, **but})), "GEN1", "power_at_site")


def kilowatts(value: Possible) -> tuple[float | None, float | None]:
    low, high = ends(value, 0)
    return (None if low is None else float(low) / 1000), (None if high is None else float(high) / 1000)


def by_hand(dry: float, warm: float, cooled: float, efficiency: float = 0.8) -> float:
    """500 kW x alpha from k, in floating point."""
    ratio = dry * warm * cooled
    return 500 * (ratio - 0.7 * (1 - ratio) * (1 / efficiency - 1))


PRESSURE = 84.307
"""kPa at 5,000 ft in the tables of the standard atmosphere of 1976."""
WARM = 298.15 / 313.15
STEAM, REFERENCE_STEAM = 7.384, 3.169
"""kPa of saturated steam at 40 °C and 25 °C, as steam tables print it."""


@pytest.mark.parametrize(
    ("but", "wanted"),
    [
        ({}, by_hand((PRESSURE / 100) ** 0.7, WARM**2, 1)),
        ({"set": ", mechanical_efficiency: 85 %"}, by_hand((PRESSURE / 100) ** 0.7, WARM**2, 1, 0.85)),
        (
            {"by": "diesel_charge_air_cooled", "set": ", mechanical_efficiency: none, charge_air_coolant: 140 F"},
            by_hand((PRESSURE / 100) ** 0.7, WARM**1.2, 298.15 / 333.15),
        ),
        (
            {"by": "diesel_naturally_aspirated", "more": ", humidity_then: 60 %"},
            by_hand((PRESSURE - 0.6 * STEAM) / (100 - 0.3 * REFERENCE_STEAM), WARM**0.75, 1),
        ),
    ],
)
def test_the_power_by_hand(but: dict[str, str], wanted: float, tmp_path: Path, library: Library) -> None:
    """Exponents as in the table of the pack; formula of ISO 3046-1. Steam and pressure from printed tables."""
    low, high = kilowatts(power(tmp_path, library, **but))
    assert low == high == pytest.approx(wanted, rel=5e-4)


def test_a_kind_site_gives_the_rating_and_no_more(tmp_path: Path, library: Library) -> None:
    assert kilowatts(power(tmp_path, library, altitude="0 ft", day="60 F")) == (500, 500)


def test_what_is_open_leaves_the_power_between_its_ends(tmp_path: Path, library: Library) -> None:
    """Of unknown humidity anything from dry to saturated air; without altitude or efficiency there is no lower end."""
    damp = {"by": "diesel_naturally_aspirated"}
    low, high = kilowatts(power(tmp_path, library, **damp))
    dry, wet = (by_hand((PRESSURE - share * STEAM) / (100 - 0.3 * REFERENCE_STEAM), WARM**0.75, 1) for share in (0, 1))
    assert low == pytest.approx(wet, rel=5e-4)
    assert high == pytest.approx(dry, rel=5e-4)
    assert kilowatts(power(tmp_path, library, altitude="unknown")) == (0, 500)
    low, _ = kilowatts(power(tmp_path, library, set=""))
    assert low == 0
    coolant = {"by": "diesel_charge_air_cooled"}
    assert kilowatts(power(tmp_path, library, **coolant))[0] == 0


def test_a_site_outside_of_the_formulas_is_told(tmp_path: Path, library: Library) -> None:
    found = power(tmp_path, library, day="130 F", by="diesel_naturally_aspirated", more=", humidity_then: 10 %")
    assert "122 °F" in found.undefined[0]


def test_where_the_engine_may_be_of_two_kinds_both_count(tmp_path: Path, library: Library) -> None:
    both = power(tmp_path, library, by="diesel_turbocharged or figures_of_the_maker")
    one = power(tmp_path, library)
    assert both.hull is not None
    assert one.number is not None
    assert any(span.holds(one.number) for span in both.spans)
    assert both.hull.high == 500_000


# --- bounds ----------------------------------------------------------------------------------------------------------

ENGINES = [
    Engine(Exponents(F(a), F(m), F(n), F(s), "table"), Surroundings(F(100), F(25), F("0.3"), F(25)))
    for a, m, n, s in (("1", "1", "0.75", "0"), ("0", "0.7", "2", "0"), ("0", "0.7", "1.2", "1"))
]


def blurred(low: int, high: int, scale: int = 1) -> st.SearchStrategy[tuple[Possible, Fraction]]:
    """What is possible for a number, and one number that it may be."""

    def of(given_: tuple[list[int], int, bool]) -> tuple[Possible, Fraction]:
        (first, middle, last), open_ends, exact = sorted(given_[0]), given_[1], given_[2]
        inside = F(middle, scale)
        if exact:
            return number(inside), inside
        return between(None if open_ends & 1 else F(first, scale), None if open_ends & 2 else F(last, scale)), inside

    end = st.integers(low, high)
    return st.tuples(st.lists(end, min_size=3, max_size=3), st.integers(0, 3), st.booleans()).map(of)


@settings(max_examples=200, deadline=None)
@given(
    st.sampled_from(ENGINES),
    blurred(8_000, 48_000),
    blurred(-8_000, 40_000),
    blurred(-45, 55),
    blurred(0, 100, 100),
    blurred(0, 90),
    blurred(30, 110, 100),
)
def test_whatever_is_open_the_power_lies_between_the_ends(
    engine: Engine,
    rating: tuple[Possible, Fraction],
    altitude: tuple[Possible, Fraction],
    temperature: tuple[Possible, Fraction],
    humidity: tuple[Possible, Fraction],
    coolant: tuple[Possible, Fraction],
    efficiency: tuple[Possible, Fraction],
) -> None:
    parts = (rating, altitude, temperature, humidity, coolant, efficiency)
    found = power_adjusted(Conditions(*(part[0] for part in parts)), engine, "")
    try:
        exact = worked(Conditions(*(number(part[1]) for part in parts)), engine, upper=True)
    except OutsideLimits:
        return
    assert exact is not None
    assert any(span.holds(exact.value * 1000) for span in found.spans)


def test_a_set_without_a_rating_has_no_power() -> None:
    known = Conditions(number(1), number(0), number(25), number(F("0.3")), number(25), number(F("0.8")))
    assert power_adjusted(replace(known, rating=ABSENT), ENGINES[0], "No rating.").undefined == ("No rating.",)
