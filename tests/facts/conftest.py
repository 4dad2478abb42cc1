"""What the tests of facts share: packs read once."""

from __future__ import annotations

import pytest

from checker.tasks.gathering.library import Library


@pytest.fixture(scope="session")
def library() -> Library:
    return Library.shipped()
