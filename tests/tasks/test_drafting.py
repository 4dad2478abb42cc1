"""Drafts: what is written from answers is read, clean, and says what was meant."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from checker.catalog.load import shipped_catalog
from checker.files.yaml.strict_yaml import read_text
from checker.files.yaml.tree import plain
from checker.rules.layers import model
from checker.rules.layers.cases import full_names, read_layer_cases
from checker.rules.layers.stack import Stack
from checker.tasks.drafting.answers import answers_from
from checker.tasks.drafting.draft import drafted, write
from checker.tasks.drafting.finding import Finder
from checker.tasks.drafting.layer_text import ASKED
from checker.tasks.testing.layer_cases import run_layer_cases
from checker.values.problems import Unreadable
from tests.tasks.town import (
    DELETE,
    DISTANCE,
    HEAD,
    LABEL,
    LIMIT,
    PAPER,
    SET,
    SWITCHED,
    answers,
    draft,
    library,
    lint,
    read,
)

LAYER, CASES, PROFILE = "fern-point-code.yaml", "fern-point-code.cases.yaml", "fern-point.yaml"
ALL = (SWITCHED, SET, DELETE, PAPER, DISTANCE, LABEL, LIMIT)


def _read(folder: Path) -> Stack:
    (stack,) = read(folder).stacks.values()
    return stack


def _loaded(text: str) -> Any:
    return plain(read_text(text.encode(), "drafted"))


def _problems(*changes: str, more: str = "") -> str:
    with pytest.raises(Unreadable) as told:
        draft(Path("/nowhere"), *changes, more=more)
    return "\n".join(f"{each.sentence} {each.remedy} {each.near}" for each in told.value.problems)


@pytest.mark.parametrize("changes", [*((each,) for each in ALL), ALL], ids=[*(each[:20] for each in ALL), "all"])
def test_what_is_written_is_clean_and_its_cases_hold(changes: tuple[str, ...], tmp_path: Path) -> None:
    draft(tmp_path, *changes)
    found = lint(tmp_path)
    assert (found.errors, found.warnings) == ((), ())
    stack = _read(tmp_path)
    cases = read_layer_cases(stack, shipped_catalog())
    assert {each.rule for each in cases} == set(full_names(stack))
    assert [each for each in run_layer_cases(stack, cases, shipped_catalog()) if not each.holds] == []


def test_profile_names_edition_event_and_layer(tmp_path: Path) -> None:
    profile = _loaded(draft(tmp_path, SET)[PROFILE])
    assert profile["event"] == "permit_application"
    assert profile["documents"] == [
        {"document": "NFPA 70", "edition": "2020", "from": "2022-07-01", "adopted_by": "state rule 12-4"}
    ]
    assert profile["layers"] == [{"layer": "fern-point-code", "may": "anything"}]


def test_number_is_found_by_a_word_and_shown_with_what_it_was(tmp_path: Path) -> None:
    text = draft(tmp_path, SET)[LAYER]
    assert "# power above which a set needs a remote stop: was 15 kW, is 10 kW." in text
    assert "# It changes this rule: A set of this size can be stopped from outside" in text
    changes = _read(tmp_path).layer.changes
    assert {each.rule for each in changes} > {"nfpa-70:remote-stop-above-15-kw"}
    change = changes[0]
    assert isinstance(change.what, model.SetNumber)
    assert (change.what.value.text, change.what.exceptions_apply) == ("10 kW", False)
    assert change.terms.cites[0].section == "14-32(b)"


def test_number_of_a_section_that_holds_another_beside_it_is_told_by_its_unit(tmp_path: Path) -> None:
    text = draft(tmp_path, SET.replace("needs a remote stop", "445.18(C)"))[LAYER]
    assert "{set: power-above-which-a-set-has-a-remote-stop, to: 10 kW" in text


def test_number_of_a_rule_with_exceptions_asks_whether_they_count() -> None:
    told = _problems(SET.replace("exceptions: do_not_apply, ", ""))
    assert "have exceptions: from this edition on" in told
    assert "exceptions: do_not_apply" in told


def test_what_else_must_change_is_asked(tmp_path: Path) -> None:
    text = draft(tmp_path, SET)[LAYER]
    assert f"# {ASKED}" in text
    assert "Here the same is set: power above which a portable set needs a disconnect within sight" in text
    assert "It goes together with this rule: The set has a stop that keeps the engine off" in text
    assert "This rule reads greatest power too: " in text


def test_switched_neutral_brings_its_companions_and_six_cases(tmp_path: Path) -> None:
    files = draft(tmp_path, SWITCHED)
    assert "nfpa-70:set-neutral-bonded-at-one-place" in files[LAYER]
    assert "Is it still so? While the set feeds, its neutral is bonded at one place" in files[LAYER]
    cases = _loaded(files[CASES])["fern-point-switched-neutral"]["cases"]
    shown = {(str(each.get("but", {}).get("neutral")), each.get("date"), each["outcome"]) for each in cases}
    assert shown >= {
        ("None", None, "met"),
        ("overlapping", None, "met"),
        ("solid", None, "correction"),
        ("solid", "2025-06-30", "not_in_force"),
        ("unknown", None, "needs_information"),
        ("not_carried", None, "not_applicable"),
    }


def test_cases_of_a_number_stand_at_it_and_on_the_day_before(tmp_path: Path) -> None:
    cases = _loaded(draft(tmp_path, SET)[CASES])["remote-stop-above-15-kw"]["cases"]
    by_words = {each["shows"]: each["outcome"] for each in cases}
    assert by_words["greatest power at the new number, 10 kW"] == "not_applicable"
    assert by_words["exactly at the power limit"] == "correction"
    assert by_words["day before: exactly at the power limit"] == "not_applicable"


def test_cases_say_that_nobody_has_read_them(tmp_path: Path) -> None:
    assert "Take these three lines out when you have read all of them." in draft(tmp_path, SET)[CASES]


@pytest.mark.parametrize(
    ("change", "rule"),
    [
        (SWITCHED.replace("2025-07-01", "2031-07-01"), "fern-point-switched-neutral"),
        (LIMIT.replace("2026-12-31", "2024-12-31"), "set-disconnect-in-sight"),
    ],
)
def test_cases_without_a_date_run_while_the_change_counts(change: str, rule: str, tmp_path: Path) -> None:
    cases = _loaded(draft(tmp_path, change)[CASES])[rule]["cases"]
    assert {each["outcome"] for each in cases if "date" not in each} >= {"met", "correction", "not_applicable"}


def test_deleted_rule_comes_out_no_more_and_did_the_day_before(tmp_path: Path) -> None:
    cases = _loaded(draft(tmp_path, DELETE)[CASES])["dwelling-surge-protection"]["cases"]
    assert [(each.get("date"), each["outcome"]) for each in cases] == [
        (None, "not_in_force"),
        ("2025-06-30", "correction"),
    ]


def test_end_date_shows_the_day_after(tmp_path: Path) -> None:
    cases = _loaded(draft(tmp_path, LIMIT)[CASES])["set-disconnect-in-sight"]["cases"]
    assert (cases[-1]["date"], cases[-1]["outcome"]) == ("2027-01-01", "not_in_force")
    assert "correction" in {each["outcome"] for each in cases}


def test_records_stand_in_the_profile_by_the_id_of_the_rule(tmp_path: Path) -> None:
    more = """
interpretations: [{rule: neutral-strap-out-and-tagged, says: A wall counts., by: the examiner, on: "2025-07-15"}]
special_permissions:
  - {rule: "230.67", site: 14 Meadow Lane, says: None needed., by: the official, on: "2025-08-01", conditions: [a sign]}
"""
    profile = _loaded(draft(tmp_path, more=more)[PROFILE])
    assert profile["interpretations"][0] == {
        "rule": "nfpa-70:neutral-strap-out-and-tagged",
        "status": "answered",
        "says": "A wall counts.",
        "by": "the examiner",
        "on": "2025-07-15",
    }
    assert profile["special_permissions"][0]["rule"] == "nfpa-70:dwelling-surge-protection"
    assert profile["special_permissions"][0]["conditions"] == ["a sign"]
    assert "layers" not in profile


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / CASES).write_text("mine\n", encoding="utf-8")
    with pytest.raises(Unreadable) as told:
        draft(tmp_path, SET)
    assert "is there already" in told.value.problems[0].sentence
    assert sorted(each.name for each in tmp_path.iterdir()) == [CASES]
    assert (tmp_path / CASES).read_text(encoding="utf-8") == "mine\n"


@pytest.mark.parametrize(
    "place", ["St. Mary's", 'The "Old" Town', "Moor: North", "Moor # 1", "Moor, North", "Bärental", "yes"]
)
def test_any_place_and_any_reason_can_be_written(place: str, tmp_path: Path) -> None:
    written = json.dumps(place, ensure_ascii=False)
    head = HEAD.replace("place: Fern Point\n", f"place: {written}\n")
    changes = (SWITCHED, DISTANCE, LABEL, SET.replace("reason: fires", f"reason: {written}"))
    files = drafted(answers(*changes, head=head), tmp_path, library(), shipped_catalog())
    profile, layer, _ = (_loaded(each.text) for each in files)
    assert profile["title"] == place
    assert layer["changes"][3]["reason"] == place
    assert place in layer["changes"][0]["add"]["says"]


def test_folder_that_is_a_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "fern").write_text("", encoding="utf-8")
    with pytest.raises(Unreadable) as told:
        draft(tmp_path / "fern", SET)
    assert told.value.problems[0].sentence == "fern is no folder."


def test_layer_that_nobody_compared_says_verify(tmp_path: Path) -> None:
    assert "checked: {sure: low, against: not yet compared" in draft(tmp_path, SET)[LAYER]


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        (("{set: dwelling, to: 1 A, section: 1-1}",), "dwelling means"),
        (("{set: color of doors, to: 1 A, section: 1-1}",), "No number that is adopted here is meant"),
        (("{delete: first-switch-service-ratd, section: 1-1}",), "first-switch-service-rated"),
        (("{add: swiched_neutral, section: 1-1}",), "switched_neutral"),
        (("{add: distance, with: {to_kind: opening}, section: 1-1}",), "at least how far"),
        (("{add: distance, with: {to_kind: opening, at_least: 10}, section: 1-1}",), "10 ft"),
        (("{add: distance, with: {to_kind: openin, at_least: 10 ft}, section: 1-1}",), "opening"),
        (("{add: switched_neutral, with: {to: 1}, section: 1-1}",), "is no answer that"),
        (("{ask_for: surveys, section: 1-1}",), "survey"),
        (("{ask_for: survey, must_show: [lot_line], section: 1-1}",), "lot_lines"),
        ((SET.replace("10 kW", "10 gallons"),), "gallons"),
    ],
)
def test_answers_that_cannot_be_used_are_told(changes: tuple[str, ...], told: str) -> None:
    assert told in _problems(*changes)


@pytest.mark.parametrize(
    ("head", "told"),
    [
        (HEAD.replace("place: Fern Point\n", ""), "There is no `place`"),
        (HEAD.replace("permit_application", "permit"), "permit_application"),
        (HEAD.replace("authority: Fern Point, building department\n", ""), "do not name the authority"),
        (HEAD.replace("Fern Point\n", '"Moor {x}"\n', 1), "stand for a fact"),
        (HEAD.replace("Fern Point\n", '"77"\n', 1), "has no name that a file can have"),
    ],
)
def test_answers_that_are_missing_are_told(head: str, told: str) -> None:
    with pytest.raises(Unreadable) as found:
        answers(SET, head=head)
    assert any(told in f"{each.sentence} {each.remedy}" for each in found.value.problems)


def test_two_things_in_one_change_are_refused() -> None:
    with pytest.raises(Unreadable):
        answers('{set: a, to: 1, delete: b, section: "1"}')


def test_edition_that_is_not_there_is_told(tmp_path: Path) -> None:
    text = HEAD.replace('"2020"', '"1999"').encode()
    with pytest.raises(Unreadable) as told:
        drafted(answers_from(read_text(text, "a")), tmp_path, library(), shipped_catalog())
    assert "There is no edition 1999 of NFPA 70." in told.value.problems[0].sentence


def test_only_what_is_adopted_is_found() -> None:
    old = Finder(library().packs, {"NFPA 70": "2017"})
    new = Finder(library().packs, {"NFPA 70": "2020"})
    assert not old.rules_for("230.67")
    assert [each.rule.id for each in new.rules_for("230.67")] == ["dwelling-surge-protection"]
    assert [each.rule.id for each in new.rules_for("surge protection")] == ["dwelling-surge-protection"]
    assert not Finder(library().packs, {}).rules_for("230.67")


BOTH = HEAD.replace(
    "adopts: [",
    'adopts: [{document: NFPA 70, edition: "2017", from: "2019-01-01", adopted_by: state rule 9-1}, ',
).replace(
    "rule 12-4}]", 'rule 12-4}, {document: IFGC, edition: "2021", from: "2024-01-01", adopted_by: state rule 12-5}]'
)


def _written(folder: Path, head: str, *changes: str) -> dict[str, str]:
    files = drafted(answers(*changes, head=head), folder, library(), shipped_catalog())
    write(files)
    return {each.path.name: each.text for each in files}


@pytest.mark.parametrize("change", [SET, DELETE, LIMIT], ids=["set", "delete", "limit"])
def test_layer_amends_the_document_that_its_change_hits(change: str, tmp_path: Path) -> None:
    files = _written(tmp_path, BOTH, change)
    assert _loaded(files[LAYER])["amends"] == {"document": "NFPA 70", "written_against": "2020"}
    assert lint(tmp_path).warnings == ()


def test_number_of_another_document_amends_that_one(tmp_path: Path) -> None:
    change = "{set: greatest-distance-of-the-gas-valve, to: 3 ft, section: 14-40}"
    files = _written(tmp_path, BOTH, change)
    assert _loaded(files[LAYER])["amends"]["document"] == "International Fuel Gas Code"


def test_layer_that_only_adds_amends_nothing(tmp_path: Path) -> None:
    assert "amends" not in _loaded(_written(tmp_path, BOTH, DISTANCE)[LAYER])
    assert (lint(tmp_path).errors, lint(tmp_path).warnings) == ((), ())


def test_changes_of_two_documents_are_told_in_the_editions_that_are_adopted(tmp_path: Path) -> None:
    gas = "{set: greatest-distance-of-the-gas-valve, to: 3 ft, section: 14-40}"
    _written(tmp_path, BOTH, SET, DELETE, gas)
    told = {rule.name: [each.edition for each in rule.cites] for hit in lint(tmp_path).hits for rule in hit.rules}
    gas_rules = {name: editions for name, editions in told.items() if name.startswith("ifgc:")}
    assert gas_rules
    assert all(set(editions) <= {"2021"} for editions in gas_rules.values())


def test_rule_of_no_edition_that_is_adopted_is_told(tmp_path: Path) -> None:
    _written(tmp_path, BOTH, SET)
    words = {rule.name: rule.told for hit in lint(tmp_path).hits for rule in hit.rules}
    later = "only once an edition that has this rule is adopted"
    assert later in words["nfpa-70:remote-stop-marked"]
    assert later not in words["nfpa-70:remote-stop-above-15-kw"]


@pytest.mark.parametrize("named", ["nfpa 70", "National Electrical Code", "nec", "nec 2020"])
def test_document_of_the_answers_is_meant_by_any_of_its_names(named: str, tmp_path: Path) -> None:
    head = HEAD.replace("document: NFPA 70", f"document: {named}")
    assert _loaded(_written(tmp_path, head, SET)[PROFILE])["documents"][0]["document"] == "NFPA 70"


def test_drafted_setback_is_open_where_no_distance_is_given(tmp_path: Path) -> None:
    cases = _loaded(draft(tmp_path, DISTANCE)[CASES])["fern-point-distance-from-opening"]["cases"]
    by_words = {each["shows"]: each["outcome"] for each in cases}
    assert by_words["distances not listed"] == "needs_information"
    assert by_words["distances, to kind opening, distance 9 ft"] == "correction"
    assert by_words["no distances"] == "met"
    assert by_words["generator form portable"] == "not_applicable"
