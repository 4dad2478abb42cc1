"""Grounding conductors and voltage drop of a run: published numbers, and between the ends whatever is filled in."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.catalog.load import shipped_catalog
from checker.engineering.calculation import OutsideLimits
from checker.facts.conductors.drop import Line, drop_ends
from checker.facts.conductors.grounding import Circuit, grounding_ends
from checker.facts.conductors.next_device import next_of
from checker.facts.conductors.numbers import (
    ampacity_tables,
    grounding_rows,
    impedances,
    small_limits,
)
from checker.facts.conductors.run import Run
from checker.facts.two_ends import TwoEnds
from checker.findings.review import view_of
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.site.read import read_site
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.tasks.reviewing import Overrides, job_of
from checker.values.possible import ABSENT, Possible, Span, between, number, union_of
from checker.values.wire_sizes import SIZES
from tests.facts.test_ampacity_bounds import METALS, exact_runs, less_said, point

SITE = """
site: {{name: Fern House, stage: plan_review}}
equipment:
  GEN1: {{kind: generator, system: {system}, ways: {{1: {{overcurrent: {device}}}}}}}
  P1: {{kind: panelboard, fed_from: GEN1/1}}
runs:
  GEN1/1>P1: {{{run}}}
"""
STEEL, PVC = "steel, load_power_factor: 0.85", "pvc, load_power_factor: 0.65"
SINGLE, THREE = "120/240 V 1-phase 3-wire", "208Y/120 V 3-phase 4-wire"
AROUND = "terminals: 75 C, ambient: 86 F, above_roof: none, current_carrying: 3"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def found(folder: Path, library: Library, name: str, run: str, system: str = SINGLE, device: str = "100 A") -> Possible:
    path = folder / "site.yaml"
    path.write_text(SITE.format(system=system, device=device, run=run), encoding="utf-8")
    job = job_of(path, library, Overrides("nec-2020", date(2026, 3, 14), None))
    view = view_of(read_site(path, shipped_catalog()), shipped_catalog(), job.rules.numbers)
    return view.read(Subject("connection", "GEN1/1>P1"), name)


def size_of(value: Possible) -> str:
    return next(name for name, size in SIZES.items() if size.circular_mils == value.number)


GROWN = [
    # Published by an engineers' question site and a trade magazine on 250.122(B).
    pytest.param("1 AWG", "50 A", "3 AWG", id="1 AWG where 8 AWG carries 50 A"),
    pytest.param("6 AWG", "20 A", "6 AWG", id="6 AWG where 12 AWG carries 20 A"),
    pytest.param("1/0 AWG", "20 A", "1/0 AWG", id="1/0 AWG where 12 AWG carries 20 A"),
    # By hand: 100 A of 3 AWG carry 90 A, and 4 AWG with 85 A does not; Table 250.122.
    pytest.param("3 AWG", "90 A", "8 AWG", id="3 AWG is no larger than 90 A wants"),
    pytest.param("2 x 3/0 AWG", "400 A", "3 AWG", id="two sets that are no larger than 400 A wants"),
]


@pytest.mark.parametrize(("phase", "device", "wanted"), GROWN)
def test_grounding_conductors(phase: str, device: str, wanted: str, tmp_path: Path, library: Library) -> None:
    run = f"phase: {phase} copper THWN-2, grounding: 8 AWG copper, {AROUND}"
    assert size_of(found(tmp_path, library, "grounding_wanted", run, device=device)) == wanted


def test_a_stated_ampacity_leaves_no_kinder_surroundings(tmp_path: Path, library: Library) -> None:
    """3 AWG copper that carries 100 A: at 75 °C 4 AWG carries 85 A, and nothing smaller could stand behind 90 A."""
    run = "phase: 3 AWG copper, grounding: 8 AWG copper"
    assert found(tmp_path, library, "grounding_wanted", run, device="90 A").number is None
    said = found(tmp_path, library, "grounding_wanted", f"{run}, ampacity: 100 A", device="90 A")
    assert size_of(said) == "8 AWG"


@pytest.mark.parametrize(("metal", "wanted"), [("copper", "6 AWG"), ("aluminum", "4 AWG")])
def test_where_none_is_shown_both_metals_are_told(metal: str, wanted: str, tmp_path: Path, library: Library) -> None:
    """By hand: 1/0 AWG aluminum where 1 AWG carries 100 A is 105,600 / 83,690 of it; 8 AWG copper (16,510) comes to
    20,832 and 6 AWG aluminum (26,240) to 33,110 circular mils (NFPA 70, 250.122(B), Table 250.122, Chapter 9 Table 8).
    """
    run = f"phase: 1/0 AWG aluminum XHHW-2, grounding: none, {AROUND}"
    assert size_of(found(tmp_path, library, f"grounding_wanted_in_{metal}", run, device="100 A")) == wanted


NEXT_DEVICES = [
    # NFPA 70, 240.6(A): 80, 90 and 100 A are standard, and 380 A is not; Table 310.16 at 75 °C.
    pytest.param("4 AWG copper THWN-2", ("90", "90"), id="85 A"),
    pytest.param("3 AWG copper THWN-2", ("100", "100"), id="100 A is one itself"),
    pytest.param("500 kcmil copper THWN-2", ("400", "400"), id="380 A"),
]


@pytest.mark.parametrize(("phase", "wanted"), NEXT_DEVICES)
def test_the_next_standard_device(phase: str, wanted: tuple[str, str], tmp_path: Path, library: Library) -> None:
    hull = found(tmp_path, library, "next_standard_device", f"phase: {phase}, {AROUND}", device="400 A").hull
    assert hull is not None
    assert (hull.low, hull.high) == tuple(map(Fraction, wanted))


def test_beyond_the_standard_devices_there_is_none() -> None:
    ratings = tuple(map(Fraction, (80, 90, 100)))
    assert next_of(ratings, between(81, 91)) == union_of([number(90), number(100)]), "each rating, and nothing between"
    assert next_of(ratings, between(101, None)) == ABSENT
    may_be = next_of(ratings, between(95, 101))
    assert may_be.absent
    assert may_be.hull == Span(Fraction(100), Fraction(100))


BY_AREA = [
    # Table 250.102(C)(1): 1000 kcmil copper 2/0 AWG copper, 500 kcmil copper 1/0 AWG, 500 kcmil aluminum 2 AWG copper.
    pytest.param("jumper_wanted", "2 x 500 kcmil copper", "grounding: 2 AWG copper", ("2/0 AWG", "2/0 AWG")),
    pytest.param("jumper_wanted", "2 x 500 kcmil copper", "grounding: 2 x 2 AWG copper", ("1/0 AWG", "1/0 AWG")),
    pytest.param("jumper_wanted", "500 kcmil", "grounding: 2 AWG copper", ("2 AWG", "1/0 AWG")),
    pytest.param("jumper_wanted", "{size: 500 kcmil, material: copper}", "grounding: 2 AWG copper", ("1/0 AWG", None)),
    # 4 x 500 kcmil copper: 12.5 % of 2000 kcmil is 250 kcmil.
    pytest.param("jumper_wanted", "4 x 500 kcmil copper", "grounding: 2 AWG copper", ("250 kcmil", "250 kcmil")),
    # A neutral need not be larger than the phase conductors: 8 AWG by the table, 12 AWG as they.
    pytest.param("neutral_wanted", "12 AWG copper", "neutral_conductor: 12 AWG copper", ("12 AWG", "12 AWG")),
]


@pytest.mark.parametrize(("name", "phase", "second", "wanted"), BY_AREA)
def test_conductors_by_the_area_of_the_phase_conductors(
    name: str, phase: str, second: str, wanted: tuple[str, str | None], tmp_path: Path, library: Library
) -> None:
    hull = found(tmp_path, library, name, f"phase: {phase}, {second}").hull
    assert hull is not None
    low, high = (None if each is None else SIZES[each].circular_mils for each in wanted)
    assert (hull.low, hull.high) == (low, high)


def test_a_jumper_of_another_metal_past_the_table_is_not_worked_out(tmp_path: Path, library: Library) -> None:
    run = "phase: 4 x 500 kcmil copper, grounding: 2 AWG aluminum"
    assert not found(tmp_path, library, "jumper_wanted", run).has_value


DROPS = [
    # A practice test for electricians, question 4: 80 A over 200 ft of 3 AWG copper at 240 V lose 7.84 V by K = 12.9.
    pytest.param("voltage_drop_by_resistance", SINGLE, "3 AWG copper", 80, 200, "", 7.84 / 240, id="3 AWG"),
    # A contractor's page on Table 9: 250 kcmil copper in steel at 0.85 is 0.073 ohm per 1000 ft; 100 A over 100 ft,
    # out and back.
    pytest.param("voltage_drop", SINGLE, "250 kcmil copper", 100, 100, STEEL, 1.4659 / 240, id="250 kcmil"),
    # A forum of engineers: 1/0 copper in PVC at 0.65, 50 A over 1000 ft lose 5.57 V to neutral.
    pytest.param("voltage_drop", THREE, "1/0 AWG copper", 50, 1000, PVC, 5.57186 * 3**0.5 / 208, id="1/0"),
]


@pytest.mark.parametrize(("name", "system", "phase", "amperes", "feet", "around", "share"), DROPS)
def test_voltage_drop(
    name: str,
    system: str,
    phase: str,
    amperes: int,
    feet: int,
    around: str,
    share: float,
    tmp_path: Path,
    library: Library,
) -> None:
    raceway = f", run_raceway: {around}" if around else ""
    run = f"phase: {phase}, length: {feet} ft, load_current: {amperes} A{raceway}"
    value = found(tmp_path, library, name, run, system).number
    assert value is not None
    assert float(value) == pytest.approx(share, rel=2e-3)


def test_without_a_load_the_device_ahead_bounds_the_drop(tmp_path: Path, library: Library) -> None:
    """100 A over 22 ft of 3 AWG copper lose 2 x 100 x Z x 0.022 / 240 with Z = 0.257 ohm at the most (steel)."""
    value = found(tmp_path, library, "voltage_drop", "phase: 3 AWG copper, length: 22 ft")
    assert value.hull is not None
    assert value.hull.low == 0
    assert value.hull.high is not None
    assert float(value.hull.high) == pytest.approx(2 * 100 * 0.2569 * 0.022 / 240, rel=2e-2)


# --- between the ends ------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def numbers(library: Library) -> NumbersInForce:
    return standing("nec-2020", library.profiles, library).on(date(2026, 3, 14)).numbers


def _wider(draw: st.DrawFn, span: Span, by: int, least: Fraction = Fraction(0)) -> Span:
    low, high = span.low, span.high
    assert low is not None
    assert high is not None
    below: Fraction | None = draw(st.sampled_from((low, max(least, low - draw(st.integers(0, by))), None)))
    above: Fraction | None = draw(st.sampled_from((high, high + draw(st.integers(0, by)), None)))
    return Span(below, above)


def lies_between(exact: TwoEnds, ends: TwoEnds) -> None:
    assert ends.least.value <= exact.least.value
    if ends.most is not None:
        assert exact.least.value <= ends.most.value


@dataclass(frozen=True)
class Asked:
    """A circuit of which everything is known, and the same of which less is said."""

    metal: str
    run: Run
    device: Span
    metals: tuple[str, ...]
    wider_run: Run
    wider_device: Span


@st.composite
def asked(draw: st.DrawFn) -> Asked:
    metal, run = draw(st.sampled_from(METALS)), draw(exact_runs())
    device = point(draw(st.sampled_from((15, 20, 60, 90, 100, 200, 400, 800))))
    others = draw(st.lists(st.sampled_from(METALS), max_size=2))
    metals = tuple(dict.fromkeys([metal, *others]))
    return Asked(metal, run, device, metals, draw(less_said(run)), _wider(draw, device, 50))


@given(given_case=asked())
def test_the_grounding_conductor_lies_between_the_ends(given_case: Asked, numbers: NumbersInForce) -> None:
    tables = {each: grounding_rows(numbers, each) for each in METALS}
    run = given_case.run
    exact = Circuit(
        given_case.device,
        (given_case.metal,),
        run.materials,
        run,
        ampacity_tables(numbers),
        small_limits(numbers),
        tables,
        Span(None, None),
    )
    try:
        ends = grounding_ends(exact)
    except OutsideLimits:
        return
    assert ends.most is not None
    assert ends.least.value == ends.most.value
    wider = replace(
        exact,
        run=given_case.wider_run,
        phases=given_case.wider_run.materials,
        metals=given_case.metals,
        device=given_case.wider_device,
    )
    lies_between(ends, grounding_ends(wider))


@st.composite
def exact_lines(draw: st.DrawFn) -> Line:
    factor = Fraction(draw(st.integers(1, 100)), 100)
    return Line(
        point(draw(st.integers(0, 400))),
        point(draw(st.integers(0, 1000))),
        point(draw(st.integers(1, 4))),
        point(draw(st.sampled_from((120, 208, 240, 480)))),
        (draw(st.sampled_from((1, 3))),),
        Span(factor, factor),
    )


@st.composite
def lines(draw: st.DrawFn) -> tuple[Line, Line]:
    """A line of which everything is known, and the same of which less is said."""
    exact = draw(exact_lines())
    factor = exact.power_factor.low
    assert factor is not None
    factors = (exact.power_factor, Span(factor / 2, None), Span(None, Fraction(1)), Span(None, None))
    wider = Line(
        _wider(draw, exact.current, 20),
        _wider(draw, exact.length, 50),
        _wider(draw, exact.sets, 2, Fraction(1)),
        _wider(draw, exact.voltage, 30, Fraction(1)),
        draw(st.sampled_from((exact.phases, (1, 3)))),
        draw(st.sampled_from(factors)),
    )
    return exact, wider


@given(both=lines(), wire=st.integers(0, 10**6), others=st.lists(st.integers(0, 10**6), max_size=3))
def test_the_drop_lies_between_the_ends(
    both: tuple[Line, Line], wire: int, others: list[int], numbers: NumbersInForce
) -> None:
    wires = impedances(numbers)
    exact, wider = both
    chosen = [wires[place % len(wires)] for place in (wire, *others)]
    ends = drop_ends(exact, chosen[:1])
    assert ends.most is not None
    assert ends.least.value == ends.most.value
    lies_between(ends, drop_ends(wider, chosen))
