"""Cover of buried wiring and insulation for wet places against what is published of them."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from checker.site.model import Subject
from checker.tasks.gathering.library import Library
from checker.values.possible import Possible, exactly
from tests.facts.reading import view_under
from tests.published.conductor_tables import look_up, rows, sized

EDITIONS = ("2017", "2020", "2023", "2026")
INCH = Fraction(1, 12)
PLACES = ("open_ground", "thin_concrete", "building", "slab", "traffic", "dwelling_driveway")

PRINTED = {
    # https://up.codes/s/underground-installations, the table of an adopted code, columns 1 to 3 in its order of rows.
    "direct_burial": (24, 18, None, 18, 24, 18),
    "rigid_metal_raceway": (6, 6, 0, 4, 24, 18),
    "other_raceway": (18, 12, 0, 4, 24, 18),
}
HANDOUT = {
    # A building office's sheet for homeowners, "Depth requirements for residential underground electrical wiring",
    # https://studylib.net/doc/18633587: cover in the open, and of direct burial under 4 in. of concrete.
    ("rigid_metal_raceway", "open_ground"): 6,
    ("other_raceway", "open_ground"): 18,
    ("direct_burial", "open_ground"): 24,
    ("direct_burial", "slab"): 18,
}
MAGAZINE = {("other_raceway", "open_ground"): 18}
"""http://ecmweb.com/print/nec/code-qa-3: a residential service lateral in rigid nonmetallic conduit."""


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def cover(edition: str, lies: str, under: str) -> Fraction | None:
    return look_up("cover-of-buried-wiring", edition, lies=exactly(lies), under=exactly(under))


@pytest.mark.parametrize("edition", EDITIONS)
def test_cover_as_printed(edition: str) -> None:
    for lies, printed in PRINTED.items():
        for under, inches in zip(PLACES, printed, strict=True):
            assert cover(edition, lies, under) == (None if inches is None else inches * INCH), (lies, under)
    assert len(rows("cover-of-buried-wiring", edition)) == 17


@pytest.mark.parametrize("edition", EDITIONS)
def test_cover_as_a_building_office_and_a_magazine_tell_it(edition: str) -> None:
    for (lies, under), inches in (*HANDOUT.items(), *MAGAZINE.items()):
        assert cover(edition, lies, under) == inches * INCH, (lies, under)


# https://www.ecmweb.com/national-electrical-code/qa/article/55298684: types for wet places by 310.10(C) of 2023.
FOR_WET = (
    *("MTW", "RHW", "RHW-2", "TW", "THW", "THW-2", "THHW", "THWN", "THWN-2"),
    *("XHHW", "XHHW-2", "XHWN", "XHWN-2", "ZW"),
)
# A forum of inspectors on 310.8(C): https://forums.mikeholt.com/threads/xhhw-90-degree-copper-conductors-in-hospitals.43954;
# that a cable of type NM is none for a raceway outdoors, from https://loomi.fyi/nec/direct-burial-wire/.
NOT_FOR_WET = ("THHN", "NM-B")

RUN = """
site: {{name: Teal Cottage, stage: plan_review}}
equipment:
  GEN1: {{kind: generator, ways: {{1: {{overcurrent: 60 A}}}}}}
  P1: {{kind: panelboard, fed_from: GEN1/1}}
runs:
  GEN1/1>P1: {{phase: 6 AWG copper {letters}}}
"""


def for_wet(letters: str, folder: Path, library: Library) -> Possible:
    view = view_under("nec-2023", RUN.format(letters=letters), folder, library)
    return view.read(Subject("connection", "GEN1/1>P1"), "insulated_for_wet")


@pytest.mark.parametrize(
    ("letters", "answer"), [*((each, True) for each in FOR_WET), *((each, False) for each in NOT_FOR_WET)]
)
def test_types_for_wet_places(letters: str, answer: bool, tmp_path: Path, library: Library) -> None:
    assert for_wet(letters, tmp_path, library) == exactly(answer)


@pytest.mark.parametrize(("metal", "size"), [("copper", "3/0"), ("aluminum", "250")])
def test_a_bond_of_a_water_pipe_is_never_larger(metal: str, size: str) -> None:
    """A course for licensed electricians on 250.104(A)(1) of 2023:
    https://www.electricallicenserenewal.com/Electrical-Continuing-Education-Courses/NEC-Content.php?sectionID=1613.
    """
    assert look_up("water-pipe-bond-limits", "2023", material=exactly(metal)) == sized(size).circular_mils
