"""What the tests of the reports share: packs read once, and every fixture reviewed once."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from checker.findings.finding import Review
from checker.tasks.gathering.library import Library
from tests.report.golden import PLACES, known_review, library_of_tests


@pytest.fixture(scope="session")
def library() -> Library:
    return library_of_tests()


@pytest.fixture(scope="session")
def fixture_reviews() -> Mapping[str, Review]:
    return {place: known_review(place) for place in PLACES}
