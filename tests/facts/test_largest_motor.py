"""The share of the largest motor, and that nobody is asked about an appliance that cannot be it."""

from __future__ import annotations

from fractions import Fraction
from itertools import product
from pathlib import Path

import pytest

from checker.facts.view import View
from checker.tasks.gathering.library import Library
from tests.facts.reading import view_under

HOUSE = """
site: {{name: Fern House, occupancy: one_family_dwelling, other_sources: none, load_method: connected}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, operation: automatic, rated_current: 100 A}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire}}
  P1: {{kind: panelboard, fed_from: ATS1}}
  P2: {{kind: panelboard, fed_from: UTIL}}
loads:
  complete: yes
  list:
    - {{name: air conditioner, load_kind: cooling, load_power: 3600 VA, at: P1}}
    - {{name: pump, load_kind: appliance, load_power: 7200 VA, motor_driven: {0}, at: P1}}
    - {{name: oven, load_kind: appliance, load_power: 4800 VA, motor_driven: {1}, at: P1}}
    - {{name: fan, load_kind: appliance, load_power: 2400 VA, motor_driven: {2}, at: P1}}
"""
COOLING, APPLIANCES = 3600, (7200, 4800, 2400)
ALL = COOLING + sum(APPLIANCES)


def house(folder: Path, library: Library, motors: tuple[str, ...]) -> View:
    return view_under("nec-2020", HOUSE.format(*motors), folder, library)


def asked(view: View) -> set[str]:
    """The loads of which it is asked whether a motor drives them."""
    load = view.known(view.ground.drawing.pieces["GEN1"], "automatic_load")
    return {str(leaf.subject) for leaf in load.leaves if leaf.name == "motor_driven"}


@pytest.mark.parametrize("motors", list(product(("yes", "no", "unknown"), repeat=3)), ids=str)
def test_a_quarter_of_the_largest_motor_comes_on_top(motors: tuple[str, ...], tmp_path: Path, library: Library) -> None:
    """By hand, over every motor that there surely is, and over every one that there may be (220.50, 430.24)."""
    view = house(tmp_path, library, motors)
    hull = view.read(view.ground.drawing.pieces["GEN1"], "automatic_load").hull
    assert hull is not None
    assert hull.low is not None
    assert hull.high is not None

    def with_motors(*said: str) -> Fraction:
        driven = [power for power, motor in zip(APPLIANCES, motors, strict=True) if motor in said]
        return Fraction(ALL) + Fraction(max(COOLING, *driven, 0), 4)

    assert round(hull.low * 240, 3) == with_motors("yes")
    assert round(hull.high * 240, 3) == with_motors("yes", "unknown")


@pytest.mark.parametrize(
    ("motors", "loads"),
    [
        (("unknown", "unknown", "unknown"), {"load 2", "load 3"}),
        (("yes", "unknown", "unknown"), {"load 2"}),
        (("no", "unknown", "unknown"), {"load 2", "load 3"}),
    ],
)
def test_nobody_is_asked_about_what_cannot_be_the_largest(
    motors: tuple[str, ...], loads: set[str], tmp_path: Path, library: Library
) -> None:
    assert asked(house(tmp_path, library, motors)) == loads
