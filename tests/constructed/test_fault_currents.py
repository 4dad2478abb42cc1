"""Fault currents at houses and buildings of an invented town, worked by hand with a pocket calculator. No source.

By hand: ohms of the source = volts / amperes; a run adds 2 x length x ohms per foot, all as plain numbers.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.engineering.faults.along import Beginning, Between, Conductors, least_past, most_past
from checker.engineering.faults.loops import Fault, driving_voltage
from checker.engineering.faults.transformers import HalfWinding, Transformer, TransformerCase, secondary_fault
from checker.engineering.impedance import Impedance
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import number
from checker.values.relations import relate
from checker.values.truth import Truth
from tests.facts.set_sites import site_view

FOUR_AUGHT_ALUMINUM = Impedance(Fraction("0.10"), Fraction("0.041"))
"""Ohms per 1000 ft of 4/0 AWG aluminum in a nonmetallic raceway; by hand 0.108 together."""


@pytest.mark.parametrize(
    ("stated", "length", "by_hand"),
    [(9_600, 28, 7_700), (17_200, 45, 10_100), (17_200, 0, 17_200)],
)
def test_past_a_run_of_aluminum(stated: int, length: int, by_hand: int) -> None:
    begin = Beginning(Fraction(stated), Fraction(240))
    ohms = FOUR_AUGHT_ALUMINUM.times(Fraction(length, 1000))
    wire = Between(ohms, ohms)
    added = Conductors(wire, wire).round_of(Fault.LINES).least
    least, greatest = least_past(begin, added), most_past(begin, added)
    assert abs(least - by_hand) <= 50
    assert least <= greatest


def test_a_small_transformer_passes_ten_thousand_amperes_to_neutral() -> None:
    """75 kVA, 1.6 %, 120/240 V: 19.5 kA between lines, and about 1.5 times it to neutral, past panels of 22 kA."""
    transformer = Transformer(
        Fraction(75_000),
        Fraction("0.016"),
        Fraction(1),
        Fraction(1),
        1,
        Fraction(240),
        Fraction(120),
        half_winding=HalfWinding(Fraction(3, 2), Fraction(6, 5)),
    )
    lines, neutral = (
        secondary_fault(TransformerCase(transformer, None, fault)) for fault in (Fault.LINES, Fault.LINE_AND_NEUTRAL)
    )
    assert abs(lines.value - 19_500) <= 50
    assert abs(neutral.value / lines.value - Fraction("1.47")) <= Fraction(1, 100)


def test_a_panel_of_22_kiloamperes_is_not_taken_to_reach(tmp_path: Path) -> None:
    """Behind that transformer the rating is open while only the fault between lines is known, and does not do against
    the 28.7 kA to the neutral of a study.
    """
    text = """
site: {{name: Sedge Lane, stage: plan_review, other_sources: none, motor_fault_current: none}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire,
         available_fault_current: {{value: {study}, between: {kind}}}}}
  P1: {{kind: panelboard, fed_from: UTIL}}
pairs: {{P1~UTIL: {{available_fault_current: {{value: {study}, between: {kind}}}}}}}
"""
    answers = []
    for kind, study in (("lines", "19.5 kA"), ("line_and_neutral", "28.7 kA"), ("greatest", "19.5 kA")):
        view = site_view(tmp_path, Library.shipped(), text.format(kind=kind, study=study))
        greatest = view.read(Subject("panelboard", "P1"), "greatest_fault_current")
        answers.append(relate("at_least", number(22_000), greatest))
    assert answers == [Truth.UNKNOWN, Truth.NO, Truth.YES]


def test_a_letter_for_three_phases() -> None:
    """29.5 kA at 480 V is 9.4 milliohm to neutral."""
    voltage = driving_voltage(Fault.THREE_PHASE, Fraction(480), None)
    assert abs(Beginning(Fraction(29_500), voltage).ohms - Fraction("0.0094")) < Fraction(1, 10**5)
