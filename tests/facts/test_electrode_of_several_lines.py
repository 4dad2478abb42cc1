"""The electrode conductor of a service or a set with several lines, between each alone and all together.

NFPA 70, Table 250.66 with its note 1: several sets of service conductors count by the sum of their areas; 250.64(D)
lets each disconnect have a conductor of its own. Rows of aluminum: 4/0 to 250 kcmil 4 AWG copper, over 250 to 500
kcmil 2 AWG copper; of copper: 2 AWG or smaller 8 AWG copper, over 350 to 600 kcmil 1/0 AWG copper.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.wire_sizes import SIZES
from tests.facts.reading import fact_of, view_under

SITE = """
site: {{name: Fern Double, occupancy: two_family_dwelling, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire, electrode_conductor: 1/0 AWG copper,
         electrode_conductor_to: other}}
  M1: {{kind: meter, fed_from: UTIL}}
  D1: {{kind: disconnect, fed_from: M1, role: service_disconnect}}
  D2: {{kind: disconnect, fed_from: M1, role: service_disconnect}}
  PA: {{kind: panelboard, fed_from: D1}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, electrode_conductor: 6 AWG copper,
         electrode_conductor_to: other}}
  T1: {{kind: transfer_switch, normal: D1, alternate: GEN1/1}}
  T2: {{kind: transfer_switch, normal: D2, alternate: GEN1/2}}
runs:
  UTIL>M1: {{{ahead}}}
  M1>D1: {{phase: {first}}}
  M1>D2: {{phase: {second}}}
  GEN1/1>T1.alternate: {{phase: 6 AWG copper}}
  GEN1/2>T2.alternate: {{phase: 8 AWG copper}}
"""
OF_THE_UTILITY = "of_the_utility: yes"
TWO_LINES = [
    # 2 x 211,600 = 423,200 circular mils of aluminum.
    pytest.param("4/0 AWG aluminum", "4/0 AWG aluminum", OF_THE_UTILITY, ("4 AWG", "2 AWG"), id="alike"),
    pytest.param("4/0 AWG aluminum", "1/0 AWG aluminum", OF_THE_UTILITY, ("8 AWG", "2 AWG"), id="the smaller alone"),
    # As if all 423,200 were of copper.
    pytest.param("4/0 AWG aluminum", "4/0 AWG copper", OF_THE_UTILITY, ("4 AWG", "1/0 AWG"), id="two metals"),
    pytest.param("4/0 AWG aluminum", "unknown", OF_THE_UTILITY, ("8 AWG", None), id="one not shown"),
    pytest.param("4/0 AWG aluminum", "4/0 AWG aluminum", "", ("4 AWG", None), id="what feeds both not shown"),
    # 750 kcmil aluminum, over 500 to 900 kcmil.
    pytest.param("4/0 AWG aluminum", "4/0 AWG aluminum", "phase: 750 kcmil aluminum", ("4 AWG", "1/0 AWG"), id="ahead"),
]


@pytest.mark.parametrize(("first", "second", "ahead", "wanted"), TWO_LINES)
def test_two_service_disconnects(
    first: str, second: str, ahead: str, wanted: tuple[str, str | None], tmp_path: Path, library: Library
) -> None:
    view = view_under("nec-2023", SITE.format(first=first, second=second, ahead=ahead), tmp_path, library)
    hull = fact_of(view, "UTIL", "electrode_conductor_wanted").hull
    assert hull is not None
    low, high = (None if each is None else SIZES[each].circular_mils for each in wanted)
    assert (hull.low, hull.high) == (low, high)


def test_two_lines_from_a_set(tmp_path: Path, library: Library) -> None:
    """26,240 + 16,510 circular mils together are still below 2 AWG copper."""
    text = SITE.format(first="4/0 AWG copper", second="4/0 AWG copper", ahead=OF_THE_UTILITY)
    found = fact_of(view_under("nec-2023", text, tmp_path, library), "GEN1", "electrode_conductor_wanted")
    assert found.number == SIZES["8 AWG"].circular_mils
