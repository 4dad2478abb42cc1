"""Insulation for wet places, bonds of the water pipe and the jumper of a neutral: by hand, and between the ends."""

from __future__ import annotations

from itertools import product
from pathlib import Path

import pytest

from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import EITHER_FLAG, Possible, exactly
from checker.values.wire_sizes import SIZES
from tests.facts.reading import fact_of, view_under

SITE = """
site: {{name: Teal Cottage, stage: plan_review}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire, water_pipe_bond: {bond}}}
  P1: {{kind: panelboard, fed_from: UTIL, role: service_disconnect, ways: {{2: {{overcurrent: 100 A}}}}}}
  ATS1: {{kind: transfer_switch, normal: P1/2, alternate: GEN1, neutral: switched}}
  GEN1: {{kind: generator, system: 120/240 V 1-phase 3-wire, water_pipe_bond: {bond}, neutral_jumper: {bond}}}
runs:
  UTIL>P1: {{phase: {phase}}}
  GEN1>ATS1.alternate: {{phase: {phase}}}
"""
YES, NO = exactly(True), exactly(False)
COPPER, ALUMINUM = "2 AWG copper", "2 AWG aluminum"


def of_piece(tag: str, name: str, phase: str, bond: str, folder: Path, library: Library) -> Possible:
    return fact_of(view_under("nec-2023", SITE.format(phase=phase, bond=bond), folder, library), tag, name)


def wet(phase: str, folder: Path, library: Library) -> Possible:
    view = view_under("nec-2023", SITE.format(phase=phase, bond="none"), folder, library)
    return view.read(Subject("connection", "GEN1>ATS1.alternate"), "insulated_for_wet")


@pytest.mark.parametrize(
    ("phase", "answer"),
    [
        ("3 AWG copper THWN-2", YES),
        ("3 AWG copper THHN", NO),
        ("3 AWG copper THHN/THWN-2", YES),
        ("6 AWG copper NM-B", NO),
        ("6 AWG copper UF", YES),
        ("3 AWG copper", EITHER_FLAG),
        ("{size: 3 AWG, material: copper, insulation: unknown}", EITHER_FLAG),
    ],
)
def test_insulation_for_wet_places(phase: str, answer: Possible, tmp_path: Path, library: Library) -> None:
    assert wet(phase, tmp_path, library) == answer


def test_letters_that_no_table_has_get_no_answer(tmp_path: Path, library: Library) -> None:
    phase = "{size: 3 AWG, material: copper, insulation: ABC}"
    found = wet(phase, tmp_path, library)
    assert not found.has_value
    assert "insulation ABC" in next(iter(found.undefined))


def test_letters_of_which_one_is_unknown_may_be_for_the_wet(tmp_path: Path, library: Library) -> None:
    """THHN is not for wet places; what stands beside it might be."""
    phase = "{size: 3 AWG, material: copper, insulation: THHN/ABC}"
    assert not wet(phase, tmp_path, library).has_value
    known = "{size: 3 AWG, material: copper, insulation: THWN/ABC}"
    assert wet(known, tmp_path, library) == YES


WANTED = [
    # Table 250.102(C)(1): 3/0 aluminum lies in the row up to 3/0, 6 AWG copper or 4 AWG aluminum.
    pytest.param("water_pipe_bond_wanted", "3/0 AWG aluminum", COPPER, "6 AWG", id="3/0 aluminum"),
    pytest.param("water_pipe_bond_wanted", "4/0 AWG aluminum", COPPER, "4 AWG", id="a 200 A service of a house"),
    pytest.param("water_pipe_bond_wanted", "4/0 AWG aluminum", ALUMINUM, "2 AWG", id="bond of aluminum"),
    # Past 1100 kcmil an eighth of the area counts for a jumper, and 3/0 copper or 250 kcmil aluminum for a pipe.
    pytest.param("water_pipe_bond_wanted", "8 x 500 kcmil copper", COPPER, "3/0 AWG", id="limit, copper"),
    pytest.param("water_pipe_bond_wanted", "8 x 500 kcmil copper", ALUMINUM, "250 kcmil", id="limit, aluminum"),
    pytest.param("neutral_jumper_wanted", "3 AWG copper", COPPER, "8 AWG", id="jumper of a small set"),
    pytest.param("neutral_jumper_wanted", "8 x 500 kcmil copper", COPPER, "500 kcmil", id="an eighth of 4000 kcmil"),
]


@pytest.mark.parametrize(("name", "phase", "bond", "wanted"), WANTED)
def test_bonds_by_the_phase_conductors(
    name: str, phase: str, bond: str, wanted: str, tmp_path: Path, library: Library
) -> None:
    assert of_piece("GEN1", name, phase, bond, tmp_path, library).number == SIZES[wanted].circular_mils
    if name == "water_pipe_bond_wanted":
        assert of_piece("UTIL", name, phase, bond, tmp_path, library).number == SIZES[wanted].circular_mils


def test_of_several_lines_it_lies_between_each_alone_and_all_together(tmp_path: Path, library: Library) -> None:
    text = SITE.format(phase="3 AWG copper", bond=COPPER) + "  GEN1>P2: {phase: 3 AWG copper}\n"
    text = text.replace("runs:", "  P2: {kind: panelboard, fed_from: GEN1}\nruns:")
    view = view_under("nec-2023", text, tmp_path, library)
    found = fact_of(view, "GEN1", "neutral_jumper_wanted").hull
    # Two lines of 3 AWG: 8 AWG for one alone; together 105,240 cmil, for which the table has 6 AWG.
    assert found is not None
    assert (found.low, found.high) == (SIZES["8 AWG"].circular_mils, SIZES["6 AWG"].circular_mils)


SIZES_TRIED = ("2 AWG", "350 kcmil")
METALS = ("copper", "aluminum")


@pytest.mark.parametrize("name", ["water_pipe_bond_wanted", "neutral_jumper_wanted"])
def test_what_is_filled_in_lies_between_the_ends(name: str, tmp_path: Path, library: Library) -> None:
    """Of phase conductors without their metal, of a bond without its metal, of a number in parallel that is open."""

    def hull(phase: str, bond: str) -> tuple[float, float | None]:
        found = of_piece("GEN1", name, phase, bond, tmp_path, library).hull
        assert found is not None
        assert found.low is not None
        return float(found.low), None if found.high is None else float(found.high)

    for size, phase, bond, sets in product(SIZES_TRIED, METALS, METALS, (1, 2)):
        said = hull(f"{sets} x {size} {phase}", f"4 AWG {bond}")
        for wider in (
            hull(f"{{size: {size}, parallel_sets: {sets}}}", f"4 AWG {bond}"),
            hull(f"{sets} x {size} {phase}", "{size: 4 AWG}"),
            hull(f"{{size: {size}, material: {phase}}}", f"4 AWG {bond}"),
            hull(f"{{material: {phase}}}", f"4 AWG {bond}"),
        ):
            assert wider[0] <= said[0]
            assert wider[1] is None or (said[1] is not None and said[1] <= wider[1])
