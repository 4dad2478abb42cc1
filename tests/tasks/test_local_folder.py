"""Lint and cases of a folder with layers and profiles."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.tasks.local_lint import LocalLint, lint_local_folder
from tests.tasks.town import DELETE, SET, SWITCHED, draft, library

LAYER, CASES, PROFILE = "fern-point-code.yaml", "fern-point-code.cases.yaml", "fern-point.yaml"


def _lint(folder: Path) -> LocalLint:
    return lint_local_folder(folder, library().packs, shipped_catalog(), library().layers)


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.fixture
def town(tmp_path: Path) -> Path:
    draft(tmp_path, SWITCHED, SET, DELETE)
    return tmp_path


def test_each_change_is_told_with_what_it_hits_and_for_whom(town: Path) -> None:
    told = _lint(town).effects
    when = "for permit applications from 2025-07-01"
    switched, number, deleted = (each.sentence for each in told)
    assert switched == (
        f"Change 1, {when}: a rule of its own: A transfer switch with a generator behind it opens the neutral."
    )
    assert number.startswith(f"Change 2, {when}: power above which a set needs a remote stop: 10 kW instead of 15 kW")
    assert deleted == f"Change 3, {when}: not adopted."
    assert told[2].hits == (
        "nfpa-70:dwelling-surge-protection (NFPA 70 2020 230.67): The service of the dwelling has surge protection",
    )


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
    errors = _lint(town).lint.errors
    assert any(told in each.sentence for each in errors), errors


def test_rule_of_its_own_without_all_its_outcomes_is_wrong(town: Path) -> None:
    text = (town / CASES).read_text(encoding="utf-8").splitlines(keepends=True)
    kept = [line for line in text if "neutral: solid" not in line]
    (town / CASES).write_text("".join(kept), encoding="utf-8")
    assert any("shows correction" in each.sentence for each in _lint(town).lint.errors)


def test_changed_rule_without_cases_is_to_be_looked_at(town: Path) -> None:
    (town / CASES).unlink()
    found = _lint(town).lint
    assert [each.sentence for each in found.errors] == ["`fern-point-switched-neutral` has no cases under this change."]
    assert {each.sentence for each in found.warnings} == {
        "`remote-stop-above-15-kw` has no cases under this change.",
        "`dwelling-surge-protection` has no cases under this change.",
    }


def test_record_about_a_rule_that_is_not_there_is_wrong(town: Path) -> None:
    with (town / PROFILE).open("a", encoding="utf-8") as stream:
        stream.write(
            'interpretations: [{rule: dwelling-surge-protecton, status: open, says: A., by: B, on: "2025-01-01"}]\n'
        )
    (problem,) = _lint(town).lint.errors
    assert (problem.sentence, problem.near) == (
        "There is no rule dwelling-surge-protecton.",
        "dwelling-surge-protection",
    )


def test_layer_that_no_profile_names_is_told(town: Path) -> None:
    (town / PROFILE).unlink()
    found = _lint(town)
    assert any("No profile here names the layer" in each.sentence for each in found.lint.warnings)
    assert "by the event of the profile that names the layer from 2025-07-01" in found.effects[0].sentence


def test_change_beyond_the_authority_is_told(town: Path) -> None:
    _change(town / PROFILE, "may: anything", "may: tighten")
    told = [each.sentence for each in _lint(town).lint.warnings]
    assert any("may only tighten the rules below it" in each and "230.67" in each for each in told)


def test_cases_beside_nothing_are_told(town: Path) -> None:
    (town / "other.cases.yaml").write_text("a-b:\n  cases: [{shows: a, outcome: met}]\n", encoding="utf-8")
    assert any("There is no other.yaml beside these cases." in each.sentence for each in _lint(town).lint.errors)
