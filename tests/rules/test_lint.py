"""Lint: what a pack still lacks when it can be read, and what deserves a second look."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.facts.registry import NUMBERS_READ
from checker.rules.lint import Lint, lint, lint_folders
from checker.rules.outcomes import compulsory_outcomes, outcomes_of
from checker.rules.vocabulary import Vocabulary
from tests.rules.packs import EXAMPLE, PRACTICE, SHARED, read


def _lint(*folders: Path) -> Lint:
    return lint_folders(folders, shipped_catalog(), SHARED, NUMBERS_READ)


@pytest.fixture
def copied(tmp_path: Path) -> Path:
    shutil.copytree(EXAMPLE, tmp_path / "example")
    return tmp_path / "example"


def _change(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1, text.count(old)
    path.write_text(text.replace(old, new), encoding="utf-8")


def test_example_is_clean() -> None:
    assert _lint(EXAMPLE, PRACTICE) == Lint((), ())
    assert _lint(EXAMPLE, PRACTICE).is_clean


def test_errors_of_reading_are_errors_of_lint(copied: Path) -> None:
    _change(copied / "sets.yaml", "subject: paper", "subject: papr")
    found = _lint(copied, PRACTICE)
    assert [problem.near for problem in found.errors] == ["paper"]
    assert not found.is_clean


def test_rule_without_cases(copied: Path) -> None:
    (copied / "sets.cases.yaml").unlink()
    found = _lint(copied)
    assert len(found.errors) == 5
    assert "`set-is-tagged` has no cases." in {problem.sentence for problem in found.errors}


@pytest.mark.parametrize(
    ("file", "old", "told"),
    [
        ("switches.cases.yaml", "    - {shows: both solid, outcome: met}\n",
         "No case of `neutral-treated-alike` shows met."),
        ("switches.cases.yaml", "    - {shows: one switched, but: {b.neutral: switched}, outcome: correction}\n",
         "No case of `neutral-treated-alike` shows correction."),
        ("switches.cases.yaml", "    - {shows: one open, but: {b.neutral: unknown}, outcome: needs_information}\n",
         "No case of `neutral-treated-alike` shows needs_information."),
        ("switches.cases.yaml",
         "    - {shows: no rows, but: {withstand_rows: {complete: yes, list: []}}, outcome: not_applicable}\n",
         "No case of `switch-withstands-the-fault` shows not_applicable."),
        ("sets.cases.yaml", "    - {shows: changed, outcome: verify_in_field}\n",
         "No case of `set-is-tagged` shows verify_in_field."),
        ("sets.cases.yaml", "    - {shows: emergency, but: {classes: [emergency]}, outcome: note}\n",
         "No case of `classes-are-known` shows note."),
    ],
)  # fmt: skip
def test_outcome_that_no_case_shows(file: str, old: str, told: str, copied: Path) -> None:
    _change(copied / file, old, "")
    (problem,) = _lint(copied).errors
    assert problem.sentence == told
    assert problem.at is not None


def test_number_that_no_rule_reads(copied: Path) -> None:
    _change(copied / "sets.yaml", "{parameter: allowance}", "{parameter: allowances}")
    editions = '{"2017": 1 A, "2020": 1 A, "2023": 1 A}'
    other = f"{{title: other, type: load_current, stricter: lower, values: {editions}, "
    other += 'sections: {"2017": 22, "2020": 22, "2023": 22}, checked: {sure: low, against: memory}}'
    _change(copied / "numbers.yaml", "  allowance: {", f"  allowances: {other}\n  allowance: {{")
    found = _lint(copied)
    assert found.errors == ()
    (warning,) = found.warnings
    assert warning.sentence == "No rule reads `allowance`."
    assert str(warning.at) == "example/numbers.yaml:9:3"


def test_shared_table_that_this_pack_does_not_read_is_not_told(copied: Path) -> None:
    text = (copied / "switches.yaml").read_text(encoding="utf-8")
    start = text.index("      standard_size:")
    (copied / "switches.yaml").write_text(text[:start] + text[text.index("      within:") :], encoding="utf-8")
    assert _lint(copied) == Lint((), ())


def test_hash_inside_a_block_of_text(copied: Path) -> None:
    _change(
        copied / "switches.yaml",
        "    why: Service equipment can be opened and bonded.",
        "    why: >-\n      It can be opened  # by hand\n      and bonded.",
    )
    found = _lint(copied)
    assert found.errors == ()
    (warning,) = found.warnings
    assert "A # in this block of text is printed" in warning.sentence
    assert str(warning.at) == "example/switches.yaml:34:10"


def test_word_on_absence_for_nothing(copied: Path) -> None:
    _change(copied / "switches.yaml", "{raceway_grounds: {is: yes}}", "{raceway_grounds: {is: yes, if_absent: no}}")
    found = _lint(copied)
    assert found.errors == ()
    (warning,) = found.warnings
    assert warning.sentence == "Nothing that `raceway_grounds` is compared with can be absent here."
    assert str(warning.at) == "example/switches.yaml:100:46"


def test_number_sign_in_a_block_is_no_comment(copied: Path) -> None:
    _change(
        copied / "switches.yaml",
        "    why: Service equipment can be opened and bonded.",
        "    why: >-\n      The wire is No.#3 and bonded.",
    )
    assert _lint(copied) == Lint((), ())


@pytest.mark.parametrize(
    ("name", "told", "near"),
    [
        ("example-practice:switch-larger-than-the-se",
         "names `switch-larger-than-the-se`, which is no rule of example-practice.",
         "switch-larger-than-the-set"),
        ("example-practise:switch-larger-than-the-set",
         "names a rule of the pack `example-practise`, which is not here.",
         "example-practice"),
    ],
)  # fmt: skip
def test_rule_of_another_pack(name: str, told: str, near: str, copied: Path) -> None:
    _change(copied / "switches.yaml", '"example-code:set-can-be-stopped-from-outside"', f'"{name}"')
    (problem,) = _lint(copied, PRACTICE).errors
    assert told in problem.sentence
    assert problem.near == near


def test_retired_rule_that_went_nowhere(copied: Path) -> None:
    _change(copied / "pack.yaml", "set-can-be-stopped-from-outside}", "set-can-be-stoped-from-outside}")
    (problem,) = _lint(copied).errors
    assert problem.sentence == (
        "The retired rule `stop-near-the-set` went to `set-can-be-stoped-from-outside`, "
        "which is no rule of example-code."
    )
    assert problem.near == "set-can-be-stopped-from-outside"


def test_cases_of_a_retired_rule_are_told_where_it_went(copied: Path) -> None:
    _change(copied / "sets.cases.yaml", "set-is-tagged:", "stop-near-the-set:")
    (problem,) = _lint(copied).errors
    assert problem.sentence == "There is no rule `stop-near-the-set` in this pack."
    assert "went to set-can-be-stopped-from-outside" in problem.remedy


def test_two_packs_of_one_name(copied: Path) -> None:
    (problem,) = _lint(copied, EXAMPLE).errors
    assert problem.sentence.startswith("Two packs are called example-code")


def test_outcomes_follow_from_force_and_basis() -> None:
    vocabulary = Vocabulary(shipped_catalog())
    rules = {rule.id: rule for folder in (EXAMPLE, PRACTICE) for rule in read(folder).rules}
    assert "correction" in outcomes_of(rules["switch-withstands-the-fault"], vocabulary)
    assert "correction" not in outcomes_of(rules["switch-larger-than-the-set"], vocabulary)
    assert "ahj_to_decide" in outcomes_of(rules["set-can-be-stopped-from-outside"], vocabulary)
    assert compulsory_outcomes(rules["neutral-treated-alike"], vocabulary) == ("met", "correction", "needs_information")


def test_lint_of_packs_that_were_read() -> None:
    assert lint([read(EXAMPLE), read(PRACTICE)], shipped_catalog()) == Lint((), ())
