"""Every page is set with one head, which says once what a browser may load."""

from __future__ import annotations

import pytest

from checker.report.setting import environment
from tests.project.project_tree import ROOT

PAGES = [
    ("page", "page.html"),
    ("page", "schedule.html"),
    ("page", "field_sheet.html"),
    ("packet", "submittal.html"),
    ("signs", "labels.html"),
]


def test_the_head_and_what_a_browser_may_load_stand_in_one_template() -> None:
    heads = [each.name for each in (ROOT / "checker" / "report").rglob("*.html") if "<head>" in each.read_text("utf-8")]
    allowed = [
        each.name
        for each in (ROOT / "checker" / "report").rglob("*.html")
        if "Content-Security-Policy" in each.read_text("utf-8")
    ]
    assert heads == allowed == ["base.html"]


@pytest.mark.parametrize(("room", "name"), PAGES)
def test_every_page_fills_the_common_head(room: str, name: str) -> None:
    loader = environment(room).loader
    assert loader is not None
    source, _, _ = loader.get_source(environment(room), name)
    assert source.startswith('{% extends "base.html" %}')
