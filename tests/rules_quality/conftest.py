"""The packs that come with the program, read once."""

from __future__ import annotations

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.rules.model.pack import Pack
from checker.tasks.gathering.library import Library


@pytest.fixture(scope="session")
def catalog() -> Catalog:
    return shipped_catalog()


@pytest.fixture(scope="session")
def packs() -> tuple[Pack, ...]:
    return Library.shipped().packs
