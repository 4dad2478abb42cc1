"""Rules that stand in several versions: what comes out, and what a finding then asks for and tells."""

from __future__ import annotations

from datetime import date
from itertools import product
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.findings.assembling.permissions import permitted, words
from checker.findings.assembling.told import change_told
from checker.findings.judging.outcomes import Outcome, outcomes_of_versions
from checker.findings.review import Job, review
from checker.rules.model.citing import Citation
from checker.rules.model.in_force import History
from checker.rules.model.profile import Permission
from checker.site.read import read_site
from checker.values.positions import Position
from tests.findings.small_reviews import SITE
from tests.report.reviews import finding
from tests.rules.layers.shelves import layer_text, town

MISS, MET, NONE = Outcome.CORRECTION, Outcome.MET, Outcome.NOT_APPLICABLE
ASK, LOOK = Outcome.AHJ_TO_DECIDE, Outcome.VERIFY_IN_FIELD
HERE = Position("profile.yaml", 3, 5)
ON = date(2026, 3, 14)


@pytest.mark.parametrize(
    ("versions", "outcome"),
    [
        ((MISS, MISS), MISS),
        ((MET, MET), MET),
        ((NONE, NONE), NONE),
        ((MISS, MET), ASK),
        ((MISS, NONE), ASK),
        ((MISS, Outcome.RECOMMENDATION), ASK),
        ((MET, NONE), MET),
        ((MET, LOOK), LOOK),
        ((LOOK, NONE), LOOK),
        ((MET, ASK), ASK),
        ((ASK, NONE), ASK),
    ],
)
def test_versions(versions: tuple[Outcome, Outcome], outcome: Outcome) -> None:
    """In whatever order they stand."""
    for order in (versions, versions[::-1]):
        assert outcomes_of_versions(frozenset({each}) for each in order) == {outcome}


def test_open_versions_give_every_pair() -> None:
    open_ = frozenset({MISS, MET})
    assert outcomes_of_versions([open_, frozenset({MET})]) == {MET, ASK}
    wanted = {outcomes_of_versions([frozenset({a}), frozenset({b})]) for a, b in product(open_, open_)}
    assert outcomes_of_versions([open_, open_]) == frozenset().union(*wanted)


EXCEPTION = """\
  - add_exception:
      to: switch-is-listed
      id: at-the-meter
      if: {mounting: {is: meter_mounted}}
      because: it sits at the meter
    cites: [{section: "1"}]
"""


@pytest.mark.parametrize(
    ("mounting", "outcome", "needs"),
    [
        ("", Outcome.NEEDS_INFORMATION, ["ATS1.mounting"]),
        (", mounting: enclosed", MISS, []),
        (", mounting: meter_mounted", ASK, []),
    ],
)
def test_what_one_version_waits_for_is_asked(mounting: str, outcome: Outcome, needs: list[str], tmp_path: Path) -> None:
    rules = town((layer_text(EXCEPTION), "may: tighten")).in_force(tmp_path)
    switch = f"operation: automatic, listed: no, rated_current: 100 A, field_evaluated: no{mounting}"
    (tmp_path / "site.yaml").write_text(SITE.format(switch=switch, generator=""), encoding="utf-8")
    catalog = shipped_catalog()
    done = review(Job(read_site(tmp_path / "site.yaml", catalog), catalog, rules, Stage.PLAN_REVIEW))
    (found,) = [each for each in done.findings if each.rule == "switch-is-listed"]
    assert (found.outcome, [each.fact for each in found.needs]) == (outcome, needs)
    assert [each.held_by for each in found.versions] == ["order 1", "Council of town"]
    assert not [each for each in done.notices if "mounting" in each.sentence]


def _permission(**more: object) -> Permission:
    given = {"rule": "switch-as-wanted", "site": "here", "subject": None, "until": None, **more}
    return Permission(by="board", on=date(2026, 4, 1), conditions=("a sign",), says="It may stay.", at=HERE, **given)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("permission", "kinds"),
    [
        (_permission(), []),
        (_permission(until=ON), []),
        (_permission(until=date(2026, 3, 13)), ["permission_ended"]),
        (_permission(subject="GEN9"), ["permission_not_used"]),
        (_permission(rule="another-rule"), ["permission_not_used"]),
        (_permission(site="Harbor Road 9"), []),
    ],
)
def test_permission(permission: Permission, kinds: list[str]) -> None:
    found = permitted([finding(outcome=MISS, rule="switch-as-wanted")], [permission], "here", ON)
    (only,) = found.findings
    holds = not kinds and permission.site == "here"
    assert only.outcome is (Outcome.SPECIAL_PERMISSION if holds else MISS)
    assert only.without_permission is (MISS if holds else None)
    assert [each.kind for each in found.notices] == kinds


@pytest.mark.parametrize("outcome", [MET, NONE, LOOK])
def test_permission_of_what_wants_none(outcome: Outcome) -> None:
    found = permitted([finding(outcome=outcome, rule="switch-as-wanted")], [_permission()], "here", ON)
    assert [each.outcome for each in found.findings] == [outcome]
    assert [each.kind for each in found.notices] == ["permission_not_used"]


@pytest.mark.parametrize(
    ("written", "told"),
    [("11 Ganet Row", True), ("11 gannet row", True), ("12 Gannet Row", False), ("11 Harbor Road", False)],
)
def test_permission_of_a_site_that_is_written_almost_like_this_one(written: str, told: bool) -> None:
    missed = finding(outcome=MISS, rule="switch-as-wanted")
    found = permitted([missed], [_permission(site=written)], "11 Gannet Row", ON)
    assert found.findings == (missed,)
    assert [each.kind for each in found.notices] == ["permission_of_another_site"] * told
    assert all(f"is for {written}; this site is 11 Gannet Row." in each.sentence for each in found.notices)


def test_permission_in_words() -> None:
    told = words(_permission(until=date(2027, 1, 1)))
    assert told == "Permitted by board on 2026-04-01 until 2027-01-01: It may stay. Conditions: a sign."


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({}, "Council, from 2026-01-01: not adopted (Law 3). Reason: Old."),
        (
            {"applied": False, "reason": ""},
            "Council wants from 2026-01-01: not adopted (Law 3). That is more than it may do, so it is not applied.",
        ),
        ({"is_own_rule": True, "sentence": ""}, "Local rule from 2026-01-01. Reason: Old."),
        ({"is_own_rule": True, "sentence": "", "since": None, "reason": ""}, ""),
    ],
)  # fmt: skip
def test_change_in_words(more: dict[str, object], told: str) -> None:
    given = {"sentence": "not adopted", "since": date(2026, 1, 1), "reason": "Old.", **more}
    cites = (Citation("Law", None, "3"),)
    assert change_told(History(layer="law", authority="Council", cites=cites, **given)) == told  # type: ignore[arg-type]
