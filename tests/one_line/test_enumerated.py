"""The second implementation against what was worked out by hand."""

from __future__ import annotations

import pytest

from checker.site.model import Site
from tests.one_line.enumeration import Answer, Plant, answers
from tests.one_line.reading import COLUMNS, NEVER_SURE, OF_DISCONNECTS, OF_INVERTERS, OF_SENSORS, OF_SETS
from tests.one_line.sheet import Drawn

UNKNOWN = "unknown"


TABLES = {"sets": OF_SETS, "inverters": OF_INVERTERS, "opened": OF_DISCONNECTS, "sensors": OF_SENSORS}


@pytest.mark.parametrize(
    "column", [column for columns in TABLES.values() for column in columns if column != "at_transfer"]
)
def test_the_enumeration_finds_what_was_worked_out_by_hand(drawn: Drawn, site: Site, column: str) -> None:
    """Where something is not known, what was worked out by hand is everything that can come out."""
    found = {tag: in_a_table(each) for tag, each in answers(site, COLUMNS[column][1]).items()}
    if column in NEVER_SURE and not Plant(site).other_sources_excluded:
        found = {tag: UNKNOWN if answer is False else answer for tag, answer in found.items()}
    rows = drawn.table.get(next(name for name, columns in TABLES.items() if column in columns), {})
    assert found == {tag: row.get(column, False) for tag, row in rows.items()}


def test_the_enumeration_finds_what_the_neutral_does_at_the_transfer_equipment(drawn: Drawn, site: Site) -> None:
    found = {**answers(site, Plant.neutrals_of_inlets), **answers(site, Plant.neutrals_of_sets)}
    sets = {tag: row["at_transfer"] for tag, row in drawn.table.get("sets", {}).items() if "at_transfer" in row}
    written = {**drawn.table.get("inlets", {}), **sets}
    assert {tag: found[tag] for tag in written} == {
        tag: {each} if isinstance(each, str) else set(each) for tag, each in written.items()
    }


def in_a_table(found: set[Answer]) -> Answer | list[int]:
    """The answers as the tables write them."""
    counts = sorted(each for each in found if isinstance(each, int) and not isinstance(each, bool))
    if counts and None not in found:
        return counts[0] if len(counts) == 1 else [counts[0], counts[-1]]
    (answer,) = found if len(found) == 1 else (None,)
    return UNKNOWN if answer is None else answer


def test_the_enumeration_finds_the_sources_that_reach_each_piece(drawn: Drawn, site: Site) -> None:
    assert Plant(site).reach() == {tag: set(sources) for tag, sources in drawn.table["reach"].items()}
