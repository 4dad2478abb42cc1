"""The town of fixtures/marsh-ferry: its rules are in order, and count from their day on."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from shutil import copytree

from checker.catalog.load import shipped_catalog
from checker.findings.finding import Review
from checker.findings.judging.outcomes import Outcome
from checker.report.paragraphs import shown_and_wanted
from checker.rules.layers.cases import read_layer_cases
from checker.tasks.questions.sheet import field_sheet
from checker.tasks.questions.where import Stop
from checker.tasks.reviewing import Overrides, job_of, review_file
from checker.tasks.testing.layer_cases import run_layer_cases
from tests.project.project_tree import ROOT
from tests.tasks.town import library, lint, read

FOLDER = ROOT / "fixtures" / "marsh-ferry"


def _review(day: date) -> Review:
    return review_file(Path(FOLDER / "site.yaml"), library(), Overrides(date=day))


def test_folder_is_in_order() -> None:
    found = lint(FOLDER)
    assert (found.errors, found.warnings) == ((), ())
    assert len(found.hits) == 10


def test_every_case_holds() -> None:
    (stack,) = read(FOLDER).stacks.values()
    cases = read_layer_cases(stack, shipped_catalog())
    results = list(run_layer_cases(stack, cases, shipped_catalog()))
    assert len(results) == 49
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


def _without_distances(tmp_path: Path) -> Path:
    folder = tmp_path / "marsh-ferry"
    copytree(FOLDER, folder)
    site = folder / "site.yaml"
    text = site.read_text(encoding="utf-8")
    start, end = text.index("distances:"), text.index("papers:")
    site.write_text(text[:start] + text[end:], encoding="utf-8")
    return site


def test_distance_that_is_too_short_is_printed_with_what_is_wanted() -> None:
    (short,) = (
        each for each in _review(date(2025, 9, 2)).findings if each.rule == "marsh-ferry-distance-from-openings"
    )
    assert list(shown_and_wanted(short)) == ["shown distance 1, distance: 7 ft, wanted at least 10 ft"]


def test_distances_of_which_none_is_given_are_asked_for_with_the_tape(tmp_path: Path) -> None:
    site = _without_distances(tmp_path)
    (waiting,) = (
        each
        for each in review_file(site, library(), Overrides()).findings
        if each.rule == "marsh-ferry-distance-from-openings"
    )
    assert (waiting.outcome, [each.fact for each in waiting.needs]) == (Outcome.NEEDS_INFORMATION, ["distances"])
    sheet = field_sheet(job_of(site, library(), Overrides()))
    (tape,) = (each for each in sheet.stops if each.stop is Stop.TAPE)
    asked = {line.question.subject: line.question.means for line in tape.lines}
    assert "windows, doors and other openings" in asked["Distances"]


def test_distance_from_the_meter_is_none_of_the_set(tmp_path: Path) -> None:
    folder = tmp_path / "marsh-ferry"
    copytree(FOLDER, folder)
    site = folder / "site.yaml"
    site.write_text(site.read_text(encoding="utf-8").replace("{of: GEN1, to:", "{of: M1, to:"), encoding="utf-8")
    found = {each.rule: each.outcome for each in review_file(site, library(), Overrides()).findings}
    assert found["set-clear-of-openings"] is Outcome.NOT_APPLICABLE
    assert found["marsh-ferry-distance-from-openings"] is Outcome.NEEDS_INFORMATION
