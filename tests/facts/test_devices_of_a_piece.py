"""Whether overcurrent devices stand in a piece: by hand, of boards, switches and disconnects."""

from __future__ import annotations

import pytest

from checker.values.possible import Possible
from tests.published import small_sites

SITE = """
site: {{name: Sedge Yard, stage: plan_review, other_sources: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  P1: {{kind: panelboard, fed_from: UTIL, ways: {{main: {{overcurrent: none}}}}}}
  ATS1: {{kind: transfer_switch, normal: P1, alternate: GEN1{ways}}}
  D1: {{kind: disconnect, fed_from: ATS1, ways: {{main: {{overcurrent: {main}}}}}}}
  GEN1: {{kind: generator}}
"""


def holds(piece: str, ways: str = "", main: str = "none") -> Possible:
    return small_sites.fact(SITE.format(ways=ways, main=main), piece, "holds_overcurrent_devices")


def test_a_board_is_a_place_for_overcurrent_devices() -> None:
    assert holds("P1").atom is True


@pytest.mark.parametrize(
    ("ways", "held"),
    [
        (", ways: {normal: {overcurrent: none}, alternate: {overcurrent: none}}", {False}),
        (", ways: {normal: {overcurrent: 100 A}, alternate: {overcurrent: none}}", {True}),
        (", ways: {normal: {overcurrent: none}, alternate: {overcurrent: 60 A}}", {True}),
        (", ways: {normal: {overcurrent: none}, alternate: {overcurrent: unknown}}", {True, False}),
        (", ways: {normal: {overcurrent: none}}", {True, False}),
        ("", {True, False}),
    ],
)
def test_a_switch_by_its_sides(ways: str, held: set[bool]) -> None:
    assert set(holds("ATS1", ways).atoms) == held


@pytest.mark.parametrize(("main", "held"), [("none", {False}), ("100 A", {True}), ("100 A or none", {True, False})])
def test_a_disconnect_by_its_main(main: str, held: set[bool]) -> None:
    assert set(holds("D1", main=main).atoms) == held
