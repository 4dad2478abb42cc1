"""The reports of the fixtures are those that are kept. Renew them with ``python -m tests.report.renew``."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from checker.findings.finding import Review
from checker.report.programs.data import json_report
from checker.report.text import text_report
from checker.tasks.gathering.library import Library
from tests.report.golden import KEPT, PLACES, kept, kept_file, reports, reviewed


def test_there_is_a_report_for_every_fixture_and_no_other() -> None:
    assert PLACES
    assert {path.name for path in KEPT.iterdir()} == {f"{place}{suffix}" for place, suffix in kept()}


@pytest.mark.parametrize(("place", "suffix"), kept())
def test_report_is_the_one_that_is_kept(place: str, suffix: str, fixture_reviews: Mapping[str, Review]) -> None:
    kept = kept_file(place, suffix).read_text(encoding="utf-8")
    assert reports(fixture_reviews[place])[suffix].splitlines() == kept.splitlines()


@pytest.mark.parametrize("place", PLACES)
def test_same_site_gives_the_same_bytes(place: str, fixture_reviews: Mapping[str, Review], library: Library) -> None:
    again = reviewed(place, library)
    assert json_report(again) == json_report(fixture_reviews[place])
    assert text_report(again) == text_report(fixture_reviews[place])
