"""The drawing of a sign: true measures, nothing on anything else, and nothing in a name gets out of its place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from xml.etree import ElementTree as ET

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from checker.catalog.model import Stage
from checker.findings.finding import PieceOfLine, Review, Sign
from checker.findings.judging.outcomes import Outcome
from checker.report.signs.data import labels_data
from checker.report.signs.geometry import WIDTH, SignDrawing, sign_drawing
from checker.report.signs.lengths import both_units
from checker.report.signs.page import labels_html
from checker.report.signs.svg import labels_svg, sign_svg
from checker.report.signs.text import labels_text
from checker.tasks.papers.label_sheet import Asking, LabelSheet, SignState, SignWanted, is_metric, label_sheet
from tests.report.page.test_page import HOSTILE, Reader
from tests.report.reviews import finding, review

WORDS = ("EMERGENCY DISCONNECT", "SERVICE DISCONNECT")
PLAIN = Sign(WORDS, "", "", ("ATS1",), "", "red", "white", "1/2 in", "1/24", "", None, ())


def _wanted(sign: Sign, tag: str = "ATS1") -> SignWanted:
    piece = PieceOfLine(tag, "transfer_switch", "transfer switch", "", first=False)
    return SignWanted("4", sign, tag, (piece,), (Asking(finding(Outcome.CORRECTION), SignState.MISSING),))


def _drawn(sign: Sign) -> SignDrawing:
    return sign_drawing(_wanted(sign), Stage.PLAN_REVIEW)


def test_letters_are_drawn_at_the_height_that_is_asked_for() -> None:
    """Half an inch is 12.7 mm (an inch is 25.4 mm, NIST SP 811, appendix B.8)."""
    drawing = _drawn(PLAIN)
    assert drawing.scale == 1
    rows = [each for each in drawing.words if each.fitted]
    assert [each.text for each in rows] == list(WORDS)
    assert [each.capital for each in rows] == pytest.approx([12.7, 12.7])
    texts = [each.text for each in drawing.words]
    assert texts.index("(12.7 mm)") == texts.index("min. 1/2 in") + 1
    assert "White letters on red, letters 1/2 in (12.7 mm) high or more." in texts


def test_the_units_of_the_site_lead_and_both_are_of_one_value() -> None:
    """An inch is 25.4 mm (NIST SP 811, appendix B.8)."""
    free = replace(PLAIN, letter_height="", letter_feet="")
    for sign, metric, told in (
        (PLAIN, True, ("min. 12.7 mm", "(1/2 in)")),
        (free, False, ("free: 1/2 in", "(12.7 mm)")),
        (free, True, ("free: 10 mm", "(0.39 in)")),
    ):
        drawing = sign_drawing(replace(_wanted(sign), metric=metric), Stage.PLAN_REVIEW)
        texts = [each.text for each in drawing.words]
        assert texts.index(told[1]) == texts.index(told[0]) + 1
    assert both_units(Fraction(5, 4), metric=False) == ("1-1/4 in", "(31.8 mm)")
    assert both_units(Fraction(2), metric=True) == ("50.8 mm", "(2 in)")
    assert is_metric(["310 m", "1.2 m", "3 ft", "1 MW", "copper"])
    assert not is_metric(["300 ft", "5'-6\"", "20 mm"])


def test_a_plate_that_is_too_wide_is_drawn_at_a_stated_scale() -> None:
    """1:2 is a scale of reduction of ISO 5455."""
    drawing = _drawn(replace(PLAIN, words=("METER-MOUNTED TRANSFER SWITCH",)))
    assert drawing.scale == 2
    assert [each.capital for each in drawing.words if each.fitted] == pytest.approx([6.35])
    assert any("scale 1:2" in each.text for each in drawing.words)


def test_without_a_demand_nothing_is_said_to_be_one() -> None:
    drawing = _drawn(replace(PLAIN, ground="", letters="", letter_height="", letter_feet=""))
    assert not [each.text for each in drawing.words if each.text.startswith("min.")]
    assert 'fill="none"' in sign_svg(_wanted(replace(PLAIN, ground="", letters="")), Stage.PLAN_REVIEW)


_TEXTS = st.text(st.characters(codec="utf-8"), min_size=1, max_size=400)
_ROWS = st.lists(st.text(st.characters(codec="utf-8"), min_size=1, max_size=40), max_size=4)


@example(rows=["0" * 35], meaning="0", height="1/4", tag="0")
@given(rows=_ROWS, meaning=_TEXTS, height=st.sampled_from(["", "1/24", "1/96", "1/4"]), tag=_TEXTS)
def test_nothing_lies_on_anything_else(rows: list[str], meaning: str, height: str, tag: str) -> None:
    sign = replace(PLAIN, words=tuple(rows), meaning="" if rows else meaning, letter_feet=height, class_word="warning")
    drawing = sign_drawing(_wanted(replace(sign, places=(tag,)), tag), Stage.PLAN_REVIEW)
    for one, other in combinations(drawing.words, 2):
        assert not one.box.meets(other.box), (one, other)
    plate = drawing.plate.box
    for each in drawing.words:
        inside = plate.left <= each.box.left and each.box.right <= plate.right
        inside = inside and plate.top <= each.box.top and each.box.bottom <= plate.bottom
        assert inside if each.on_plate else not each.box.meets(plate)
        assert each.box.left >= 0
        assert each.box.right <= WIDTH + 0.01
        assert each.box.bottom <= drawing.height
    for line in drawing.lines:
        middle = ((line.start[0] + line.end[0]) / 2, (line.start[1] + line.end[1]) / 2)
        assert not (plate.left < middle[0] < plate.right and plate.top < middle[1] < plate.bottom)


def test_every_drawing_is_sound_and_asks_for_nothing_outside(fixture_reviews: Mapping[str, Review]) -> None:
    drawn = 0
    for found in fixture_reviews.values():
        sheet = label_sheet(found)
        text = labels_svg(found, sheet)
        root = ET.fromstring(text)
        drawn += len(root.findall("{http://www.w3.org/2000/svg}g"))
        assert "href" not in text
        assert text.count("http") == 1
        page = Reader(labels_html(found, sheet))
        assert page.open == []
        assert not {"script", "link", "img", "iframe"} & page.elements
        assert not [value for name, value in page.attributes if name in ("src", "href", "style")]
        assert len(labels_data(found, sheet)["signs"]) == len(sheet.signs)
    assert drawn > 40


@pytest.mark.parametrize("words", [(HOSTILE[:30],), ()])
def test_hostile_names_stay_in_their_place(words: tuple[str, ...]) -> None:
    sign = replace(PLAIN, words=words, meaning="" if words else HOSTILE, places=(HOSTILE,), shown=(HOSTILE,))
    wanted = _wanted(sign, HOSTILE)
    found = replace(review(), site_name=HOSTILE)
    sheet = LabelSheet((wanted,))
    root = ET.fromstring(labels_svg(found, sheet))
    assert not [each for each in root.iter() if each.tag.rpartition("}")[2] == "script"]
    page = Reader(labels_html(found, sheet))
    assert page.open == []
    assert "script" not in page.elements
    assert "\x1b" not in labels_text(found, sheet)
    assert "\u202e" not in labels_svg(found, sheet)
