"""The program against the second implementation, and that one against what was worked out by hand."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.one_line.enumeration import Answer, Plant, Work, answers
from tests.one_line.sheet import Drawn, drawings

ALL = drawings()
UNKNOWN = "unknown"

COLUMNS: Mapping[str, tuple[str, Work]] = {
    "tie": ("sets", Plant.ties),
    "overlap": ("sets", Plant.overlaps),
    "ring": ("sets", Plant.rings),
    "bonds": ("sets", Plant.bonds),
    "again": ("opened", Plant.live_again),
    "starts": ("opened", Plant.starts),
}


@pytest.fixture(params=ALL, ids=lambda drawn: drawn.name)
def drawn(request: pytest.FixtureRequest) -> Drawn:
    found = request.param
    assert isinstance(found, Drawn)
    return found


@pytest.mark.parametrize("column", COLUMNS)
def test_the_enumeration_finds_what_was_worked_out_by_hand(drawn: Drawn, column: str, tmp_path: Path) -> None:
    """Where something is not known, what was worked out by hand is everything that can come out."""
    site = drawn.site(tmp_path)
    table, work = COLUMNS[column]
    found = {tag: in_a_table(each) for tag, each in answers(site, work).items()}
    if column in ("tie", "again") and not Plant(site).other_sources_excluded:
        found = {tag: UNKNOWN if answer is False else answer for tag, answer in found.items()}
    assert found == {tag: row[column] for tag, row in drawn.table.get(table, {}).items()}


def in_a_table(found: set[Answer]) -> bool | int | list[int] | str:
    """The answers as the tables write them."""
    counts = sorted(each for each in found if each is not None and not isinstance(each, bool))
    if counts and None not in found:
        return counts[0] if len(counts) == 1 else [counts[0], counts[-1]]
    (answer,) = found if len(found) == 1 else (None,)
    return UNKNOWN if answer is None else answer


def test_reach(drawn: Drawn, tmp_path: Path) -> None:
    assert Plant(drawn.site(tmp_path)).reach() == {tag: set(sources) for tag, sources in drawn.table["reach"].items()}
