"""Where the main bonding jumper of a switch that is the service disconnect hangs when the set feeds."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.site.read import read_site
from checker.values.possible import Possible, exactly, one_of
from tests.one_line.sheet import CATALOG, view

_SYSTEM = "120/240 V 1-phase 3-wire"
_HOUSE = """site: {{other_sources: none}}
interlocks: {{complete: yes, list: []}}
equipment:
  UTIL: {{kind: utility_supply, system: {system}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1, neutral: {neutral}, role: {role}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
  GEN1: {{kind: generator, system: {system}}}
runs:
  UTIL>ATS1.normal: {{neutral_conductor: 4/0 AWG aluminum}}
  GEN1>ATS1.alternate: {{neutral_conductor: 6 AWG copper}}
  ATS1>P1: {{neutral_conductor: 4/0 AWG aluminum}}
bonds: {{complete: {complete}, list: [{of_the_set}{bonds}]}}
"""
_JUMPER = "{bond: main_bonding_jumper, at: ATS1, bond_status: new}"
_TIE = "{bond: neutral_to_enclosure, at: ATS1, bond_status: existing}"
_IN_THE_SET = "{bond: system_bonding_jumper, at: GEN1, bond_status: new}, "
_SWITCHED = {
    "neutral": "switched",
    "role": "service_disconnect",
    "complete": "yes",
    "bonds": _JUMPER,
    "of_the_set": _IN_THE_SET,
}


def of_the_set(folder: Path, fact: str, but: dict[str, str]) -> Possible:
    file = folder / "site.yaml"
    file.write_text(_HOUSE.format(**{"system": _SYSTEM, **_SWITCHED, **but}), encoding="utf-8")
    seen = view(read_site(file, CATALOG))
    return seen.read(seen.ground.drawing.pieces["GEN1"], fact)


def places(folder: Path, **but: str) -> tuple[int, int]:
    """The least and the most places at which the neutral of the set is bonded while it feeds."""
    hull = of_the_set(folder, "bonds_on_neutral", but).hull
    assert hull is not None
    assert hull.low is not None
    assert hull.high is not None
    return int(hull.low), int(hull.high)


def test_where_the_neutral_is_opened_the_jumper_stays_with_the_utility(tmp_path: Path) -> None:
    """NFPA 70 250.24 and 250.28: it joins the neutral of the service; 250.30: the set has a bond of its own."""
    assert places(tmp_path) == (1, 1)


@pytest.mark.parametrize(
    ("but", "wanted"),
    [
        ({"neutral": "solid"}, (2, 2)),
        ({"bonds": _TIE}, (2, 2)),
        ({"bonds": f"{_JUMPER}, {_TIE}"}, (2, 2)),
        ({"role": "unknown"}, (1, 2)),
        ({"complete": "no"}, (1, 3)),
        ({"bonds": _JUMPER.replace("main_bonding_jumper", "unknown")}, (1, 2)),
        ({"bonds": f"{_JUMPER}, {_TIE.replace('existing', 'unknown')}"}, (1, 2)),
        ({"bonds": f"{_JUMPER}, {_TIE.replace('existing', 'to_be_removed')}"}, (1, 1)),
        ({"bonds": _TIE.replace("existing", "to_be_removed")}, (1, 1)),
    ],
)
def test_any_other_bond_is_at_the_bar_of_the_load(but: dict[str, str], wanted: tuple[int, int], tmp_path: Path) -> None:
    assert places(tmp_path, **but) == wanted


@pytest.mark.parametrize(
    ("but", "wanted"),
    [
        ({}, exactly(True)),
        ({"of_the_set": ""}, exactly(False)),
        ({"of_the_set": "", "neutral": "solid"}, exactly(True)),
        ({"of_the_set": "", "neutral": "unknown"}, one_of((True, False))),
        ({"of_the_set": "", "bonds": _TIE.replace("ATS1", "P1")}, exactly(False)),
        ({"of_the_set": "", "bonds": _TIE.replace("ATS1", "P1"), "neutral": "solid"}, exactly(True)),
        ({"of_the_set": "", "complete": "no"}, one_of((True, False))),
    ],
)
def test_a_bond_past_a_switch_is_none_of_the_set(but: dict[str, str], wanted: Possible, tmp_path: Path) -> None:
    assert of_the_set(tmp_path, "bonded_ahead_of_its_switches", but) == wanted
