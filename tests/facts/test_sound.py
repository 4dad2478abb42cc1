"""How loud a set is at the lot line: laws of the free field, walls, barriers, several sets."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.facts.known import Leaf
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, between
from tests.facts.set_sites import ends, site_view

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  GEN1: {{kind: generator, sound_level: {level}, sound_measured_at: {at}, walls_beside: {walls},
         barrier_takes: {barrier}}}
{more}distances: {{complete: {complete}, list: [{{of: GEN1, to: west line, to_kind: {kind}, distance: {distance}}}]}}
"""
BASE = {
    "level": "67 dBA",
    "at": "seven_metres",
    "walls": "free_field",
    "barrier": "none",
    "more": "",
    "complete": "yes",
    "kind": "lot_line",
    "distance": "14 m",
}
SECOND = "  GEN2: {kind: generator, sound_level: 61 dBA, sound_measured_at: lot_line}\n"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def level(folder: Path, library: Library, **but: str) -> Possible:
    view = site_view(folder, library, SITE.format(**{**BASE, **but}))
    return view.read(view.ground.drawing.pieces["GEN1"], "sound_at_lot_line")


@pytest.mark.parametrize(
    ("but", "low", "high"),
    [
        ({}, "61.0", "61.0"),
        ({"distance": "70 m"}, "47.0", "47.0"),
        ({"walls": "wall"}, "64.0", "64.0"),
        ({"walls": "corner"}, "67.0", "67.0"),
        ({"walls": "unknown"}, "61.0", "67.0"),
        ({"barrier": "8 dB"}, "53.0", "53.0"),
        ({"barrier": "unknown"}, None, "61.0"),
        ({"complete": "no"}, "61.0", None),
        ({"at": "lot_line"}, "67.0", "67.0"),
        ({"at": "lot_line or seven_metres"}, "61.0", "67.0"),
        ({"distance": "14 m to 70 m"}, "47.0", "61.0"),
        ({"more": SECOND}, "61.0", "64.0"),
    ],
)
def test_twice_the_distance_takes_six_decibels(
    but: dict[str, str], low: str | None, high: str | None, tmp_path: Path, library: Library
) -> None:
    """Twice 7 m takes 20 log10 2 = 6.02 dB, ten times 20 dB; two sets of 61 dBA are 3 dB louder than one. Laws of sound
    in the free field; 3 dB for a wall and 6 dB for a corner are twice and four times the energy.
    """
    found = level(tmp_path, library, **but)
    assert ends(found, 1) == (None if low is None else Fraction(low), None if high is None else Fraction(high))


def test_a_level_at_the_set_says_nothing_of_the_lot_line(tmp_path: Path, library: Library) -> None:
    found = level(tmp_path, library, at="at_the_set")
    assert found.undefined == ("a level at the set does not say how loud it is at the lot line",)


def test_the_distance_to_the_lot_line_can_be_written_at_the_set(tmp_path: Path, library: Library) -> None:
    """Twice 7 m takes 6.02 dB. Where nobody has measured to a lot line the one distance is asked, by its name."""
    text = SITE.format(**{**BASE, "kind": "wall", "complete": "no"})
    view = site_view(tmp_path, library, text)
    assert view.read(view.ground.drawing.pieces["GEN1"], "sound_at_lot_line").hull == between(None, None).hull
    leaves = view.known(view.ground.drawing.pieces["GEN1"], "sound_at_lot_line").leaves
    assert Leaf(view.ground.drawing.pieces["GEN1"], "set_to_lot_line") in leaves
    said = site_view(tmp_path, library, text.replace("kind: generator,", "kind: generator, set_to_lot_line: 14 m,"))
    assert ends(said.read(said.ground.drawing.pieces["GEN1"], "sound_at_lot_line"), 1) == (Fraction(61), Fraction(61))


def test_without_a_distance_to_the_lot_line_there_is_no_level(tmp_path: Path, library: Library) -> None:
    assert level(tmp_path, library, kind="wall").undefined == ("no distance from GEN1 to a lot line is listed",)
    assert level(tmp_path, library, kind="wall or lot_line").spans
