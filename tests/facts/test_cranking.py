"""The starting battery: length of the cranking cycle, the charge that it takes, the charger that puts it back."""

from __future__ import annotations

from fractions import Fraction

import pytest

from tests.facts.set_sites import ends
from tests.published import small_sites

SITE = """
site: {{name: Sedge Hall, stage: acceptance, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  GEN1: {{kind: generator, start_battery: {battery}, battery_charger: {charger}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
"""
BATTERY = "{cranks: 3, crank: 15 s, rest: 15 s, cycles: 2, current: 600 A, capacity: 200 Ah}"


def site(battery: str = BATTERY, charger: str = "{standing_load: 1 A}") -> str:
    return SITE.format(battery=battery, charger=charger)


@pytest.mark.parametrize(
    ("battery", "low", "high"),
    [
        (BATTERY, "75", "75"),
        ("{cranks: 1, crank: 45 s, rest: none}", "45", "45"),
        ("{cranks: 3, crank: 10 s to 15 s, rest: 15 s}", "60", "75"),
        ("{cranks: at least 3, crank: 15 s, rest: 15 s}", "75", None),
        ("{cranks: 3, crank: 15 s}", "45", None),
    ],
)
def test_length_of_the_cycle(battery: str, low: str, high: str | None) -> None:
    """Three cranks of 15 s with two rests of 15 s between them: 75 s, by hand."""
    found = small_sites.fact(site(battery), "GEN1", "cranking_cycle")
    assert ends(found) == (Fraction(low), None if high is None else Fraction(high))


def test_charge_of_two_cycles() -> None:
    """600 A x 15 s x 3 x 2 / 3600 = 15 Ah, by hand."""
    assert small_sites.fact(site(), "GEN1", "cranking_charge").number == 15
    some = BATTERY.replace("600 A", "400 A to 600 A")
    assert ends(small_sites.fact(site(some), "GEN1", "cranking_charge")) == (Fraction(10), Fraction(15))


def test_output_of_the_charger() -> None:
    """200 Ah x 1.1 / 24 h + 1 A = 10.17 A, by hand; without a standing load 9.17 A."""
    in_force = small_sites.numbers("NFPA 110", "2022")

    def wanted(charger: str) -> tuple[Fraction | None, Fraction | None]:
        return ends(small_sites.fact(site(charger=charger), "GEN1", "charger_output_wanted", in_force))

    assert wanted("{standing_load: 1 A}") == (Fraction("10.17"), Fraction("10.17"))
    assert wanted("{standing_load: none}") == (Fraction("9.17"), Fraction("9.17"))
    assert wanted("{output: 10 A}") == (Fraction("9.17"), None)


def test_without_a_battery_or_the_standard_there_is_no_figure() -> None:
    in_force = small_sites.numbers("NFPA 110", "2022")
    for name in ("cranking_cycle", "cranking_charge", "charger_output_wanted"):
        assert "not start from a battery" in small_sites.fact(site("none"), "GEN1", name, in_force).undefined[0]
    assert "No document in force" in small_sites.fact(site(), "GEN1", "charger_output_wanted").undefined[0]
