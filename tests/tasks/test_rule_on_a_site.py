"""A rule explained on a site says of each of its subjects what a review of the site says."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.findings.review import review
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, job_of
from checker.tasks.telling.rule_explained import on_site

FIXTURES = Path(__file__).parents[2] / "fixtures"


@pytest.mark.parametrize("place", ["harrow-lane", "lowmere", "withy-hollow"])
def test_each_rule_comes_out_as_in_the_review(place: str) -> None:
    """The sites state no loads: what is worked out has to be the same in both."""
    job = job_of(FIXTURES / place / "site.yaml", Library.shipped(), Overrides())
    reviewed = {each.id: each.outcome for each in review(job).findings}
    explained = {each.finding.id: each.finding.outcome for each in on_site(job, job.rules.rules)}
    assert reviewed.items() <= explained.items()
