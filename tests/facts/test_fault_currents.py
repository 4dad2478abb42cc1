"""Fault currents along runs, from the site file to what is possible: by hand, at both ends, where something is open.

By hand: ohms of the source = volts / amperes; 4/0 AWG aluminum in a nonmetallic raceway has 0.100 + j 0.041 ohm per
1000 ft (chapter 9, Table 9), 0.108 together, out and back twice that; the published point-to-point method adds such
magnitudes. No source for the houses: they are invented.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.facts.view import View
from checker.findings.review import view_of
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.values.possible import Possible

Ends = tuple[Fraction, Fraction | None]

HOUSE = """
site: {{name: Fern House, stage: plan_review, other_sources: none, motor_fault_current: {motors}}}
equipment:
  UTIL: {{kind: utility_supply, system: {system}, available_fault_current: {letter}{utility}}}
  ATS1: {{kind: transfer_switch, normal: UTIL, alternate: GEN1/1, transition: {transition}}}
  GEN1: {{kind: generator, system: {system}{set}, ways: {{1: {{overcurrent: 90 A}}, 2: {{overcurrent: 90 A}}}}}}
  P1: {{kind: panelboard, fed_from: {fed}}}
{pieces}runs:
  {first}: {{phase: 4/0 AWG aluminum, neutral_conductor: 4/0 AWG aluminum, length: {length}, run_raceway: {raceway}}}
{runs}{pairs}"""
BASE = {
    "motors": "none",
    "system": "120/240 V 1-phase 3-wire",
    "letter": "{value: 9.6 kA, between: lines}",
    "utility": "",
    "transition": "open",
    "set": "",
    "fed": "UTIL",
    "pieces": "",
    "first": "UTIL>P1",
    "length": "28 ft",
    "raceway": "pvc",
    "runs": "",
    "pairs": "",
}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def seen(folder: Path, library: Library, **but: str) -> View:
    """The facts of the house with something about it changed."""
    path = folder / "site.yaml"
    path.write_text(HOUSE.format(**{**BASE, **but}), encoding="utf-8")
    job = job_of(path, library, Overrides("nec-2020", date(2026, 3, 14), None))
    return view_of(read_site(path, shipped_catalog()), shipped_catalog(), job.rules.numbers)


def ends(value: Possible) -> Ends:
    hull = value.hull
    assert hull is not None
    return hull.low or Fraction(0), hull.high


def at_panel(view: View, source: str = "UTIL", name: str = "available_fault_current") -> Ends:
    return ends(view.read(Subject("fault_source", f"P1~{source}"), name))


def test_a_house_of_9600_amperes_has_about_7700_after_28_ft(tmp_path: Path, library: Library) -> None:
    """By hand: 240 V / 9.6 kA = 0.0250 ohm, 2 x 28 ft x 0.108 / 1000 = 0.00605 ohm, 240 V / 0.03105 = 7.73 kA. The
    most with cold conductors beside a source of reactance alone: 0.00347 + j (0.0250 + 0.00161) ohm, 8.94 kA.
    """
    low, high = at_panel(seen(tmp_path, library))
    assert high is not None
    assert abs(low - 7730) < 10
    assert abs(high - 8940) < 10


def test_the_letter_itself_is_the_most_at_the_service(tmp_path: Path, library: Library) -> None:
    """A service of 11.4 kA with no run that is described: at most that, as before, and no least."""
    view = seen(tmp_path, library, letter="11.4 kA", first="UTIL>ATS1.normal", length="unknown", fed="ATS1")
    at_switch = ends(view.read(Subject("fault_source", "ATS1~UTIL"), "available_fault_current"))
    assert at_switch == (Fraction(0), Fraction(11_400))
    assert at_panel(view) == (Fraction(0), Fraction(11_400))


def test_six_feet_from_a_service_of_19_kiloamperes(tmp_path: Path, library: Library) -> None:
    """By hand: 240 V / 19.0 kA = 0.01263 ohm, 2 x 6 ft x 0.108 / 1000 = 0.0013 ohm, 17.2 kA: far above 10 kA."""
    low, high = at_panel(seen(tmp_path, library, letter="{value: 19.0 kA, between: lines}", length="6 ft"))
    assert high is not None
    assert abs(low - 17_230) < 30
    assert low > 10_000
    assert low < high < 19_000


@pytest.mark.parametrize("but", [{"length": "unknown"}, {"length": "at least 28 ft"}, {"raceway": "unknown"}])
def test_what_is_open_never_lowers_the_most(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    low, high = at_panel(seen(tmp_path, library))
    open_low, open_high = at_panel(seen(tmp_path, library, **but))
    assert high is not None
    assert open_high is not None
    assert open_low <= low
    assert high <= open_high <= 9600


def test_x_over_r_of_the_letter_narrows_it(tmp_path: Path, library: Library) -> None:
    """By hand with X/R of 1: 0.01768 + j 0.01768 ohm and 0.0056 + j 0.0023 ohm of run give 240 / 0.03069 = 7.82 kA."""
    low, high = at_panel(seen(tmp_path, library, letter="{value: 9.6 kA, between: lines, x_over_r: 1}"))
    open_low, open_high = at_panel(seen(tmp_path, library))
    assert high is not None
    assert open_high is not None
    assert abs(low - 7820) < 10
    assert open_low < low < high < open_high


def test_a_fault_of_a_kind_that_is_not_said_counts_as_every_kind(tmp_path: Path, library: Library) -> None:
    """Past a run a fault to the neutral falls faster, as half the voltage drives it: 120 V / (0.0125 + 0.00605) ohm is
    6.47 kA, which is the least; the most is that of a fault between lines.
    """
    low, high = at_panel(seen(tmp_path, library, letter="9.6 kA"))
    _, between_lines = at_panel(seen(tmp_path, library))
    assert abs(low - 6470) < 10
    assert high == between_lines
    to_neutral, _ = at_panel(seen(tmp_path, library, letter="{value: 9.6 kA, between: line_and_neutral}"))
    assert to_neutral == low


def test_three_phases_count_each_conductor_once(tmp_path: Path, library: Library) -> None:
    """By hand: 277.1 V / 18 kA = 0.0154 ohm, 28 ft x 0.108 / 1000 = 0.00303 ohm once, 15.0 kA."""
    letter, system = "{value: 18 kA, between: three_phase}", "480Y/277 V 3-phase 4-wire"
    low, _ = at_panel(seen(tmp_path, library, letter=letter, system=system))
    assert abs(low - 15_040) < 30


def test_parallel_conductors_share(tmp_path: Path, library: Library) -> None:
    """Two sets take half of what one takes: 240 / (0.0250 + 0.003025) = 8.56 kA."""
    view = seen(
        tmp_path,
        library,
        first="UTIL>ATS1.normal",
        fed="UTIL",
        runs="  UTIL>P1: {phase: 2 x 4/0 AWG aluminum, length: 28 ft, run_raceway: pvc}\n",
    )
    low, _ = at_panel(view)
    assert abs(low - 8560) < 15


def test_motors_add_to_the_most_alone(tmp_path: Path, library: Library) -> None:
    low, high = at_panel(seen(tmp_path, library))
    with_motors = at_panel(seen(tmp_path, library, motors="2.4 kA"))
    assert high is not None
    assert with_motors == (low, high + 2400)
    assert at_panel(seen(tmp_path, library, motors="unknown")) == (low, None)


def test_two_feeds_from_one_source_share_the_current(tmp_path: Path, library: Library) -> None:
    """A second line beside the first lets more through, so that no run counts for the most."""
    pieces = "  P2: {kind: panelboard, fed_from: UTIL}\n"
    single = at_panel(seen(tmp_path, library, pieces=pieces, fed="{main: UTIL}", first="UTIL>P1.main"))
    double = at_panel(seen(tmp_path, library, pieces=pieces, fed="{main: UTIL, 7: P2/1}", first="UTIL>P1.main"))
    assert single[1] is not None
    assert single[1] < 9000
    assert double[1] == 9600


SWITCHES = "  ATS2: {{kind: transfer_switch, normal: UTIL, alternate: GEN1/2, transition: {transition}}}\n"


@pytest.mark.parametrize(("transition", "counts"), [("open", True), ("closed", False), ("unknown", False)])
def test_a_second_switch_is_another_way_only_if_it_closes_both_sides(
    transition: str, counts: bool, tmp_path: Path, library: Library
) -> None:
    """The utility can come round by the other switch and the set where both may close both their sides."""
    view = seen(
        tmp_path,
        library,
        fed="ATS1",
        first="UTIL>ATS1.normal",
        transition=transition,
        pieces=SWITCHES.format(transition=transition),
    )
    _, high = at_panel(view)
    assert high is not None
    assert (high < 9000) is counts


def test_a_figure_stated_on_the_way_counts(tmp_path: Path, library: Library) -> None:
    """A study gives 8 kA at the switch; past 28 ft more it is at most what is left of that."""
    but = {
        "fed": "ATS1",
        "first": "ATS1>P1",
        "pairs": "pairs: {ATS1~UTIL: {available_fault_current: {value: 8 kA, between: lines}}}\n",
    }
    low, high = at_panel(seen(tmp_path, library, **but))
    assert high is not None
    assert abs(low - Fraction(240) / Fraction("0.03605")) < 10
    assert high < 7600


def test_a_transformer_of_the_utility_bounds_its_letter(tmp_path: Path, library: Library) -> None:
    """75 kVA and 1.6 % at 240 V: 312.5 / 0.016 = 19.5 kA, and 21.7 kA with 90 % of the impedance. A letter of 25 kA
    between lines cannot be right.
    """
    utility = ", transformer_rating: 75 kVA, transformer_impedance: 1.6 %"
    view = seen(tmp_path, library, letter="unknown", utility=utility)
    _, high = ends(view.read(view.ground.drawing.pieces["UTIL"], "available_fault_current"))
    assert high is not None
    assert abs(high - 21_701) < 1
    wrong = seen(tmp_path, library, letter="{value: 25 kA, between: lines}", utility=utility)
    figure = Subject("figure", "UTIL.available_fault_current")
    assert not wrong.read(figure, "agree").is_exact
    to_neutral = seen(tmp_path, library, letter="{value: 25 kA, between: line_and_neutral}", utility=utility)
    assert to_neutral.read(figure, "agree").is_exact


def test_a_transformer_on_the_premises_bounds_what_comes_through_it(tmp_path: Path, library: Library) -> None:
    """45 kVA, 3 %, 208 V: 124.9 A / (0.03 x 0.9) = 4.63 kA at its secondary, less past a run."""
    pieces = (
        "  T1: {kind: transformer, fed_from: UTIL, system: 208Y/120 V 3-phase 4-wire, transformer_rating: 45 kVA,"
        " transformer_impedance: 3 %}\n"
    )
    view = seen(tmp_path, library, system="480Y/277 V 3-phase 4-wire", pieces=pieces, fed="T1", first="T1>P1")
    low, high = at_panel(view)
    assert low == 0
    assert high is not None
    assert 4000 < high < 4630


SET = ", greatest_current: 100 A, subtransient_reactance: 0.12 pu"


def test_a_set_by_its_reactance(tmp_path: Path, library: Library) -> None:
    """100 A / 0.12 = 833 A; with 15 % either way 725 A to 980 A, and a fault to its neutral up to twice that."""
    view = seen(tmp_path, library, set=SET)
    low, high = ends(view.read(view.ground.drawing.pieces["GEN1"], "greatest_fault_current"))
    assert high is not None
    assert abs(low - Fraction(100) / Fraction("0.138")) < 1
    assert abs(high - 2 * Fraction(100) / Fraction("0.102")) < 1


def test_three_phase_sets_give_more_to_the_neutral(tmp_path: Path, library: Library) -> None:
    """3 / (0.12 + 0.12 + 0.04) of the rated current, 15 % off: 3 x 100 / (0.28 x 0.85) = 1261 A."""
    system = "480Y/277 V 3-phase 4-wire"
    view = seen(tmp_path, library, system=system, set=f"{SET}, zero_sequence_reactance: 0.04 pu")
    _, high = ends(view.read(view.ground.drawing.pieces["GEN1"], "greatest_fault_current"))
    assert high is not None
    assert abs(high - Fraction(300) / (Fraction("0.28") * Fraction("0.85"))) < 1
    delta = seen(tmp_path, library, system="480 V 3-phase 3-wire", set=SET)
    _, own = ends(delta.read(delta.ground.drawing.pieces["GEN1"], "greatest_fault_current"))
    assert own is not None
    assert abs(own - Fraction(100) / Fraction("0.102")) < 1


SMALL = ", greatest_current: 30 A"


@pytest.mark.parametrize(
    ("system", "amperes", "most"),
    [
        # 30 A / 0.04 = 750 A between the lines, and twice that to the neutral; without a neutral that alone.
        ("120/240 V 1-phase 3-wire", "30 A", 1500),
        ("240 V 1-phase 2-wire", "30 A", 750),
        # 3 / (2 x 0.04) of 30 A on three phases, as its zero sequence may be nothing.
        ("208Y/120 V 3-phase 4-wire", "30 A", 1125),
        # 125 A at 240 V are 30 kVA; 84 A at 208 V on three phases are more, and 83 A are not.
        ("120/240 V 1-phase 3-wire", "125 A", 6250),
        ("120/240 V 1-phase 3-wire", "126 A", None),
        ("208Y/120 V 3-phase 4-wire", "83 A", Fraction("3112.5")),
        ("208Y/120 V 3-phase 4-wire", "84 A", None),
        ("120/240 V 1-phase 3-wire", "20 A to 30 A", 1500),
        ("120/240 V 1-phase 3-wire", "unknown", None),
    ],
)
def test_a_small_set_is_bounded_without_its_data_sheet(
    system: str, amperes: str, most: Fraction | int | None, tmp_path: Path, library: Library
) -> None:
    """By 4 % of reactance, which is common practice without a source: data sheets of small alternators give more."""
    view = seen(tmp_path, library, system=system, set=f", greatest_current: {amperes}")
    assert ends(view.read(view.ground.drawing.pieces["GEN1"], "greatest_fault_current")) == (Fraction(0), most)


@pytest.mark.parametrize("reactance", ["0.048 pu", "0.06 pu", "0.12 pu", "0.25 pu"])
def test_a_data_sheet_lies_within_that_bound(reactance: str, tmp_path: Path, library: Library) -> None:
    shown, bounded = (
        seen(tmp_path, library, set=f"{SMALL}{more}").read(Subject("generator", "GEN1"), "greatest_fault_current")
        for more in (f", subtransient_reactance: {reactance}", "")
    )
    assert bounded.covers(shown)


def test_what_the_excitation_keeps_up_is_the_least(tmp_path: Path, library: Library) -> None:
    """300 % of 100 A between all three phases; between two of them 0.866 of that at the least. A field that nothing
    keeps up may collapse: from nothing to 100 A / (2.6 x 0.85).
    """
    kept = seen(tmp_path, library, set=f"{SET}, sustained_fault_current: 300 %")
    low, high = ends(kept.read(kept.ground.drawing.pieces["GEN1"], "least_fault_current"))
    assert high == 300
    assert abs(low - Fraction("259.8")) < Fraction(1, 10)
    lost = seen(tmp_path, library, set=f"{SET}, synchronous_reactance: 2.6 pu, sustained_fault_current: none")
    low, high = ends(lost.read(lost.ground.drawing.pieces["GEN1"], "least_fault_current"))
    assert low == 0
    assert high is not None
    assert abs(high - Fraction(100) / (Fraction("2.6") * Fraction("0.85"))) < Fraction(1, 10)


TWO_SETS = """
site: {{name: Fern House, stage: plan_review, other_sources: none, motor_fault_current: none}}
equipment:
  GEN1: {{kind: generator, system: 240 V 1-phase 2-wire, greatest_fault_current: 6 kA}}
  GEN2: {{kind: generator, system: 240 V 1-phase 2-wire, greatest_fault_current: 6 kA}}
  SB1: {{kind: switchboard, fed_from: {{main: GEN1, 2: GEN2}}, ways: {{2: {{}}, 3: {{overcurrent: 200 A}}}}}}
  P1: {{kind: panelboard, fed_from: SB1/3}}
interlocks: {{complete: yes, list: []}}
runs:
  GEN1>SB1.main: {{phase: 4/0 AWG aluminum, length: 1 ft, run_raceway: pvc}}
  GEN2>SB1.2: {{phase: 4/0 AWG aluminum, length: 1 ft, run_raceway: pvc}}
  SB1/3>P1: {{phase: 4/0 AWG aluminum, length: 100 ft, run_raceway: pvc}}
"""


def test_two_sets_on_one_run_give_less_than_their_sum(tmp_path: Path, library: Library) -> None:
    """By hand, impedances as plain numbers: each 240 V / 6 kA = 0.0400 ohm, both together 0.0200, the run 0.0216:
    240 / 0.0416 = 5.77 kA for both, 240 / 0.0616 = 3.90 kA for each alone, 7.8 kA as a sum.
    """
    path = tmp_path / "site.yaml"
    path.write_text(TWO_SETS.format(), encoding="utf-8")
    job = job_of(path, library, Overrides("nec-2020", date(2026, 3, 14), None))
    view = view_of(read_site(path, shipped_catalog()), shipped_catalog(), job.rules.numbers)
    low, high = ends(view.read(view.ground.drawing.pieces["P1"], "greatest_fault_current"))
    assert high is not None
    assert low < 5770 < high
    assert low > 3800
    assert high > 7800
