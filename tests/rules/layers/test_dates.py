"""Dates of a profile: events, elections within their grace, interpretations on record, papers of the office."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from checker.rules.model.in_force import RulesInForce
from checker.values.problems import Unreadable
from tests.rules.layers.shelves import DAY, PROFILE, layer_text, notices, rule, town

CITES = "cites: [{section: '1'}]"
BOTH = PROFILE + '  - {document: Fern Code, edition: "2", from: "2026-01-01", adopted_by: order 2}\n'
SET = "  - {set: least-rating, to: 80 A, exceptions: apply, " + CITES + "}\n"
LATER = "  - {set: least-rating, to: 60 A, exceptions: apply, from: '2026-02-01', " + CITES + "}\n"
GRACE = 'grace:\n  - {{for: {of}, until: "2026-03-31", elect: rules_before, if: stated on the permit}}\n'


def _edition(found: RulesInForce) -> str | None:
    return next(each.edition for each in found.packs)


@pytest.mark.parametrize(
    ("on", "elected", "edition"),
    [
        ("2025-12-31", (), "1"),
        ("2026-01-01", (), "2"),
        ("2026-01-01", ("Fern Code",), "1"),
        ("2026-03-31", ("Fern Code",), "1"),
    ],
)
def test_an_edition_is_elected_within_its_grace(
    on: str, elected: tuple[str, ...], edition: str, tmp_path: Path
) -> None:
    found = town(profile=BOTH, more=GRACE.format(of="Fern Code")).in_force(tmp_path, date.fromisoformat(on), elected)
    assert _edition(found) == edition
    assert len(found.elected) == len(elected)
    assert all("stated on the permit" in each for each in found.elected)
    assert bool(notices(found, "may_elect")) is (on == "2026-01-01" and not elected)


def test_grace_does_not_reach_back_to_an_older_change_of_edition(tmp_path: Path) -> None:
    three = BOTH + '  - {document: Fern Code, edition: "1", from: "2026-03-01", adopted_by: order 3}\n'
    found = town(profile=three, more=GRACE.format(of="Fern Code")).in_force(tmp_path, date(2026, 2, 1))
    assert not notices(found, "may_elect")


@pytest.mark.parametrize(
    ("on", "told"),
    [
        ("2026-04-01", "The time of grace for Fern Code ended on 2026-03-31, and the date that counts is 2026-04-01."),
    ],
)
def test_an_election_that_is_too_late(on: str, told: str, tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        town(profile=BOTH, more=GRACE.format(of="Fern Code")).in_force(tmp_path, date.fromisoformat(on), ("Fern Code",))
    (problem,) = caught.value.problems
    assert problem.sentence == told


def test_an_election_that_is_too_early_changes_nothing_and_is_told(tmp_path: Path) -> None:
    found = town(profile=BOTH, more=GRACE.format(of="Fern Code")).in_force(tmp_path, date(2025, 6, 1), ("Fern Code",))
    assert (_edition(found), found.elected) == ("1", ())
    assert len(notices(found, "nothing_to_elect")) == 1


def test_an_election_that_nobody_offers(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        town(profile=BOTH, more=GRACE.format(of="Fern Code")).in_force(tmp_path, DAY, ("Fern Cod",))
    (problem,) = caught.value.problems
    assert problem.sentence == "Fern Town gives no time of grace for Fern Cod."
    assert problem.near == "Fern Code"


@pytest.mark.parametrize(("elected", "rating"), [((), "60 A"), (("town",), "80 A")])
def test_the_rules_before_the_last_change_of_a_layer(elected: tuple[str, ...], rating: str, tmp_path: Path) -> None:
    """What was there before stays: a change without a day has always counted."""
    found = town(layer_text(SET + LATER), more=GRACE.format(of="town")).in_force(tmp_path, DAY, elected)
    assert rule(found, "switch-is-listed").parameters["least-rating"].text == rating


def test_the_rules_before_a_layer_that_the_profile_begins(tmp_path: Path) -> None:
    begins = (layer_text(SET), 'may: anything, from: "2026-03-01"')
    here = town(begins, more=GRACE.format(of="town"))
    ratings = [
        rule(here.in_force(tmp_path, on, elected), "switch-is-listed").parameters["least-rating"].text
        for on, elected in ((date(2026, 2, 28), ()), (date(2026, 3, 1), ()), (date(2026, 3, 1), ("town",)))
    ]
    assert ratings == ["100 A", "80 A", "100 A"]


def test_a_layer_of_the_profile_has_its_days(tmp_path: Path) -> None:
    here = town((layer_text(SET), 'may: anything, from: "2026-03-01", until: "2026-03-31"'))
    days = [date(2026, 2, 28), date(2026, 3, 1), date(2026, 3, 31), date(2026, 4, 1)]
    assert [len(here.in_force(tmp_path, on).layers) for on in days] == [0, 1, 1, 0]


def test_a_layer_that_counts_from_another_event(tmp_path: Path) -> None:
    here = town((layer_text(LATER), "may: anything, event: engine_built"))
    built = date(2026, 2, 1)
    ratings = [
        rule(here.in_force(tmp_path, DAY, (), {"engine_built": on}), "switch-is-listed").parameters["least-rating"].text
        for on in (built - timedelta(days=1), built)
    ]
    assert ratings == ["100 A", "60 A"]


def test_a_document_that_counts_from_another_event(tmp_path: Path) -> None:
    there = '  - {document: Fern Code, edition: "2", from: "2026-01-01", adopted_by: order 2, event: work_start}\n'
    here = town(profile=PROFILE + there)
    found = [
        _edition(here.in_force(tmp_path, DAY, (), {"work_start": on})) for on in (date(2025, 12, 31), date(2026, 1, 1))
    ]
    assert found == ["1", "2"]


def test_the_date_of_another_event_is_missing(tmp_path: Path) -> None:
    with pytest.raises(Unreadable) as caught:
        town((layer_text(LATER), "may: anything, event: work_start")).in_force(tmp_path)
    (problem,) = caught.value.problems
    assert problem.sentence == "town counts from the date of start of work, and the site file does not give that date."
    assert str(problem.at) == "profile.yaml:7:5"


def test_interpretations_stand_at_their_rule_and_change_nothing(tmp_path: Path) -> None:
    records = (
        "interpretations:\n"
        '  - {rule: set-is-listed, status: open, says: Asked., by: board, on: "2026-01-01"}\n'
        '  - {rule: "fern-code:set-is-listed", status: answered, says: Yes., by: board, on: "2026-02-01"}\n'
        '  - {rule: set-is-listd, status: answered, says: Yes., by: board, on: "2026-02-01"}\n'
    )
    found = town(more=records).in_force(tmp_path)
    bare = town().in_force(tmp_path)
    assert [each.status for each in rule(found, "set-is-listed").interpretations] == ["open", "answered"]
    assert rule(found, "set-is-listed").rule == rule(bare, "set-is-listed").rule
    (told,) = notices(found, "record_without_rule")
    assert told.remedy == "The nearest is set-is-listed."


def test_papers_of_the_office(tmp_path: Path) -> None:
    papers = "papers:\n  - {paper: survey, must_show: [lot_lines], cites: [{document: Sheet, section: '1'}], checked: {sure: low, against: memory}}\n"
    found = rule(town(more=papers).in_force(tmp_path), "packet-holds-survey")
    assert found.id == "fern-town:packet-holds-survey"
    assert found.rule.says == "This office asks for the survey or site plan, showing lot lines."
