"""Both sources while both are closed onto one fault: the sum stands against the ratings, in that state.

By hand: 10 kA of the utility and 2.4 kA of the set are at most 12.4 kA; as vectors they are less, and no less than
10 kA. Invented places.
"""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.facts.view import View
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import number
from checker.values.relations import relate
from checker.values.truth import Truth
from tests.facts.set_sites import site_view

SHOP = """
site: {{name: Reed Shop, stage: plan_review, other_sources: none, motor_fault_current: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire, available_fault_current: {utility}}}
  GEN1: {{kind: generator, system: 480Y/277 V 3-phase 4-wire, greatest_fault_current: {set}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, transition: {transition}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
interlocks: {{complete: yes, list: []}}
"""


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def seen(folder: Path, library: Library, transition: str, utility: str = "10 kA", set_: str = "2.4 kA") -> View:
    return site_view(folder, library, SHOP.format(transition=transition, utility=utility, set=set_))


@pytest.mark.parametrize(("transition", "most"), [("open", 10_000), ("closed", 12_400), ("unknown", 12_400)])
@pytest.mark.parametrize("tag", ["ATS1", "P1"])
def test_a_closed_transition_adds_the_set(
    transition: str, most: int, tag: str, tmp_path: Path, library: Library
) -> None:
    view = seen(tmp_path, library, transition)
    hull = view.read(view.ground.drawing.pieces[tag], "greatest_fault_current").hull
    assert hull is not None
    assert hull.high == most


def test_a_rating_for_the_utility_alone_is_not_taken_to_reach_the_sum(tmp_path: Path, library: Library) -> None:
    """11 kA reach 10 kA of the utility, and not for sure what both drive through a switch that closes both sides."""
    rating, switch = number(11_000), Subject("transfer_switch", "ATS1")
    apart = seen(tmp_path, library, "open").read(switch, "greatest_fault_current")
    assert relate("at_least", rating, apart) is Truth.YES
    view = seen(tmp_path, library, "closed")
    assert relate("at_least", rating, view.read(switch, "greatest_fault_current")) is Truth.UNKNOWN
    assert view.read(switch, "fault_sources_together").atom is True
    assert view.known(switch, "greatest_fault_current").state == "GEN1, UTIL at once"


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=25)
@given(
    utility=st.integers(1000, 60_000),
    set_=st.integers(500, 20_000),
    ratios=st.tuples(st.floats(0, 50), st.floats(0, 50)),
)
def test_the_sum_of_both_as_vectors_is_never_more(
    utility: int, set_: int, ratios: tuple[float, float], tmp_path: Path, library: Library
) -> None:
    """Two currents of any angles from nothing to a right angle behind, added as complex numbers."""
    view = seen(tmp_path, library, "closed", f"{utility} A", f"{set_} A")
    hull = view.read(Subject("transfer_switch", "ATS1"), "greatest_fault_current").hull
    assert hull is not None
    assert hull.high is not None
    both = abs(cmath.rect(utility, -math.atan(ratios[0])) + cmath.rect(set_, -math.atan(ratios[1])))
    assert float(hull.low or 0) <= both * (1 + 1e-9)
    assert both <= float(hull.high) * (1 + 1e-9)
