"""The town of fixtures/marsh-ferry: its rules are in order, and count from their day on."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.findings.finding import Review
from checker.rules.layers.cases import read_layer_cases
from checker.tasks.layer_cases import run_layer_cases
from checker.tasks.reviewing import Overrides, review_file
from tests.project.project_tree import ROOT
from tests.tasks.town import library, lint, read

FOLDER = ROOT / "fixtures" / "marsh-ferry"


def _review(day: date) -> Review:
    return review_file(Path(FOLDER / "site.yaml"), library(), Overrides(date=day))


def test_folder_is_in_order() -> None:
    found = lint(FOLDER)
    assert (found.errors, found.warnings) == ((), ())
    assert len(found.hits) == 9


def test_every_case_holds() -> None:
    (stack,) = read(FOLDER).stacks.values()
    cases = read_layer_cases(stack, shipped_catalog())
    results = list(run_layer_cases(stack, cases, shipped_catalog()))
    assert len(results) == 38
    assert [each.complaints for each in results if not each.holds] == []


def test_on_the_day_before_only_the_model_code_counts() -> None:
    review = _review(date(2025, 6, 30))
    assert not [each.id for each in review.findings if each.id.startswith("marsh-ferry-code:")]
    assert "dwelling-surge-protection" in {each.rule for each in review.findings}
    assert review.deleted == ()


def test_deleted_rule_is_named_and_older_rules_are_offered() -> None:
    review = _review(date(2025, 7, 1))
    assert [each.rule for each in review.deleted] == ["nfpa-70-2020:dwelling-surge-protection"]
    assert [each.deleted_by[0].section for each in review.deleted] == ["14-33"]
    assert any("may elect the rules before 2025-07-01" in each.sentence for each in review.notices)
    assert {each.outcome.value for each in review.findings if each.rule == "marsh-ferry-switched-neutral"} == {
        "correction"
    }
