"""Ways out that would hurt somebody: a switch without the neutral that its loads need, and the set stopped alone."""

from __future__ import annotations

import shutil
from pathlib import Path

from checker import review
from checker.files.folders import data_folder
from checker.findings.judging.outcomes import Outcome
from checker.report.text import text_report

FIXTURES = data_folder("fixtures")


def test_no_neutral_in_the_switch_is_no_way_out_of_a_second_bond(tmp_path: Path) -> None:
    folder = tmp_path / "snipe-lodge"
    shutil.copytree(FIXTURES / "snipe-lodge", folder)
    site = folder / "site.yaml"
    text = site.read_text(encoding="utf-8")
    assert text.count("neutral: solid") == 1
    site.write_text(text.replace("neutral: solid", "neutral: not_carried"), encoding="utf-8")
    rule = "neutral-comes-through-the-switch-with-its-circuit"
    found = {each.outcome for each in review(site).findings if rule in each.id}
    assert found == {Outcome.CORRECTION}


def test_an_inverter_that_feeds_alone_is_stopped_with_the_set() -> None:
    text = " ".join(text_report(review(FIXTURES / "dunlin-terrace" / "site.yaml")).split())
    assert "Stop the set first, and only then open P1" not in text
    assert "the inverter that feeds without the utility" in text


def test_where_only_a_set_can_feed_the_set_is_stopped() -> None:
    text = " ".join(text_report(review(FIXTURES / "harrow-lane" / "site.yaml")).split())
    assert "Stop the set first, and only then open ATS1" in text
