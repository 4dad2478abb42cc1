"""Faults to the neutral beside a center tap, X/R above that of the test, and the least of a utility; by hand.

Published, from memory of IEEE Std 242 and fault-current handbooks: to the neutral 1.33 to 1.67 times between lines at a
center-tapped transformer. From memory of UL 489: molded-case breakers are tested at X/R of 1.73, 3.18 and 4.9. The
houses are invented.
"""

from __future__ import annotations

import cmath
import math
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checker.facts.view import View
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible
from tests.facts.set_sites import site_view

HOUSE = """
site: {{name: Fern House, stage: plan_review, other_sources: none, motor_fault_current: none}}
equipment:
  UTIL: {{kind: utility_supply, system: {system}{letter}}}
  P1: {{kind: panelboard, fed_from: {fed}, interrupting_rating: {rating}, series_rated: {series}}}
{pieces}runs:
  {fed}>P1: {{phase: 4/0 AWG aluminum, neutral_conductor: 4/0 AWG aluminum, length: {length}, run_raceway: pvc}}
{pairs}"""
SPLIT, WYE = "120/240 V 1-phase 3-wire", "480Y/277 V 3-phase 4-wire"
BASE = {
    "system": SPLIT,
    "letter": ", available_fault_current: {value: 9.6 kA, between: lines}",
    "fed": "UTIL",
    "rating": "22 kA",
    "series": "no",
    "pieces": "",
    "length": "28 ft",
    "pairs": "",
}
PAIR = Subject("fault_source", "P1~UTIL")
NEUTRAL, INTERRUPT = "fault_current_to_neutral", "fault_current_to_interrupt"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def seen(folder: Path, library: Library, **but: str) -> View:
    return site_view(folder, library, HOUSE.format(**(BASE | but)))


def high(value: Possible) -> float | None:
    assert value.hull is not None
    return None if value.hull.high is None else float(value.hull.high)


def low(value: Possible) -> float:
    assert value.hull is not None
    return float(value.hull.low or 0)


# --- to the neutral --------------------------------------------------------------------------------------------------


def test_a_letter_of_a_fault_between_lines_does_not_cover_one_to_the_neutral(tmp_path: Path, library: Library) -> None:
    """By hand: 9.6 kA x 2 / 1.2 = 16.0 kA at the service; the phase alone, cold and close, 28 ft x (0.062 + j 0.0287)
    / 1000 beside 120 V / 16 kA = 0.0075 ohm of resistance: 120 / |0.00924 + j 0.00080| = 12.94 kA; of reactance alone
    14.1 kA.
    """
    found = seen(tmp_path, library).read(PAIR, NEUTRAL)
    assert low(found) == 0
    by_hand = 120 / abs(complex(0.001736, 0.0075 + 0.000804))
    assert high(found) == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.parametrize(
    "letter",
    [
        "9.6 kA",
        "{value: 9.6 kA, between: greatest}",
        "{value: 9.6 kA, between: line_and_neutral}",
        "{value: 9.6 kA, between: unknown}",
    ],
)
def test_a_figure_that_covers_it_asks_for_nothing_more(letter: str, tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library, letter=f", available_fault_current: {letter}")
    assert view.read(PAIR, NEUTRAL).only_absent


def test_no_neutral_no_fault_to_it(tmp_path: Path, library: Library) -> None:
    assert seen(tmp_path, library, system="240 V 1-phase 2-wire").read(PAIR, NEUTRAL).only_absent


def test_the_transformer_of_the_utility_bounds_it(tmp_path: Path, library: Library) -> None:
    """75 kVA, 1.6 %, 90 % of it: 312.5 A / 0.0144 = 21.70 kA between lines, 1.667 times that to the neutral: 36.2 kA.
    With a letter of 25 kA, which gives 41.7 kA, the transformer is the less.
    """
    transformer = ", transformer_rating: 75 kVA, transformer_impedance: 1.6 %"
    alone = seen(tmp_path, library, letter=transformer, length="unknown").read(PAIR, NEUTRAL)
    assert high(alone) == pytest.approx(312.5 / 0.0144 * 2 / 1.2, rel=1e-6)
    letter = transformer + ", available_fault_current: {value: 20 kA to 25 kA, between: lines}"
    both = seen(tmp_path, library, letter=letter, length="unknown").read(PAIR, NEUTRAL)
    assert high(both) == pytest.approx(20_000 * 2 / 1.2 * 21_701.39 / 20_000, rel=1e-4)


def test_a_panel_of_22_kiloamperes_beside_75_kilovoltamperes(tmp_path: Path, library: Library) -> None:
    """75 kVA, 1.6 %: 19.5 kA between lines suits 22 kA, the fault to the neutral does not: 28.7 kA at the X/R of one,
    up to 36 kA at any; so that the rating is not met by the greatest fault current at the piece.
    """
    pieces = (
        "  T1: {kind: transformer, fed_from: UTIL, system: 120/240 V 1-phase 3-wire, transformer_rating: 75 kVA,"
        " transformer_impedance: 1.6 %}\n"
    )
    letter = ", available_fault_current: 30 kA"
    view = seen(tmp_path, library, letter=letter, system=WYE, fed="T1", pieces=pieces, length="unknown")
    lines = high(view.read(PAIR, "available_fault_current"))
    to_neutral = high(view.read(PAIR, NEUTRAL))
    assert lines == pytest.approx(21_701.39, rel=1e-6)
    assert to_neutral == pytest.approx(21_701.39 * 2 / 1.2, rel=1e-6)
    assert high(view.read(view.ground.drawing.pieces["P1"], "greatest_fault_current")) == to_neutral


def test_three_phases_behind_a_transformer(tmp_path: Path, library: Library) -> None:
    """45 kVA, 3 %, 208Y/120: 4.63 kA for three phases; 3 / (2 + 0.85) of it to the neutral, 4.87 kA."""
    pieces = (
        "  T1: {kind: transformer, fed_from: UTIL, system: 208Y/120 V 3-phase 4-wire, transformer_rating: 45 kVA,"
        " transformer_impedance: 3 %}\n"
    )
    view = seen(tmp_path, library, system=WYE, fed="T1", pieces=pieces, length="unknown")
    own = 45_000 / math.sqrt(3) / 208 / 0.027
    assert high(view.read(PAIR, "available_fault_current")) == pytest.approx(own, rel=1e-6)
    assert high(view.read(PAIR, NEUTRAL)) == pytest.approx(own * 3 / 2.85, rel=1e-6)


def test_the_neutral_of_a_high_leg_bank_has_no_bound(tmp_path: Path, library: Library) -> None:
    pieces = (
        "  T1: {kind: transformer, fed_from: UTIL, system: 240/120 V 3-phase 4-wire high-leg, transformer_rating: 45"
        " kVA, transformer_impedance: 3 %}\n"
    )
    view = seen(tmp_path, library, system=WYE, fed="T1", pieces=pieces)
    assert high(view.read(PAIR, NEUTRAL)) is None


def test_a_study_of_a_fault_between_lines_bounds_it_too(tmp_path: Path, library: Library) -> None:
    """7.7 kA between lines at the panel: at most 12.8 kA to the neutral there."""
    pairs = "pairs: {P1~UTIL: {available_fault_current: {value: 7.7 kA, between: lines}}}\n"
    assert high(seen(tmp_path, library, pairs=pairs).read(PAIR, NEUTRAL)) == pytest.approx(7700 * 2 / 1.2, rel=1e-6)
    said = "pairs: {P1~UTIL: {available_fault_current: 7.7 kA}}\n"
    assert seen(tmp_path, library, pairs=said).read(PAIR, NEUTRAL).only_absent


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
@given(
    kva=st.sampled_from((25, 50, 75, 167)),
    permille=st.integers(12, 40),
    ratio=st.sampled_from((0.0, 0.5, 1.5, 4.0, 1e6)),
    feet=st.integers(1, 200),
    shares=st.sampled_from(((1.5, 1.2), (1.75, 1.3), (2.0, 2.0))),
    primary=st.sampled_from((0.0, 0.02, 0.2)),
    back=st.sampled_from((0.0, 0.5, 1.0)),
)
def test_a_fault_to_the_neutral_is_never_more(
    kva: int,
    permille: int,
    ratio: float,
    feet: int,
    shares: tuple[float, float],
    primary: float,
    back: float,
    tmp_path: Path,
    library: Library,
) -> None:
    """In complex numbers: half of the winding with its shares of resistance and reactance, a primary with some of the
    impedance of the transformer, and a run of which the neutral may be helped by ground.
    """
    base = kva * 1000
    whole = cmath.rect(240**2 / base * permille / 1000, math.atan(ratio))
    half = complex(whole.real * shares[0], whole.imag * shares[1]) / 4 + abs(whole) * primary * 1j / 4
    run = feet / 1000 * complex(0.100 * 0.63, 0.041 * 0.8) * (1 + back)
    letter = f", transformer_rating: {kva} kVA, transformer_impedance: {permille / 10:.1f} %"
    found = high(seen(tmp_path, library, letter=letter, length=f"{feet} ft").read(PAIR, NEUTRAL))
    assert found is not None
    assert 120 / abs(half + run) <= found * (1 + 1e-6)


# --- X/R -------------------------------------------------------------------------------------------------------------


def letter(kiloamperes: str, ratio: str) -> str:
    return f", available_fault_current: {{value: {kiloamperes}, between: three_phase, x_over_r: {ratio}}}"


@pytest.mark.parametrize(
    ("rating", "ratio", "least", "most"),
    [
        ("22 kA", 10, 6.6, 4.9),
        ("14 kA", 10, 3.88, 3.18),
        ("10 kA", 4, 1.99, 1.73),
        ("22 kA", 20, 6.6, 4.9),
    ],
)
def test_the_first_peak_over_that_of_the_test(
    rating: str, ratio: int, least: float, most: float, tmp_path: Path, library: Library
) -> None:
    """X/R of 10 on a device that was tested at 4.9: (1 + e^(-pi / 10)) / (1 + e^(-pi / 4.9)) = 1.13, as handbooks have
    it.
    """
    pairs = f"pairs: {{P1~UTIL: {{available_fault_current: {{value: 20 kA, x_over_r: {ratio}}}}}}}\n"
    letter_20 = ", available_fault_current: 20 kA"
    found = seen(tmp_path, library, system=WYE, letter=letter_20, rating=rating, pairs=pairs, length="unknown")
    value = found.read(PAIR, INTERRUPT)

    def factor(tested: float) -> float:
        return (1 + math.exp(-math.pi / ratio)) / (1 + math.exp(-math.pi / tested))

    assert low(value) == pytest.approx(20_000 * factor(least), rel=1e-6)
    assert high(value) == pytest.approx(20_000 * factor(most), rel=1e-6)
    assert not value.absent
    if (rating, ratio) == ("22 kA", 10):
        assert factor(4.9) == pytest.approx(1.13, abs=0.005)


@pytest.mark.parametrize(
    "but",
    [
        {"letter": ", available_fault_current: {value: 20 kA, between: three_phase}"},
        {"letter": letter("20 kA", "4")},
        {"letter": letter("20 kA", "10"), "rating": "none"},
    ],
)
def test_nothing_is_raised_without_a_reason(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    """X/R not shown, not above that of the test, or nothing that interrupts."""
    assert seen(tmp_path, library, system=WYE, **but).read(PAIR, INTERRUPT).only_absent


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=40)
@given(
    ratio=st.sampled_from((5.0, 8.0, 15.0)),
    feet=st.integers(1, 200),
    kiloamperes=st.integers(5, 60),
    cold=st.sampled_from((0.63, 0.8, 1.0)),
    close=st.sampled_from((0.7, 1.0)),
    written=st.sampled_from(("as it is", "blurred", "unknown")),
)
def test_x_over_r_past_a_run_lies_between_its_ends(
    ratio: float,
    feet: int,
    kiloamperes: int,
    cold: float,
    close: float,
    written: str,
    tmp_path: Path,
    library: Library,
) -> None:
    """In complex numbers, with the factor of the loop as it is built over that of either test."""
    length = {"as it is": f"{feet} ft", "blurred": f"{max(feet - 5, 1)} ft to {feet + 5} ft", "unknown": "unknown"}[
        written
    ]
    source = cmath.rect(480 / math.sqrt(3) / (kiloamperes * 1000), math.atan(ratio))
    loop = source + feet / 1000 * complex(0.100 * cold, 0.041 * close)
    amperes, built = 480 / math.sqrt(3) / abs(loop), loop.imag / loop.real
    view = seen(tmp_path, library, system=WYE, letter=letter(f"{kiloamperes} kA", f"{ratio:.0f}"), length=length)
    value = view.read(PAIR, INTERRUPT)
    for tested in (4.9, 6.6):
        factor = max((1 + math.exp(-math.pi / built)) / (1 + math.exp(-math.pi / tested)), 1)
        if value.only_absent:
            assert factor <= 1 + 1e-9
            continue
        assert amperes * factor <= (high(value) or math.inf) * (1 + 1e-6)
        assert amperes * factor >= low(value) * (1 - 1e-6) or cold < 1 or close < 1


def test_series_rated_devices_are_tested_as_a_pair(tmp_path: Path, library: Library) -> None:
    """10 kA breakers behind a main, 22 kA together: both tests may be the one that counts."""
    series = "yes, series_rating: 22 kA"
    value = seen(
        tmp_path, library, system=WYE, letter=letter("20 kA", "10"), rating="10 kA", series=series, length="1 ft"
    )
    found = value.read(PAIR, INTERRUPT)
    alone = seen(tmp_path, library, system=WYE, letter=letter("20 kA", "10"), rating="10 kA", length="1 ft")
    assert high(found) == high(alone.read(PAIR, INTERRUPT))
    assert low(found) < low(alone.read(PAIR, INTERRUPT))


# --- the least of a utility ------------------------------------------------------------------------------------------


def test_the_least_of_a_letter_at_the_end_of_hot_runs(tmp_path: Path, library: Library) -> None:
    """By hand: 5 kA at the service, to the neutral 120 V / 5 kA = 0.0240 ohm; hot 4/0 AWG aluminum has 0.105 + j 0.041
    ohm, 0.1127 together, phase and neutral 2 x 28 ft x 0.1127 / 1000 = 0.00631 ohm: 120 / 0.03031 = 3.96 kA.
    """
    least = ", available_fault_current: {value: 9.6 kA, least: 5 kA}"
    view = seen(tmp_path, library, letter=least)
    found = view.read(PAIR, "least_fault_current")
    assert low(found) == pytest.approx(3959, abs=2)
    assert high(found) == 5000
    run = Subject("connection", "UTIL>P1")
    assert view.read(run, "least_from_utility") == found


def test_a_letter_without_a_least_gives_none(tmp_path: Path, library: Library) -> None:
    view = seen(tmp_path, library)
    assert view.read(Subject("connection", "UTIL>P1"), "least_from_utility").only_absent
    assert low(view.read(PAIR, "least_fault_current")) == 0


def test_past_a_transformer_nothing_tells_the_least(tmp_path: Path, library: Library) -> None:
    pieces = (
        "  T1: {kind: transformer, fed_from: UTIL, system: 120/240 V 1-phase 3-wire, transformer_rating: 75 kVA,"
        " transformer_impedance: 1.6 %}\n"
    )
    least = ", available_fault_current: {value: 30 kA, least: 20 kA}"
    view = seen(tmp_path, library, letter=least, system=WYE, fed="T1", pieces=pieces)
    assert low(view.read(PAIR, "least_fault_current")) == 0
