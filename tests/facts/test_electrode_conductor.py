"""Whether the electrode conductor of a service ends rightly, by hand (250.24(A)(1), 250.64(D))."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import EITHER_FLAG, Possible, exactly
from tests.facts.reading import fact_of, view_under

TWO = """
site: {{name: Teal Cottage, stage: plan_review}}
equipment:
  UTIL: {{kind: utility_supply, electrode_conductor_ends_at: {end}, electrode_conductor_to_each: {each}}}
  M1: {{kind: meter, fed_from: UTIL}}
  M2: {{kind: meter, fed_from: {second_meter}}}
  D1: {{kind: disconnect, fed_from: M1, role: service_disconnect}}
  D2: {{kind: disconnect, fed_from: M2, role: {role}}}
  P1: {{kind: panelboard, fed_from: D1}}
pairs: {{D1~D2: {{shared_enclosure: {shared}}}}}
"""
YES, NO = exactly(True), exactly(False)
PLAIN = {"end": "D1", "each": "unknown", "second_meter": "UTIL", "role": "service_disconnect", "shared": "no"}


@pytest.mark.parametrize(
    ("but", "answer"),
    [
        ({}, EITHER_FLAG),
        ({"end": "M1"}, EITHER_FLAG),
        ({"end": "D1", "each": "no"}, NO),
        ({"end": "M1", "each": "no"}, NO),
        ({"end": "M1", "each": "yes"}, YES),
        ({"end": "D1", "each": "yes"}, YES),
        ({"end": "M1", "second_meter": "M1", "each": "no"}, YES),
        ({"end": "UTIL", "each": "no"}, YES),
        ({"end": "M1", "role": "none", "each": "no"}, YES),
        ({"end": "M1", "role": "unknown", "each": "no"}, EITHER_FLAG),
        ({"end": "D1", "shared": "yes", "each": "no"}, YES),
        ({"end": "D1", "shared": "unknown", "each": "no"}, EITHER_FLAG),
        ({"end": "M1", "shared": "yes", "each": "no"}, NO),
        ({"end": "P1", "each": "yes"}, NO),
        ({"end": "D1 or P1", "each": "yes"}, EITHER_FLAG),
        ({"end": "none", "each": "yes"}, NO),
    ],
)
def test_it_reaches_every_service_disconnect(
    but: dict[str, str], answer: Possible, tmp_path: Path, library: Library
) -> None:
    view = view_under("nec-2023", TWO.format(**PLAIN | but), tmp_path, library)
    assert fact_of(view, "UTIL", "electrode_conductor_ahead") == answer


def test_with_one_service_disconnect_nobody_has_to_say_more(tmp_path: Path, library: Library) -> None:
    text = TWO.format(**PLAIN | {"role": "none"})
    view = view_under("nec-2023", text, tmp_path, library)
    found = view.known(view.ground.drawing.pieces["UTIL"], "electrode_conductor_ahead")
    assert found.value == YES
    assert not [leaf for leaf in found.leaves if "electrode_conductor_to_each" in str(leaf)]
