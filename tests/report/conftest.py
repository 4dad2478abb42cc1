"""What the tests of the reports share: packs read once, and every fixture reviewed once."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from checker.findings.finding import Review
from checker.tasks.gathering.library import Library
from tests.report.golden import PLACES, reviewed


@pytest.fixture(scope="session")
def library() -> Library:
    return Library.shipped()


@pytest.fixture(scope="session")
def fixture_reviews(library: Library) -> Mapping[str, Review]:
    return {place: reviewed(place, library) for place in PLACES}
