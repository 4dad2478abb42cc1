"""The ampacity of a run: exact where everything is given, and between its ends whatever is filled in."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.engineering.calculation import OutsideLimits
from checker.facts.conductors.ampacity import ampacity_ends
from checker.facts.conductors.numbers import ampacity_tables
from checker.facts.conductors.run import Run
from checker.facts.two_ends import TwoEnds
from checker.findings.review import view_of
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.tasks.reviewing import Overrides, job_of
from checker.values.possible import Possible, Span
from checker.values.wire_sizes import SIZES

SITE = """
site: {{name: Fern House, stage: plan_review, hottest_day: {hottest}}}
equipment:
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, ways: {{1: {{overcurrent: {device}}}}}}}
  P1: {{kind: panelboard, fed_from: GEN1/1}}
runs:
  GEN1/1>P1: {{phase: {phase}, length: 22 ft{more}}}
"""
INDOORS = ", ambient: 86 F, above_roof: none, current_carrying: 3"
AT_75 = ", terminals: 75 C"
HOT = ", ambient: 110 F, current_carrying: 3, terminals: 75 C"
SIX = INDOORS.replace(": 3", ": 6") + AT_75
OUTDOORS = ", in_outdoor_air: yes, terminals: 75 C"
BASE = {"hottest": "95 F", "device": "90 A", "phase": "3 AWG copper THWN-2", "more": f"{INDOORS}{AT_75}"}


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def found(folder: Path, library: Library, profile: str = "nec-2020", fact: str = "ampacity", **but: str) -> Possible:
    """What is possible for the ampacity of the run."""
    path = folder / "site.yaml"
    path.write_text(SITE.format(**{**BASE, **but}), encoding="utf-8")
    job = job_of(path, library, Overrides(profile, date(2026, 3, 14), None))
    view = view_of(read_site(path, shipped_catalog()), shipped_catalog(), job.rules.numbers)
    return view.read(Subject("connection", "GEN1/1>P1"), fact)


def ends(value: Possible) -> tuple[float | None, float | None]:
    hull = value.hull
    assert hull is not None
    low, high = (None if end is None else round(float(end), 2) for end in (hull.low, hull.high))
    return low, high


EVERYTHING_GIVEN = [
    # 3 AWG copper: 115 A at 90 °C, 100 A at 75 °C, 85 A at 60 °C; 4/0 aluminum 205 A and 180 A; 6 AWG copper 75 A at
    # 90 °C and 65 A at 75 °C (Table 310.16). The products by hand.
    pytest.param({}, 100, id="terminals of 75 °C limit it"),
    pytest.param({"phase": "4/0 AWG aluminum XHHW-2", "device": "200 A"}, 180, id="4/0 aluminum on 200 A"),
    pytest.param({"more": f"{INDOORS}, terminals: none"}, 85, id="no marking on 90 A: 60 °C"),
    pytest.param({"more": f"{INDOORS}, terminals: none", "device": "110 A"}, 100, id="no marking on 110 A: 75 °C"),
    pytest.param({"phase": "3 AWG copper THWN"}, 100, id="insulation of 75 °C"),
    pytest.param({"more": INDOORS.replace(": 3", ": 9") + AT_75}, 80.5, id="nine together: 115 x 0.7"),
    # NM-B has 90 °C for correction and 60 °C for what it may carry (334.80).
    pytest.param({"phase": "6 AWG copper NM-B"}, 55, id="a cable with a column of its own"),
    pytest.param({"phase": "6 AWG copper NM-B", "more": SIX}, 55, id="the same, six together: 75 x 0.8 is no limit"),
    pytest.param({"phase": "2 x 350 kcmil copper XHHW-2", "device": "600 A"}, 620, id="in parallel"),
    pytest.param({"more": f"{OUTDOORS}, current_carrying: 2"}, 100, id="outdoors at 95 F: 115 x 0.96 is no limit"),
    # 110 °F and 60 °F of the roof are 170 °F = 76.7 °C: factor 0.41 (Table 310.15(B)(1)).
    pytest.param({"more": f"{HOT}, above_roof: 0.5 in"}, 47.15, id="close to a roof: 115 x 0.41"),
    pytest.param({"more": f"{HOT}, above_roof: 7/8 in"}, 100, id="just above the limit of the roof"),
    pytest.param({"phase": "3 AWG copper XHHW-2", "more": f"{HOT}, above_roof: 0 in"}, 100, id="XHHW-2 on a roof"),
    pytest.param({"phase": "6 AWG copper XHHW", "more": f"{SIX}, wet_location: yes"}, 52, id="wet: 65 x 0.8"),
    pytest.param({"phase": "6 AWG copper XHHW", "more": f"{SIX}, wet_location: no"}, 60, id="dry: 75 x 0.8"),
]


@pytest.mark.parametrize(("but", "amperes"), EVERYTHING_GIVEN)
def test_everything_given_is_one_number(but: dict[str, str], amperes: float, tmp_path: Path, library: Library) -> None:
    assert ends(found(tmp_path, library, **but)) == (amperes, amperes)


@pytest.mark.parametrize("profile", ["nec-2017", "nec-2023", "nec-2026"])
def test_every_edition_has_the_numbers(profile: str, tmp_path: Path, library: Library) -> None:
    assert ends(found(tmp_path, library, profile)) == (100, 100)


WHAT_IS_OPEN = [
    pytest.param({"more": INDOORS}, (85, 115), id="terminals"),
    pytest.param({"phase": "3 AWG copper"}, (85, 100), id="insulation"),
    pytest.param({"phase": "3 AWG THWN-2"}, (75, 100), id="metal"),
    pytest.param({"more": ", ambient: 86 F, above_roof: none, terminals: 75 C"}, (40.25, 100), id="how many together"),
    pytest.param({"more": f"{AT_75}, above_roof: none, current_carrying: 3"}, (33.35, 100), id="ambient"),
    pytest.param({"hottest": "unknown", "more": f"{OUTDOORS}, current_carrying: 3"}, (33.35, 100), id="hottest day"),
    pytest.param({"more": HOT}, (47.15, 100), id="roof"),
    pytest.param({"phase": "{size: 3 AWG, material: copper, insulation: THWN-2}"}, (100, None), id="in parallel"),
]


@pytest.mark.parametrize(("but", "amperes"), WHAT_IS_OPEN)
def test_what_is_open_leaves_two_ends(
    but: dict[str, str], amperes: tuple[float, float | None], tmp_path: Path, library: Library
) -> None:
    assert ends(found(tmp_path, library, **but)) == amperes


NO_NUMBER = [
    pytest.param({"phase": "3 AWG copper THHN", "more": f"{INDOORS}, wet_location: yes"}, "THHN in a wet place"),
    pytest.param({"phase": "14 AWG aluminum THWN-2"}, "no ampacity"),
    pytest.param({"phase": "3 AWG copper TW", "more": INDOORS.replace("86", "150")}, "no factor"),
    pytest.param({"more": f"{OUTDOORS}, ambient: 120 F, current_carrying: 3"}, "hottest day"),
]


@pytest.mark.parametrize(("but", "why"), NO_NUMBER)
def test_where_there_is_no_ampacity_the_reason_is_told(
    but: dict[str, str], why: str, tmp_path: Path, library: Library
) -> None:
    value = found(tmp_path, library, **but)
    assert not value.has_value
    assert why in value.undefined[0]


def test_a_stated_ampacity_that_differs_leaves_both(tmp_path: Path, library: Library) -> None:
    stated = {"more": BASE["more"] + ", ampacity: 101 A"}
    assert ends(found(tmp_path, library, **stated)) == (101, 101)
    stated = {"more": BASE["more"] + ", ampacity: 115 A"}
    assert ends(found(tmp_path, library, **stated)) == (100, 115)


# --- between the ends ------------------------------------------------------------------------------------------------

COLUMNS = (Fraction(60), Fraction(75), Fraction(90))
METALS = ("copper", "aluminum", "copper_clad_aluminum")


def point(value: Fraction | int) -> Span:
    return Span(Fraction(value), Fraction(value))


@st.composite
def exact_runs(draw: st.DrawFn) -> Run:
    return Run(
        sizes=point(draw(st.sampled_from(sorted(SIZES.values()))).circular_mils),
        materials=(draw(st.sampled_from(METALS)),),
        insulations=(draw(st.sampled_from(COLUMNS)),),
        columns=(draw(st.sampled_from(COLUMNS)),),
        sets=point(draw(st.integers(1, 6))),
        ambient=point(draw(st.integers(-20, 95))),
        roof=point(draw(st.sampled_from((Fraction(0), Fraction(100, 3))))),
        together=point(draw(st.integers(1, 60))),
        length=point(draw(st.integers(0, 9))),
    )


def _wider(draw: st.DrawFn, span: Span, by: int) -> Span:
    low, high = span.low, span.high
    assert low is not None
    assert high is not None
    below: Fraction | None = draw(st.sampled_from((low, low - draw(st.integers(0, by)), None)))
    above: Fraction | None = draw(st.sampled_from((high, high + draw(st.integers(0, by)), None)))
    return Span(below, above)


@st.composite
def less_said(draw: st.DrawFn, run: Run) -> Run:
    """The same run of which less is said."""

    def more(chosen: tuple[Fraction, ...]) -> tuple[Fraction, ...]:
        return tuple(sorted({*chosen, *draw(st.lists(st.sampled_from(COLUMNS), max_size=2))}))

    return replace(
        run,
        sizes=_wider(draw, run.sizes, 200_000),
        materials=tuple(dict.fromkeys([*run.materials, *draw(st.lists(st.sampled_from(METALS), max_size=2))])),
        insulations=more(run.insulations),
        columns=more(run.columns),
        sets=_wider(draw, run.sets, 3),
        ambient=_wider(draw, run.ambient, 30),
        roof=draw(st.sampled_from((run.roof, Span(Fraction(0), Fraction(100, 3))))),
        together=_wider(draw, run.together, 20),
        length=_wider(draw, run.length, 5),
    )


@pytest.fixture(scope="module")
def numbers(library: Library) -> dict[str, NumbersInForce]:
    return {
        year: standing(f"nec-{year}", library.profiles, library).on(date(2026, 3, 14)).numbers
        for year in ("2017", "2023")
    }


def worked(run: Run, numbers: NumbersInForce) -> TwoEnds | None:
    try:
        return ampacity_ends(run, ampacity_tables(numbers))
    except OutsideLimits:
        return None


@given(data=st.data(), run=exact_runs(), year=st.sampled_from(("2017", "2023")))
def test_what_is_filled_in_lies_between_the_ends(
    data: st.DataObject, run: Run, year: str, numbers: dict[str, NumbersInForce]
) -> None:
    exact = worked(run, numbers[year])
    if exact is None:
        return
    assert exact.most is not None
    assert exact.least.value == exact.most.value
    open_ends = worked(data.draw(less_said(run)), numbers[year])
    assert open_ends is not None
    assert open_ends.least.value <= exact.least.value
    if open_ends.most is not None:
        assert exact.least.value <= open_ends.most.value


AT_THE_TERMINALS = [
    # The same columns, of which neither heat nor number takes anything; of NM-B that of 60 °C (334.80).
    pytest.param({"more": INDOORS.replace(": 3", ": 9") + AT_75}, (100, 100), id="nine together take nothing off"),
    pytest.param({"more": f"{HOT}, above_roof: 0.5 in"}, (100, 100), id="a hot roof takes nothing off"),
    pytest.param({"phase": "6 AWG copper NM-B"}, (55, 55), id="a cable with a column of its own"),
    pytest.param({"phase": "2 x 350 kcmil copper XHHW-2", "device": "600 A"}, (620, 620), id="in parallel"),
    pytest.param({"more": INDOORS}, (85, 115), id="terminals are open"),
    pytest.param({"phase": "{size: 3 AWG, material: copper, insulation: THWN-2}"}, (100, None), id="sets are open"),
]


@pytest.mark.parametrize(("but", "amperes"), AT_THE_TERMINALS)
def test_before_anything_is_taken_off(
    but: dict[str, str], amperes: tuple[float, float | None], tmp_path: Path, library: Library
) -> None:
    assert ends(found(tmp_path, library, "nec-2020", "terminal_ampacity", **but)) == amperes


@pytest.mark.parametrize("but", [each.values[0] for each in (*EVERYTHING_GIVEN, *WHAT_IS_OPEN)])
def test_the_terminals_carry_no_less_than_the_run(but: dict[str, str], tmp_path: Path, library: Library) -> None:
    run, terminals = (
        ends(found(tmp_path, library, "nec-2020", name, **but)) for name in ("ampacity", "terminal_ampacity")
    )
    for carried, at_terminals in zip(run, terminals, strict=True):
        assert at_terminals is None or (carried is not None and carried <= at_terminals)
