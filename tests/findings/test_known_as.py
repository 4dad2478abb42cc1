"""Members of lists by what is said of them: the names, and special permissions that use them."""

from __future__ import annotations

import re
from datetime import date

import pytest

from checker.catalog.load import shipped_catalog
from checker.findings.assembling.permissions import permitted
from checker.findings.finding import Review
from checker.findings.judging.outcomes import Outcome
from checker.rules.model.profile import Permission
from checker.site.known_by import facts_in
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from checker.values.positions import Position
from tests.project.project_tree import ROOT

RULE, WINDOW = "set-clear-of-openings", "GEN1 to north bedroom window"
AT = Position("town.yaml", 3, 5)
ON = date(2024, 3, 11)


@pytest.fixture(scope="module")
def found() -> Review:
    return review_file(ROOT / "fixtures" / "harrow-lane" / "site.yaml", Library.shipped(), Overrides())


def permission(rule: str = RULE, subject: str | None = WINDOW) -> Permission:
    return Permission(rule, "14 Harrow Lane", subject, "the AHJ", ON, None, (), "As it stands.", AT)


def test_every_list_says_by_which_of_its_facts_a_member_is_known() -> None:
    catalog = shipped_catalog()
    for listing in catalog.lists.values():
        facts = list(facts_in(listing.known_by))
        assert facts, listing.name
        assert all(catalog.fact(name, listing.member) is not None for name in facts), listing.name


def test_ids_of_findings_hold_no_place_in_a_list(found: Review) -> None:
    ids = {each.id.rpartition("@")[2] for each in found.findings}
    assert {WINDOW, "air conditioner", "pipe from GM1 to GEN1", "GEN1 to ATS1"} <= ids
    assert not [each for each in ids if re.fullmatch(r"(distance|load|paper|bond|control|pipe|appliance) \d+", each)]


def test_a_permission_by_the_name_that_the_report_prints_covers_its_finding(found: Review) -> None:
    done = permitted(found.findings, [permission()], "14 Harrow Lane", ON)
    covered = [each.subject.words for each in done.findings if each.outcome is Outcome.SPECIAL_PERMISSION]
    assert (covered, done.notices) == ([WINDOW], ())


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (permission(rule="set-clear-of-opening"), "no rule of that name looks at anything on this site."),
        (permission(subject="GEN1 to north bedroom windw"), "the rule looks at nothing called GEN1 to north bedroom"),
        (permission(subject="distance 1"), "the rule looks at nothing called distance 1 on this site"),
    ],
    ids=["rule", "subject", "place in the list"],
)
def test_a_permission_that_covers_nothing_says_which_part_fails_and_the_nearest_name(
    given: Permission, told: str, found: Review
) -> None:
    (notice,) = permitted(found.findings, [given], "14 Harrow Lane", ON).notices
    assert told in notice.sentence
    near = RULE if given.rule != RULE else WINDOW
    assert near in notice.sentence


def test_a_permission_for_what_is_met_says_so(found: Review) -> None:
    met = next(each for each in found.findings if each.outcome is Outcome.MET)
    (notice,) = permitted(found.findings, [permission(met.rule, met.subject.known_as)], "14 Harrow Lane", ON).notices
    assert "nothing is wanted there that it could stand in the place of." in notice.sentence
