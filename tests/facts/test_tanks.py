"""Tanks: the vapor that one gives, what is asked of it, how long its fuel lasts."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.tasks.gathering.library import Library
from tests.facts.gas_sites import Facts, Site, ends, read

TANK = (
    "  TANK1: {{kind: fuel_tank, of: GEN1, tank_diameter: {diameter} in, tank_length: 192 in, least_fill: {fill}, "
    "tank_buried: {buried}}}\n"
)
PROPANE = "fuel: propane, full_load_heat: {propane: 300 kBTU/h}"
HOUR = 3600


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


@pytest.fixture
def site(tmp_path: Path, library: Library) -> Site:
    return lambda **but: read(tmp_path, library, but)


def tank(diameter: str = "41", fill: str = "30 %", buried: str = "no") -> str:
    return TANK.format(diameter=diameter, fill=fill, buried=buried)


def test_a_thousand_gallon_tank_on_a_cold_day(site: Site) -> None:
    """A heater manual prints 276 500 BTU/h for 1000 gal at 30 % and -10 °F; the trade rule gives 275 520."""
    facts = site(of_set=PROPANE, more=tank(), of_site=", coldest_day: -10 F", pipes="", all_pipes="no")
    assert ends(facts.of("TANK1", "vapor_rate")) == (275520, 275520)
    assert ends(facts.of("TANK1", "vapor_rate"))[0] == pytest.approx(276_500, rel=0.005)
    assert ends(facts.of("TANK1", "heat_demand"), 1000) == (300, None)
    assert facts.of("TANK1", "fuel").atom == "propane"


def test_what_is_open_at_the_tank_gives_bounds(site: Site) -> None:
    facts = site(of_set=PROPANE, more=tank(fill="20 % to 40 %"), of_site=", coldest_day: -10 F")
    assert ends(facts.of("TANK1", "vapor_rate")) == (41 * 192 * 30, 41 * 192 * 40)
    assert ends(site(of_set=PROPANE, more=tank()).of("TANK1", "vapor_rate")) == (0, None)
    assert ends(site(more=tank(buried="unknown"), of_site=", coldest_day: 20 F").of("TANK1", "vapor_rate")) == (0, None)


def test_what_would_give_enough(site: Site) -> None:
    """41 in x 192 in x 70 x 0.5 = 275 520 BTU/h at 30 % and -10 °F. Of 300 kBTU/h that is 108.9 %, so 109 % of its size
    or two tanks; at 40 %, 80 x 41 x 192 / 2 = 314 880 BTU/h, one does. Of 400 kBTU/h no fill does: 393 600 at 60 %.
    """

    def facts(heat: int, more: str = "") -> Facts:
        given = tank().replace("tank_buried: no", f"tank_buried: no{more}")
        burns = f"fuel: propane, full_load_heat: {{propane: {heat} kBTU/h}}"
        pipes = "{starts_at: TANK1, ends_at: GEN1, pipe_length: 10 ft, fittings_length: none}"
        return site(of_set=burns, more=given, of_site=", coldest_day: -10 F", pipes=pipes)

    assert facts(300).of("TANK1", "tank_size_wanted").number == Fraction(109, 100)
    assert facts(300).of("TANK1", "tanks_that_give_enough").number == 2
    assert facts(300).of("TANK1", "fill_that_gives_enough").number == Fraction(40, 100)
    assert facts(400).of("TANK1", "fill_that_gives_enough").only_absent
    two = facts(400, ", tanks_joined: 2")
    assert ends(two.of("TANK1", "vapor_rate")) == (2 * 275520, 2 * 275520)
    assert two.of("TANK1", "fill_that_gives_enough").number == Fraction(20, 100)
    assert facts(1000, ", tanks_joined: 2").of("TANK1", "tanks_that_give_enough").number == 4


def test_what_is_open_leaves_the_cures_open(site: Site) -> None:
    def facts(fill: str, diameter: str) -> Facts:
        given = tank(fill=fill).replace("41 in", diameter)
        pipes = "{starts_at: TANK1, ends_at: GEN1, pipe_length: 10 ft, fittings_length: none}"
        return site(of_set=PROPANE, more=given, of_site=", coldest_day: -10 F", pipes=pipes)

    is_open = facts("20 % to 40 %", "30 in to 41 in")
    for fill, diameter in (("20 %", "30 in"), ("40 %", "41 in"), ("30 %", "35 in")):
        for name in ("tank_size_wanted", "tanks_that_give_enough", "fill_that_gives_enough"):
            assert is_open.of("TANK1", name).covers(facts(fill, diameter).of("TANK1", name)), name


def test_outside_the_trade_rule_there_is_no_figure(site: Site) -> None:
    buried = site(of_set=PROPANE, more=tank(buried="yes"), of_site=", coldest_day: 20 F")
    assert "warmth of the ground" in buried.of("TANK1", "vapor_rate").undefined[0]
    frost = site(of_set=PROPANE, more=tank(), of_site=", coldest_day: -30 F")
    assert "no line" in frost.of("TANK1", "vapor_rate").undefined[0]


def test_what_hangs_on_a_tank_is_what_hangs_on_its_line(site: Site) -> None:
    pipes = (
        "{starts_at: TANK1, ends_at: tee, pipe_length: 10 ft, fittings_length: none}, "
        "{starts_at: tee, ends_at: GEN1, pipe_length: 10 ft, fittings_length: none}, "
        "{starts_at: tee, ends_at: range, pipe_length: 10 ft, fittings_length: none}"
    )
    facts = site(of_set=PROPANE, more=tank(), pipes=pipes, appliances="{name: range, appliance_heat: 60 kBTU/h}")
    assert ends(facts.of("TANK1", "heat_demand"), 1000) == (360, 360)


@pytest.mark.parametrize(
    ("of_set", "gallons", "hours"),
    [
        ("fuel: diesel, full_load_fuel: 1.6 gal/h", "80 gal", 50),
        # 91 500 BTU/gal: the trade figure for propane.
        ("fuel: propane, full_load_heat: {propane: 305 kBTU/h}", "100 gal", 30),
    ],
)
def test_hours_at_full_load(of_set: str, gallons: str, hours: int, site: Site) -> None:
    more = f"  TANK1: {{kind: fuel_tank, of: GEN1, usable_fuel: {gallons}}}\n"
    assert ends(site(of_set=of_set, more=more).of("TANK1", "running_time"), HOUR) == (hours, hours)


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(fill=st.integers(10, 60), diameter=st.integers(20, 90), cold=st.integers(-15, 30), by=st.integers(0, 20))
def test_a_colder_day_or_an_emptier_tank_never_gives_more(
    site: Site, fill: int, diameter: int, cold: int, by: int
) -> None:
    def vapor(fill: int, cold: int) -> Fraction:
        facts = site(
            of_set=PROPANE, more=tank(diameter=str(diameter), fill=f"{fill} %"), of_site=f", coldest_day: {cold} F"
        )
        found = facts.of("TANK1", "vapor_rate").number
        assert found is not None
        return found

    assert vapor(max(fill - by, 10), max(cold - by, -15)) <= vapor(fill, cold)


def test_fuel_for_the_class_is_rate_times_time_and_only_of_a_set_that_has_one(site: Site) -> None:
    """16 gal/h for 2 h are 32 gal; a third more is the main tank (NFPA 110, 5.5.3), which is the rule's to say."""
    more = "  TANK1: {kind: fuel_tank, of: GEN1, usable_fuel: 40 gal}\n"
    of_set = "fuel: diesel, full_load_fuel: 16 gal/h, classes: [emergency], class_hours: 2 h"
    facts = site(of_set=of_set, more=more)
    assert ends(facts.of("TANK1", "fuel_for_the_class")) == (32, 32)
    assert ends(facts.of("TANK1", "class_hours"), HOUR) == (2, 2)
    assert facts.of("TANK1", "classes").sets[0].surely == {"emergency"}
    optional = site(of_set="fuel: diesel, full_load_fuel: 16 gal/h, class_hours: none", more=more)
    assert "no class is set" in optional.of("TANK1", "fuel_for_the_class").undefined[0]
