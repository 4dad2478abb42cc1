"""What lies in the raceway of a run: fill, number, conductors that carry current, and between the ends."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.engineering.calculation import OutsideLimits
from checker.facts.conductors.raceway import Wires, fill_ends
from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, Span
from tests.facts.reading import view_under
from tests.facts.set_sites import ends

SITE = """
site: {{name: Fern House, stage: plan_review}}
equipment:
  GEN1: {{kind: generator, system: {system}, ways: {{1: {{overcurrent: 100 A}}}}}}
  P1: {{kind: panelboard, fed_from: GEN1/1}}
runs:
  GEN1/1>P1: {{{run}}}
"""
SPLIT, WYE, WYE_LEGS = "120/240 V 1-phase 3-wire", "208Y/120 V 3-phase 4-wire", "208Y/120 V 1-phase 3-wire"
FOUR = "phase: 3/0 AWG copper THWN-2, neutral_conductor: 3/0 AWG copper THWN-2, grounding: 4 AWG copper THHN"
ALONE = "alone_in_raceway: yes"
EMT = "raceway_kind: emt, raceway_size: 1-1/2 in"


def counts(value: Possible) -> tuple[int | None, int | None]:
    """Both ends as whole numbers."""
    low, high = ends(value)
    return None if low is None else int(low), None if high is None else int(high)


def found(folder: Path, library: Library, name: str, run: str, system: str = SPLIT) -> Possible:
    view = view_under("nec-2020", SITE.format(system=system, run=run), folder, library)
    return view.read(Subject("connection", "GEN1/1>P1"), name)


FILLS = [
    # 3 x 0.2679 + 0.0824 = 0.8861 in2 in 2.036 in2; worked by hand from Tables 4 and 5.
    pytest.param(f"{FOUR}, {EMT}, {ALONE}", "43.52", "43.52", id="alone"),
    pytest.param(f"{FOUR}, {EMT}", "43.52", None, id="others may lie there"),
    pytest.param(f"{FOUR}, {EMT}, alone_in_raceway: no".replace("1-1/2", "2"), "26.4", None, id="others do"),
    pytest.param(f"{FOUR}, {EMT}, {ALONE}".replace("1-1/2 in", "1-1/2 in to 2 in"), "26.4", "43.52", id="two sizes"),
    # 3 x 0.2679 in2 + 4 AWG bare 0.042 in2, and without a grounding conductor.
    pytest.param(f"{FOUR}, {EMT}, {ALONE}".replace("copper THHN", "copper bare"), "41.54", "41.54", id="bare"),
    pytest.param(f"{FOUR}, {EMT}, {ALONE}".replace("4 AWG copper THHN", "none"), "39.47", "39.47", id="none"),
    # Of insulation that is not said either area: 0.2642 or 0.2679, 0.0814 or 0.0824 in2.
    pytest.param(
        f"{FOUR}, {EMT}, {ALONE}".replace(" THWN-2", "").replace(" THHN", ""), "42.93", "43.52", id="insulation open"
    ),
    # Two sets in two raceways lie like one.
    pytest.param(
        f"{FOUR}, {EMT}, {ALONE}, raceways: 2".replace("3/0", "2 x 3/0").replace("4 AWG", "2 x 4 AWG"),
        "43.52",
        "43.52",
        id="two raceways",
    ),
]


@pytest.mark.parametrize(("run", "low", "high"), FILLS)
def test_fill(run: str, low: str, high: str | None, tmp_path: Path, library: Library) -> None:
    lower, upper = ends(found(tmp_path, library, "raceway_fill", run), 4)
    assert lower == Fraction(low) / 100
    assert upper == (None if high is None else Fraction(high) / 100)


def test_no_raceway_is_said(tmp_path: Path, library: Library) -> None:
    for name in ("raceway_fill", "conductors_in_raceway", "conductors_that_fit"):
        assert found(tmp_path, library, name, f"{FOUR}, {ALONE}").only_absent


@pytest.mark.parametrize(
    "change", [("THWN-2", "RHW-2"), ("1-1/2 in", "3/8 in"), ("1-1/2 in", "5 in")], ids=lambda change: change[1]
)
def test_what_the_tables_do_not_have_is_not_worked_out(
    change: tuple[str, str], tmp_path: Path, library: Library
) -> None:
    value = found(tmp_path, library, "raceway_fill", f"{FOUR}, {EMT}, {ALONE}".replace(*change))
    assert not value.has_value
    assert "not worked out" in next(iter(value.undefined))


ALIKE = "phase: 3 x 12 AWG copper THHN, neutral_conductor: 3 x 12 AWG copper THHN, grounding: none, raceways: 1"
HALF_INCH = "raceway_kind: emt, raceway_size: 1/2 in, length: 20 ft"


def test_conductors_of_one_size_by_number(tmp_path: Path, library: Library) -> None:
    """Annex C lets nine of 12 AWG into 1/2 in of EMT: 0.4 x 0.304 / 0.0133 = 9.14; in a nipple 13.7 are thirteen."""
    run = f"{ALIKE}, {HALF_INCH}, {ALONE}"
    assert found(tmp_path, library, "conductors_in_raceway", run).number == 9
    assert found(tmp_path, library, "conductors_that_fit", run).number == 9
    assert found(tmp_path, library, "conductors_that_fit", run.replace("20 ft", "2 ft")).number == 13
    assert found(tmp_path, library, "conductors_that_fit", run.replace("20 ft", "1 ft to 3 ft")).number is None
    with_ground = run.replace("grounding: none", "grounding: 10 AWG copper THHN")
    assert found(tmp_path, library, "conductors_that_fit", with_ground).only_absent
    assert found(tmp_path, library, "conductors_that_fit", f"{ALIKE}, {HALF_INCH}, alone_in_raceway: no").only_absent
    assert found(tmp_path, library, "conductors_that_fit", f"{ALIKE}, {HALF_INCH}").number is None


CARRYING = [
    # 310.15(E): the neutral between two legs of a split phase is not counted, on two legs of a wye it is, and on all of
    # a wye where more than half of the load is nonlinear.
    pytest.param(SPLIT, "", 2, 2, id="split"),
    pytest.param(WYE_LEGS, "", 3, 3, id="two legs of a wye"),
    pytest.param(WYE, "nonlinear_share: 50 %", 3, 3, id="wye, half nonlinear"),
    pytest.param(WYE, "nonlinear_share: 51 %", 4, 4, id="wye, more than half"),
    pytest.param(WYE, "", 3, 4, id="wye, share not known"),
]


@pytest.mark.parametrize(("system", "more", "low", "high"), CARRYING)
def test_conductors_that_carry_current(
    system: str, more: str, low: int, high: int, tmp_path: Path, library: Library
) -> None:
    run = f"{FOUR}, {more}" if more else FOUR
    assert counts(found(tmp_path, library, "current_carrying", f"{run}, {ALONE}", system)) == (low, high)
    assert counts(found(tmp_path, library, "current_carrying", run, system)) == (low, None)


def test_sets_in_one_raceway_count_together(tmp_path: Path, library: Library) -> None:
    """Two sets of two in one raceway are four, for which an ampacity counts 80 % (Table 310.15(C)(1))."""
    run = (
        FOUR.replace("3/0", "2 x 3/0") + f", {ALONE}, length: 100 ft, terminals: 75 C, ambient: 86 F, above_roof: none"
    )
    assert found(tmp_path, library, "current_carrying", f"{run}, raceways: 2").number == 2
    assert found(tmp_path, library, "current_carrying", f"{run}, raceways: 1").number == 4
    assert counts(found(tmp_path, library, "current_carrying", run)) == (2, 4)
    apart = found(tmp_path, library, "ampacity", f"{run}, raceways: 2").number
    together = found(tmp_path, library, "ampacity", f"{run}, raceways: 1").number
    # At 90 °C 225 A x 0.8 = 180 A; apart the terminals of 75 °C let 200 A come.
    assert apart == 400
    assert together == 360


def test_a_stated_number_that_is_too_small_leaves_both(tmp_path: Path, library: Library) -> None:
    run = FOUR.replace("3/0", "2 x 3/0") + f", {ALONE}, raceways: 1"
    assert found(tmp_path, library, "current_carrying", f"{run}, current_carrying: 4").number == 4
    assert counts(found(tmp_path, library, "current_carrying", f"{run}, current_carrying: 2")) == (2, 4)


# --- between the ends ------------------------------------------------------------------------------------------------

COUNTS, AREAS = st.integers(0, 4).map(Fraction), st.integers(1, 900).map(lambda each: Fraction(each, 1000))


def around(draw: st.DrawFn, exact: Fraction, step: Fraction) -> Span:
    """The number, or a span around it, or one without an upper end."""
    low = max(Fraction(0), exact - step)
    return draw(st.sampled_from((Span(exact, exact), Span(low, exact + step), Span(low, None))))


@given(st.lists(st.tuples(COUNTS, AREAS), min_size=1, max_size=3), AREAS, st.data())
def test_a_fill_lies_between_its_ends(
    wires: list[tuple[Fraction, Fraction]], inside: Fraction, data: st.DataObject
) -> None:
    exact = [Wires(Span(count, count), Span(area, area)) for count, area in wires]
    one = fill_ends(exact, Span(inside, inside), is_alone=True)
    assert one.agree
    draw = data.draw
    less = [
        Wires(
            draw(st.composite(around)(count, Fraction(1))),
            draw(st.composite(around)(area, Fraction(1, 10_000))),
        )
        for count, area in wires
    ]
    wide = Span(inside * Fraction(9, 10), inside * Fraction(11, 10))
    two = fill_ends(less, draw(st.sampled_from((Span(inside, inside), wide))), is_alone=draw(st.booleans()))
    assert two.least.value <= one.least.value
    assert two.most is None or one.least.value <= two.most.value


def test_a_raceway_without_a_size_has_no_fill() -> None:
    with pytest.raises(OutsideLimits, match="no end"):
        fill_ends(
            [Wires(Span(Fraction(1), Fraction(1)), Span(Fraction(1), Fraction(1)))], Span(None, None), is_alone=True
        )
