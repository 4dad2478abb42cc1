"""Conductors as electricians write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from checker.values.conductors import Conductor, read_conductor
from checker.values.refusals import NotationError
from checker.values.wire_sizes import read_wire_size
from tests.values.reading import read_or_none


@pytest.mark.parametrize(
    ("text", "size", "material", "per_phase", "insulation", "bare"),
    [
        ("3 AWG copper", "3 AWG", "copper", 1, None, None),
        ("3 AWG Cu", "3 AWG", "copper", 1, None, None),
        ("3 AWG CU.", "3 AWG", "copper", 1, None, None),
        ("3 AWG", "3 AWG", None, 1, None, None),
        ("#3", "3 AWG", None, 1, None, None),
        ("#3 Cu THWN-2", "3 AWG", "copper", 1, "THWN-2", False),
        ("#3 THWN-2 Cu", "3 AWG", "copper", 1, "THWN-2", False),
        ("No. 3 Cu thwn-2", "3 AWG", "copper", 1, "THWN-2", False),
        ("8 AWG copper", "8 AWG", "copper", 1, None, None),
        ("4 AWG Cu, bare", "4 AWG", "copper", 1, None, True),
        ("#4, Cu", "4 AWG", "copper", 1, None, None),
        ("#6 solid bare copper", "6 AWG", "copper", 1, None, True),
        ("bare #4 Cu", "4 AWG", "copper", 1, None, True),
        ("copper 4 AWG", "4 AWG", "copper", 1, None, None),
        ("4/0 AWG Al", "4/0 AWG", "aluminum", 1, None, None),
        ("4/0 AWG Al bare", "4/0 AWG", "aluminum", 1, None, True),
        ("4/0 aluminium", "4/0 AWG", "aluminum", 1, None, None),
        ("2/0 alum. XHHW-2", "2/0 AWG", "aluminum", 1, "XHHW-2", False),
        ("1/0 AWG insulated Cu", "1/0 AWG", "copper", 1, None, False),
        ("12 AWG copper-clad aluminum", "12 AWG", "copper_clad_aluminum", 1, None, None),
        ("12 AWG Cu-clad Al", "12 AWG", "copper_clad_aluminum", 1, None, None),
        ("12 AWG CCA", "12 AWG", "copper_clad_aluminum", 1, None, None),
        ("2 x 350 kcmil Cu", "350 kcmil", "copper", 2, None, None),
        ("2x350 kcmil", "350 kcmil", None, 2, None, None),
        ("2X350 MCM AL", "350 kcmil", "aluminum", 2, None, None),
        ("2 × 350 kcmil Cu", "350 kcmil", "copper", 2, None, None),
        ("(2) 3/0 Cu XHHW-2", "3/0 AWG", "copper", 2, "XHHW-2", False),
        ("(2)3/0", "3/0 AWG", None, 2, None, None),
        ("2 sets of 500 kcmil Cu THHN/THWN-2", "500 kcmil", "copper", 2, "THHN/THWN-2", False),
        ("3 parallel sets of 600 kcmil Al", "600 kcmil", "aluminum", 3, None, None),
        ("1,000 kcmil Cu", "1000 kcmil", "copper", 1, None, None),
    ],
)
def test_accepted(
    text: str, size: str, material: str | None, per_phase: int, insulation: str | None, bare: bool | None
) -> None:
    assert read_conductor(text) == Conductor(read_wire_size(size), material, per_phase, insulation, bare)
    assert read_conductor(text).size.name == size


@pytest.mark.parametrize(
    ("text", "words", "help_words"),
    [
        ("3 Cu", "3 has no unit", "3 AWG"),
        ("350 Cu", "350 has no unit", "350 kcmil"),
        ("5 AWG Cu", "not a size", "4 AWG"),
        ("3 AWG Cuu", "Cuu in 3 AWG Cuu is not a word for a conductor", "cu"),
        ("3 AWG coper", "coper", "copper"),
        ("3 AWG Cu THWN2", "THWN2", "THWN-2"),
        ("3 AWG Cu THHN/THWN2", "THHN/THWN2", "THW"),
        ("3 AWG Cu 75C", "75C", "3 AWG Cu THWN-2"),
        ("3 AWG Cu Al", "contradicts itself", "one material"),
        ("3 AWG bare THHN", "contradicts itself", "or bare"),
        ("3 AWG THHN XHHW", "contradicts itself", "one insulation"),
        ("0 x 350 kcmil", "no conductors", "2 x 350 kcmil"),
        ("copper", "no wire size", "3 AWG Cu THWN-2"),
        ("35 mm2 Cu", "has no unit|no wire size|not a word", "AWG"),
        ("", "Nothing is written", "unknown"),
    ],
)
def test_refused(text: str, words: str, help_words: str) -> None:
    with pytest.raises(NotationError) as refused:
        read_conductor(text)
    assert any(each in refused.value.sentence for each in words.split("|"))
    assert help_words in f"{refused.value.remedy} {refused.value.near}"


@given(st.text(alphabet="0123456789/#. ,()xAWGkcmilCuTHN-", max_size=20) | st.text(max_size=30))
def test_any_text_is_read_or_refused_in_a_sentence(text: str) -> None:
    conductor = read_or_none(read_conductor, text)
    assert conductor is None or conductor.per_phase > 0
