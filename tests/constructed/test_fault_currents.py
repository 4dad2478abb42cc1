"""Fault currents at houses and buildings of an invented town, worked by hand with a pocket calculator. No source.

By hand: ohms of the source = volts / amperes; a run adds 2 x length x ohms per foot, all as plain numbers.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from checker.engineering.faults.loops import Available, Fault, current_of, driving_voltage, loop_of
from checker.engineering.faults.ratings import faults_there, rating_holds
from checker.engineering.faults.runs import Run, greatest_past, least_past
from checker.engineering.faults.transformers import HalfWinding, Transformer, TransformerCase, secondary_fault
from checker.engineering.impedance import Impedance
from checker.values.truth import Truth

FOUR_AUGHT_ALUMINUM = Impedance(Fraction("0.10"), Fraction("0.041"))
"""Ohms per 1000 ft of 4/0 AWG aluminum in a nonmetallic raceway; by hand 0.108 together."""


@pytest.mark.parametrize(
    ("stated", "length", "by_hand"),
    [(9_600, 28, 7_700), (17_200, 45, 10_100), (17_200, 0, 17_200)],
)
def test_past_a_run_of_aluminum(stated: int, length: int, by_hand: int) -> None:
    available = Available(Fault.LINES, Fraction(stated), Fraction(240), None)
    run = Run(Fraction(length), FOUR_AUGHT_ALUMINUM, FOUR_AUGHT_ALUMINUM)
    least, greatest = least_past(available, run), greatest_past(available, run)
    assert abs(least.value - by_hand) <= 50
    assert least.value <= greatest.value


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
    both = faults_there(1, neutral=True)
    assert rating_holds(Fraction(22_000), [lines], both).holds is Truth.UNKNOWN
    assert rating_holds(Fraction(22_000), [lines, neutral], both).holds is Truth.NO


def test_a_letter_for_three_phases() -> None:
    """29.5 kA at 480 V is 9.4 milliohm to neutral."""
    voltage = driving_voltage(Fault.THREE_PHASE, Fraction(480), None)
    loop = loop_of(Available(Fault.THREE_PHASE, Fraction(29_500), voltage, Fraction(5)))
    assert abs(loop.impedance.magnitude - Fraction("0.0094")) < Fraction(1, 10**5)
    assert abs(current_of(loop).value - 29_500) < 1
