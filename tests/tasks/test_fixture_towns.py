"""The layers of the invented towns: none is wrong, and every case beside them holds."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.rules.layers.cases import read_layer_cases
from checker.tasks.testing.layer_cases import run_layer_cases
from tests.project.project_tree import ROOT
from tests.tasks.town import lint, read

TOWNS = sorted({path.parent for path in (ROOT / "fixtures").glob("*/profile.yaml")})


def test_towns_are_there() -> None:
    assert {"alderwick", "gull-strand", "quill-harbor"} <= {each.name for each in TOWNS}


@pytest.mark.parametrize("folder", TOWNS, ids=lambda folder: folder.name)
def test_nothing_in_a_town_is_wrong(folder: Path) -> None:
    assert lint(folder).errors == ()


@pytest.mark.parametrize("folder", TOWNS, ids=lambda folder: folder.name)
def test_every_case_holds(folder: Path) -> None:
    catalog = shipped_catalog()
    stacks = read(folder).stacks.values()
    results = [each for stack in stacks for each in run_layer_cases(stack, read_layer_cases(stack, catalog), catalog)]
    assert [each.complaints for each in results if not each.holds] == []
    assert bool(results) == bool(stacks)
