"""Single-phase loads on a three-phase set."""

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
  UTIL: {{kind: utility_supply, system: 208Y/120 V 3-phase 4-wire}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1}}
  GEN1: {{kind: generator, system: {system}}}
  P1: {{kind: panelboard, fed_from: ATS1}}
loads:
  complete: {complete}
  list:
    - {{name: rooftop unit, at: P1, load_power: 20 kVA, kept_off: none, connected_to: three_phase}}
    - {{name: office, at: P1, load_power: 6 kVA, kept_off: {kept_off}, connected_to: {connected}}}
"""
BASE = {"system": "208Y/120 V 3-phase 4-wire", "complete": "yes", "connected": "A", "kept_off": "none"}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def value(folder: Path, library: Library, fact: str, **but: str) -> Possible:
    view = site_view(folder, library, SITE.format(**{**BASE, **but}))
    return view.read(view.ground.drawing.pieces["GEN1"], fact)


@pytest.mark.parametrize(
    ("but", "low", "high"),
    [
        ({}, "105.5", "105.5"),
        ({"connected": "AB"}, "81.8", "81.8"),
        ({"kept_off": "while_the_set_runs"}, "55.5", "55.5"),
        # What keeps a load off has to be said.
        ({"kept_off": "unknown"}, "105.5", "105.5"),
        ({"connected": "unknown"}, "55.5", "105.5"),
        ({"complete": "no"}, "105.5", None),
    ],
)
def test_the_phase_that_carries_most(
    but: dict[str, str], low: str, high: str | None, tmp_path: Path, library: Library
) -> None:
    """20 kVA on three phases of 208 V are 55.51 A; 6 kVA to neutral 49.96 A more; between two phases 28.85 A at 30
    degrees: sqrt(80.49^2 + 14.42^2) = 81.77 A. By hand.
    """
    found = value(tmp_path, library, "greatest_phase_current", **but)
    assert ends(found, 1) == (Fraction(low), None if high is None else Fraction(high))


def test_the_imbalance(tmp_path: Path, library: Library) -> None:
    """105.47, 55.51 and 55.51 A: the mean is 72.17 A, and the first lies 46.2 % above it. By hand."""
    assert ends(value(tmp_path, library, "phase_imbalance"), 3) == (Fraction("0.462"), Fraction("0.462"))
    assert ends(value(tmp_path, library, "phase_imbalance", connected="unknown")) == (Fraction(0), Fraction(2))


def test_a_single_phase_set_has_none(tmp_path: Path, library: Library) -> None:
    assert value(tmp_path, library, "greatest_phase_current", system="120/240 V 1-phase 3-wire").undefined
