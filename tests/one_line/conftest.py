"""The drawings that were worked out by hand, each read once, and a folder for those that are made at random."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from checker.facts.view import View
from checker.site.model import Site
from tests.one_line.sheet import Drawn, drawings, view


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("drawings")


@pytest.fixture(scope="session")
def views(folder: Path) -> Mapping[str, View]:
    return {drawn.name: view(drawn.site(folder)) for drawn in drawings()}


@pytest.fixture(params=drawings(), ids=lambda drawn: drawn.name)
def drawn(request: pytest.FixtureRequest) -> Drawn:
    found = request.param
    assert isinstance(found, Drawn)
    return found


@pytest.fixture
def seen(drawn: Drawn, views: Mapping[str, View]) -> View:
    return views[drawn.name]


@pytest.fixture
def site(seen: View) -> Site:
    return seen.ground.site
