"""Cures and cautions with a condition: told where it holds or is open, left out where it surely fails."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.findings.judging.outcomes import Outcome
from checker.rules.edition import pack_in_edition
from checker.rules.reading.names_read import names_of_cases, names_read
from checker.rules.reading.pack import read_pack
from tests.findings.small_reviews import HEAD, finding, parameter

TEXTS = """\
    says_where:
      - {text: "{subject} is not listed.", when: {listed: {is: no}}}
      - {text: "{subject} gives {rated_current}.", when: {rated_current: {less_than: {parameter: rating-of-trial}}}}
    remedy:
      - {text: "Take a listed one.", when: {listed: {is: no}}}
      - {text: "Take one of {rated_current} or more.", when: {rated_current: {less_than: {parameter: rating-of-trial}}}}
      - Ask the office.
    cautions:
      - {text: "It starts by itself.", when: {operation: {is: automatic}}}
"""
RATING = parameter("rating-of-trial", "load_current", "100 A")


def told(folder: Path, switch: str) -> tuple[tuple[str, ...], tuple[str, ...]]:
    found = finding(folder, "{place: {is: outdoors}}", f"place: garage, {switch}", RATING, texts=TEXTS)
    assert found.outcome is Outcome.CORRECTION
    assert not found.needs
    return found.remedy, found.cautions


@pytest.mark.parametrize(
    ("switch", "cures", "cautions"),
    [
        ("listed: no, rated_current: 60 A, operation: automatic", (0, 1, 2), 1),
        ("listed: yes, rated_current: 60 A, operation: manual", (1, 2), 0),
        ("listed: yes, rated_current: 100 A, operation: manual", (2,), 0),
        ("listed: unknown, rated_current: 100 A, operation: unknown", (0, 2), 1),
    ],
)
def test_what_surely_fails_is_left_out(tmp_path: Path, switch: str, cures: tuple[int, ...], cautions: int) -> None:
    every = ("Take a listed one.", "Take one of 60 A or more.", "Ask the office.")
    found = told(tmp_path, switch)
    assert found == (tuple(every[each] for each in cures), ("It starts by itself.",)[:cautions])


@pytest.mark.parametrize(
    ("switch", "says"),
    [
        ("listed: no, rated_current: 60 A", "ATS1 is not listed."),
        ("listed: yes, rated_current: 60 A", "ATS1 gives 60 A."),
        ("listed: yes, rated_current: 100 A", "ATS1 is not as wanted."),
        ("listed: unknown, rated_current: unknown", "ATS1 is not as wanted."),
    ],
)
def test_the_first_sentence_whose_condition_surely_holds_is_told(tmp_path: Path, switch: str, says: str) -> None:
    assert finding(tmp_path, "{place: {is: outdoors}}", f"place: garage, {switch}", RATING, texts=TEXTS).says == says


def test_the_condition_decides_no_finding_and_a_case_may_give_what_it_reads(tmp_path: Path) -> None:
    told(tmp_path, "listed: no")
    (rule,) = read_pack(tmp_path / "heron-point", shipped_catalog()).rules
    assert list(names_read(rule).facts) == ["place"]
    assert set(names_of_cases((rule,)).facts) == {"place", "listed", "rated_current", "operation"}


EDITIONS = (
    HEAD
    + """\
editions: ["1", "2"]
rules:
  switch-as-wanted:
    title: The switch is as wanted
    subject: transfer_switch
    requires: {listed: {listed: {is: yes}}}
    says: "{subject} is not as wanted."
    remedy: [Take a listed one., {text: Hold it by a control., in: ["2"]}]
    sections: {"1": "1", "2": "1"}
    checked: {sure: low, against: memory}
"""
)


def test_a_cure_of_one_edition_is_told_in_that_one(tmp_path: Path) -> None:
    (tmp_path / "pack.yaml").write_text(EDITIONS, encoding="utf-8")
    pack = read_pack(tmp_path, shipped_catalog())
    by_edition = {edition: pack_in_edition(pack, edition, "")[0].rule.remedy for edition in ("1", "2")}
    assert {edition: len(texts) for edition, texts in by_edition.items()} == {"1": 1, "2": 2}
