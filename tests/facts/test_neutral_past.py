"""Whether what a transfer switch feeds needs a neutral: by load, by the line past it, and not past a transformer."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.facts.line.roles import flag
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.truth import Truth
from tests.facts.set_sites import site_view

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  GEN1: {{kind: generator}}
  P1: {{kind: panelboard, fed_from: UTIL}}
  ATS1: {{kind: transfer_switch, normal: P1/1, alternate: GEN1/1, neutral: not_carried}}
  P2: {{kind: panelboard, fed_from: ATS1}}
  T1: {{kind: transformer, fed_from: P2/1}}
  P3: {{kind: panelboard, fed_from: T1}}
runs:
  ATS1>P2: {{neutral_conductor: {neutral}}}
loads:
  complete: {complete}
  list: [{{name: pump, load_kind: {kind}, connected_to: {legs}, has_neutral: {has}{at}}}]
"""
BASE = {"neutral": "none", "complete": "yes", "kind": "appliance", "legs": "AB", "has": "no", "at": ", at: P2"}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


@pytest.mark.parametrize(
    ("but", "needed"),
    [
        ({}, Truth.NO),
        ({"has": "yes"}, Truth.YES),
        ({"legs": "A"}, Truth.YES),
        ({"legs": "unknown"}, Truth.UNKNOWN),
        ({"has": "unknown"}, Truth.UNKNOWN),
        ({"kind": "circuit"}, Truth.YES),
        ({"neutral": "6 AWG copper"}, Truth.YES),
        ({"neutral": "unknown"}, Truth.UNKNOWN),
        ({"complete": "no"}, Truth.UNKNOWN),
        ({"complete": "no", "legs": "B"}, Truth.YES),
        ({"legs": "A", "at": ", at: P3"}, Truth.NO),
        ({"legs": "A", "at": ", at: P1"}, Truth.NO),
        ({"legs": "A", "at": ", at: ATS1"}, Truth.YES),
    ],
)
def test_a_load_or_a_line_past_the_switch_needs_its_neutral(
    but: dict[str, str], needed: Truth, tmp_path: Path, library: Library
) -> None:
    text = SITE.format(**{**BASE, **but})
    view = site_view(tmp_path, library, text)
    assert view.read(Subject("transfer_switch", "ATS1"), "neutral_needed_past") == flag(needed)
