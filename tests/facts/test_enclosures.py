"""Whether an enclosure serves under what comes at it: sure, open, or without an answer (NFPA 70, Table 110.28)."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.tasks.gathering.library import Library
from checker.values.possible import EITHER_FLAG, Possible, exactly
from tests.facts.reading import fact_of, view_under

SITE = """
site: {{name: Skua Point, stage: plan_review}}
equipment:
  UTIL: {{kind: utility_supply, system: 120/240 V 1-phase 3-wire}}
  D1: {{kind: disconnect, fed_from: UTIL, {facts}}}
"""
YES, NO = exactly(True), exactly(False)


def serves(folder: Path, library: Library, facts: str) -> Possible:
    return fact_of(view_under("nec-2026", SITE.format(facts=facts), folder, library), "D1", "enclosure_serves")


@pytest.mark.parametrize(
    ("facts", "answer"),
    [
        ("place: outdoors, enclosure: 3R, place_conditions: [corrosive_agents]", NO),
        ("place: outdoors, enclosure: 3RX, place_conditions: [corrosive_agents]", YES),
        ("place: outdoors, enclosure: 3RX, place_conditions: [corrosive_agents, windblown_dust]", NO),
        ("place: outdoors, enclosure: 3R or 4X, place_conditions: [corrosive_agents]", EITHER_FLAG),
        ("place: outdoors, enclosure: 3R or 4, place_conditions: [corrosive_agents]", NO),
        ("enclosure: 4X, place_conditions: [corrosive_agents]", YES),
        ("enclosure: 3X, place_conditions: [corrosive_agents]", EITHER_FLAG),
        ("place: outdoors, place_conditions: [hosedown]", EITHER_FLAG),
        ("place: indoors, enclosure: '12', place_conditions: [hosedown]", NO),
    ],
)
def test_what_an_enclosure_is_made_for(facts: str, answer: Possible, tmp_path: Path, library: Library) -> None:
    assert serves(tmp_path, library, facts) == answer


@pytest.mark.parametrize("facts", ["enclosure: 3R", "enclosure: 3R, place_conditions: none"])
def test_nothing_is_said_to_come_at_it(facts: str, tmp_path: Path, library: Library) -> None:
    assert serves(tmp_path, library, f"place: outdoors, {facts}").only_absent


def test_a_condition_that_the_table_of_the_place_does_not_have(tmp_path: Path, library: Library) -> None:
    found = serves(tmp_path, library, "place: outdoors, enclosure: 3R, place_conditions: [oil_spray]")
    assert not found.has_value
    assert "has no condition oil_spray" in next(iter(found.undefined))
