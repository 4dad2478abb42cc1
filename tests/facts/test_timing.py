"""How long the load of a transfer switch waits for the set."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.set_sites import ends, site_view

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 480Y/277 V 3-phase 4-wire}}
  GEN1: {{kind: generator, time_to_ready: {ready}}}
  INV1: {{kind: inverter}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: {alternate},
         sensing_delay: {sensing}, transfer_delay: {transfer}{more}}}
"""
BASE = {"ready": "7 s", "alternate": "GEN1", "sensing": "1 s", "transfer": "0.5 s", "more": ""}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def time(folder: Path, library: Library, **but: str) -> Possible:
    view = site_view(folder, library, SITE.format(**{**BASE, **but}))
    return view.read(view.ground.drawing.pieces["ATS1"], "time_to_load")


@pytest.mark.parametrize(
    ("but", "low", "high"),
    [
        ({}, "8.5", "8.5"),
        ({"ready": "6 s to 9 s"}, "7.5", "10.5"),
        ({"ready": "at most 9 s"}, "1.5", "10.5"),
        ({"sensing": "unknown"}, "7.5", None),
        ({"more": ", time_to_load: 8 s"}, "8", "8"),
        ({"more": ", time_to_load: 20 s"}, "8.5", "20"),
        ({"more": ", last_load_delay: 4 s"}, "8.5", "8.5"),
        ({"more": ", loads_in_steps: yes, last_load_delay: 4 s"}, "12.5", "12.5"),
        ({"more": ", loads_in_steps: yes, last_load_delay: 2 s to 4 s"}, "10.5", "12.5"),
        ({"more": ", loads_in_steps: yes"}, "8.5", None),
        ({"more": ", loads_in_steps: yes or no, last_load_delay: 4 s"}, "8.5", "12.5"),
    ],
)
def test_the_time_is_the_sum_of_the_steps(
    but: dict[str, str], low: str, high: str | None, tmp_path: Path, library: Library
) -> None:
    """1 s of sensing, 7 s until the set is ready and 0.5 s of transfer: 8.5 s, by hand. A test that says much more
    leaves both open. Where the loads come on in steps, that of the last load 4 s after the transfer, it is 12.5 s.
    """
    found = time(tmp_path, library, **but)
    assert ends(found, 1) == (Fraction(low), None if high is None else Fraction(high))


def test_a_stored_supply_or_another_source_has_to_state_its_time(tmp_path: Path, library: Library) -> None:
    assert time(tmp_path, library, more=", carried_meanwhile: yes").undefined
    assert time(tmp_path, library, alternate="INV1").undefined
