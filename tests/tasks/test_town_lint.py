"""Lint of a drafted town."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.report.rules.hits import hits_text
from tests.project.project_tree import ROOT
from tests.tasks.town import DELETE, SET, SWITCHED, draft, lint

LAYER, CASES, PROFILE = "fern-point-code.yaml", "fern-point-code.cases.yaml", "fern-point.yaml"


LAYERS = (each for each in (ROOT / "fixtures").glob("*/*.yaml") if b"\nlayer: " in each.read_bytes())
TOWNS = tuple(sorted({each.parent for each in LAYERS}))


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.fixture
def town(tmp_path: Path) -> Path:
    draft(tmp_path, SWITCHED, SET, DELETE)
    return tmp_path


def test_each_change_is_told_with_what_it_hits_and_for_whom(town: Path) -> None:
    switched, number, deleted = lint(town).hits
    assert {(each.event, str(each.start)) for each in (switched, number, deleted)} == {
        ("permit_application", "2025-07-01")
    }
    assert [each.told for each in switched.rules] == ["A transfer switch with a generator behind it opens the neutral"]
    assert {each.told[:68] for each in number.rules} == {
        "power above which a set needs a remote stop: 10 kW instead of 15 kW;"
    }
    assert [(each.name, each.told) for each in deleted.rules] == [("nfpa-70:dwelling-surge-protection", "not adopted")]


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        (LAYER, "delete:", "delte:", "delte"),
        (CASES, "fern-point-switched-neutral:", "fern-point-switchd-neutral:", "fern-point-switchd-neutral"),
        (CASES, "outcome: met}", "outcome: meet}", "meet"),
        (CASES, "neutral: solid", "neutrl: solid", "neutrl"),
        (PROFILE, '"2020"', '"2021"', "There is no edition 2021 of NFPA 70."),
        (PROFILE, "NFPA 70", "NFPA 77", "There is no rule pack of NFPA 77."),
        (PROFILE, "fern-point-code", "fern-pont-code", "There is no layer fern-pont-code."),
    ],
)
def test_what_is_wrong_is_told(file: str, old: str, new: str, told: str, town: Path) -> None:
    _change(town / file, old, new)
    errors = lint(town).errors
    assert any(told in each.sentence for each in errors), errors


def test_rule_of_its_own_without_all_its_outcomes_is_wrong(town: Path) -> None:
    text = (town / CASES).read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in text if "neutral: solid" not in line]
    (town / CASES).write_text("".join(kept), encoding="utf-8")
    assert any("shows correction" in each.sentence for each in lint(town).errors)


def test_changes_without_cases_are_wrong(town: Path) -> None:
    (town / CASES).unlink()
    assert [each.sentence for each in lint(town).errors] == [
        "There is no case of `fern-point-switched-neutral`, which change 1 of fern-point-code adds.",
        "There is no case of `remote-stop-above-15-kw`, which change 2 of fern-point-code changes.",
        "There is no case of `dwelling-surge-protection`, which change 3 of fern-point-code deletes.",
    ]


def test_record_about_a_rule_that_is_not_there_is_wrong(town: Path) -> None:
    with (town / PROFILE).open("a", encoding="utf-8") as stream:
        stream.write(
            'interpretations: [{rule: dwelling-surge-protecton, status: open, says: A., by: B, on: "2025-01-01"}]\n'
        )
    (problem,) = lint(town).errors
    assert (problem.sentence, problem.near) == (
        "There is no rule dwelling-surge-protecton.",
        "dwelling-surge-protection",
    )


def test_layer_that_no_profile_names_is_told(town: Path) -> None:
    (town / PROFILE).unlink()
    found = lint(town)
    assert any("No profile beside it names the layer" in each.sentence for each in found.warnings)
    assert found.hits[0].event is None
    assert "by the event of the profile that names the layer, from 2025-07-01" in " ".join(
        hits_text(found.hits).split()
    )


def test_change_beyond_the_authority_is_told(town: Path) -> None:
    _change(town / PROFILE, "may: anything", "may: tighten")
    told = [each.sentence for each in lint(town).warnings]
    assert any("may only tighten the rules below it" in each and "230.67" in each for each in told)


def test_cases_beside_nothing_are_told(town: Path) -> None:
    (town / "other.cases.yaml").write_text("a-b:\n  cases: [{shows: a, outcome: met}]\n", encoding="utf-8")
    assert any("There is no other.yaml beside these cases." in each.sentence for each in lint(town).errors)


@pytest.mark.parametrize("folder", TOWNS, ids=lambda folder: folder.name)
def test_of_the_towns_with_sites_only_cases_are_wanting(folder: Path) -> None:
    """Their layers are tried by what a review of the sites says, and have no cases beside them but for Marsh Ferry."""
    found = lint(folder)
    assert found.hits
    assert [each for each in found.errors if not each.sentence.startswith("There is no case of")] == []


def test_reference_that_no_rule_has_is_told() -> None:
    (hit,) = (each for each in lint(ROOT / "fixtures" / "ottermere").hits if each.word == "redirect")
    assert hit.told == "Brindle Engine Standard is read as Ottermere Mechanical Code 18-28-9"
    assert hit.told in " ".join(hits_text([hit]).split())
