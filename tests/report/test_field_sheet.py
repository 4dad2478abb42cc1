"""The sheet that is taken along. Renew the one that is kept with ``python -m tests.report.renew_field_sheet``."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from checker.catalog.model import Stage
from checker.report.field_sheet import (
    BOX,
    HEADINGS,
    MEANINGS,
    WIDTH,
    field_sheet_html,
    field_sheet_text,
    meanings,
    parts,
)
from checker.tasks.gathering.library import Library
from checker.tasks.questions.sheet import FieldSheet, field_sheet
from checker.tasks.questions.where import Stop
from checker.tasks.reviewing import Overrides, job_of
from tests.project.project_tree import ROOT
from tests.report.renew_field_sheet import KEPT, PLACE, sheet_of


@pytest.fixture(scope="module")
def sheet(library: Library) -> FieldSheet:
    return sheet_of(PLACE, library)


def test_sheet_is_the_one_that_is_kept(sheet: FieldSheet) -> None:
    assert field_sheet_text(sheet).splitlines() == KEPT.read_text(encoding="utf-8").splitlines()


def test_stops_are_in_walking_order_and_papers_last(sheet: FieldSheet) -> None:
    stops = [each.stop for each in sheet.stops]
    assert stops == sorted(stops, key=lambda each: each.order)
    assert list(HEADINGS) == list(Stop)
    headings = [part.heading for part in parts(sheet)]
    assert [heading for heading in HEADINGS.values() if heading in headings] == headings


def test_each_line_has_a_number_of_its_own_a_place_to_write_and_what_waits_for_it(sheet: FieldSheet) -> None:
    rows = [row for part in parts(sheet) for row in part.rows]
    assert [row.number for row in rows] == list(range(1, len(rows) + 1))
    assert all(row.waits > 0 for row in rows)
    assert all(row.boxes or row.is_written for row in rows)
    looks = sum(len(part.looks) for part in parts(sheet))
    later = sum(len(part.later) for part in parts(sheet))
    assert looks + later == sum(1 for each in sheet.found.findings if each.outcome.value == "verify_in_field")
    text = field_sheet_text(sheet)
    assert text.count(BOX) == sum(len(row.boxes) for row in rows) + 2 * looks
    lines = text.partition(f"\n{MEANINGS}\n")[0].splitlines()
    for row in rows:
        assert any(line.startswith(f"{row.number:>3}  {row.asked[:30]}") for line in lines), row


def test_what_is_asked_of_one_piece_stands_together_and_is_explained_once(sheet: FieldSheet) -> None:
    for part in parts(sheet):
        names = [piece.name for piece in part.pieces]
        assert len(set(names)) == len(names)
    told = meanings(parts(sheet))
    asked = [name for name, _ in told]
    assert len(set(asked)) == len(asked)
    assert set(asked) == {row.asked for part in parts(sheet) for row in part.rows if row.means}


@pytest.mark.parametrize("place", ["plover-row", "harrow-lane", "heron-cottage"])
def test_the_sheet_of_a_dwelling_is_short_enough_for_a_clipboard(place: str, library: Library) -> None:
    """About four sheets of paper with 60 lines each."""
    text = field_sheet_text(sheet_of(place, library))
    assert len(text.splitlines()) < 250
    assert max(map(len, text.splitlines())) <= WIDTH


def test_what_is_looked_at_later_is_told_in_short_and_in_full_at_its_stage(library: Library) -> None:
    path = ROOT / "fixtures" / "harrow-lane" / "site.yaml"
    early = field_sheet(job_of(path, library, Overrides()))
    late = field_sheet(job_of(path, library, Overrides(stage=Stage.ACCEPTANCE)))
    short = [text for part in parts(early) for text in part.later]
    assert short
    assert not [text for part in parts(late) for text in part.later]
    assert len(field_sheet_text(late)) > len(field_sheet_text(early))
    assert any(look.cautions for part in parts(late) for look in part.looks)


def test_free_tables_are_there_only_while_the_loads_are_not_all_listed(library: Library) -> None:
    assert "Loads, as their nameplates say" not in field_sheet_text(sheet_of("harrow-lane", library))
    assert "Loads, as their nameplates say" in field_sheet_text(sheet_of(PLACE, library))


def test_every_finding_that_waits_for_a_fact_of_the_file_is_on_the_sheet(sheet: FieldSheet) -> None:
    waiting = {each.id for each in sheet.found.findings if each.outcome.value == "needs_information" and each.needs}
    told = {
        f"{each.planned.rule.id}@{each.subject.known_as}"
        for stop in sheet.stops
        for line in stop.lines
        for each in line.waits
    }
    assert waiting <= told


def test_page_asks_for_nothing_from_outside_and_prints(sheet: FieldSheet) -> None:
    page = field_sheet_html(sheet)
    assert page.startswith("<!doctype html>\n")
    assert not re.search(r"(src|href)=|https?:|@import|<script", page)
    assert "@media print" in page
    text = field_sheet_text(sheet)
    assert page.count('class="box"') == text.count(BOX)
    assert page.count('class="line') == sum(row.is_written for part in parts(sheet) for row in part.rows) + len(
        [each for part in parts(sheet) for each in part.looks]
    )
    assert page == field_sheet_html(sheet)


def test_a_name_is_text_and_nothing_else_on_the_page(library: Library, tmp_path: Path) -> None:
    path = tmp_path / "site.yaml"
    path.write_text(
        'site: {name: "<b>x</b> {{7*7}}", jurisdiction: nec-2020, stage: plan_review, occupancy: one_family_dwelling}\n'
        'permit: {application_date: "2024-03-14"}\n'
        "equipment:\n  UTIL: {kind: utility_supply}\n  M1: {kind: meter, fed_from: UTIL}\n"
        "  P1: {kind: panelboard, fed_from: M1}\n"
        'loads:\n  - {name: "<i>pump</i>[2J", at: P1}\n',
        encoding="utf-8",
    )
    sheet = field_sheet(job_of(path, library, Overrides()))
    text, page = field_sheet_text(sheet), field_sheet_html(sheet)
    assert "{{7*7}}" in text
    assert "{{7*7}}" in page
    assert "<b>x" not in page
    assert "<i>pump" not in page


METRIC = re.compile(r"mm|cm|m|km|kg|L|kPa|m2|m3")


def test_units_are_those_of_the_place_but_where_a_marking_is_in_degrees_celsius(sheet: FieldSheet) -> None:
    """Lugs and devices are marked 60 or 75 in degrees Celsius in North America too (trade practice, no source)."""
    rows = [row for part in parts(sheet) for row in part.rows]
    degrees = {row.asked: row.unit for row in rows if "\u00b0" in row.unit}
    assert degrees == {
        "temperature around the run": "\u00b0F",
        "temperature marked at the terminals": "\u00b0C, as marked",
    }
    assert not [row for row in rows if METRIC.fullmatch(row.unit) or row.unit in ("F", "C")]
