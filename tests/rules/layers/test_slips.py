"""Slips that a clerk makes: each is told once, with what to do, and nothing that only follows from it."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

from pathlib import Path

import pytest

from checker.rules.documents import document_meant, no_such_document
from checker.values.problems import Problem
from tests.rules.layers.shelves import PACK, layer_text, pack_of, problems_of

CITES = "cites: [{section: '1'}]"
FAR = '  - {{add: {{id: {id}, title: Far, subject: distance, when: {{to_kind: {{is: opening}}}}, requires: {{far: {test}}}, says: "{says}"}}, {cites}}}\n'
TOO_NEAR = "{of} is {far.found} away, not {far.wanted}."
OWN = "{distance: {at_least: {parameter: our-distance}}}"
NUMBER = "parameters:\n  our-distance: {{title: distance, type: length, stricter: higher, value: {value}, cites: [{{document: Town law, section: '1'}}]}}\n"
CHECKED = 'checked: {sure: high, against: the filed copy, on: "2026-01-02", by: clerk}\n'


def _rule(test: str = OWN, says: str = TOO_NEAR, name: str = "set-is-far") -> str:
    return FAR.format(id=name, test=test, says=says, cites=CITES)


def _one(tmp_path: Path, text: str) -> Problem:
    (problem,) = problems_of(tmp_path, text)
    return problem


def test_layer_without_a_slip_is_sound(tmp_path: Path) -> None:
    assert problems_of(tmp_path, layer_text(_rule(), more=NUMBER.format(value="10 ft"))) == ()


def test_missing_check_is_told_once_for_the_whole_layer(tmp_path: Path) -> None:
    text = layer_text(_rule() + _rule(name="set-is-farther"), more=NUMBER.format(value="10 ft"))
    told = _one(tmp_path, text.replace(CHECKED, ""))
    assert told.sentence == "The layer does not say who compared it with the paper."
    assert told.remedy.startswith("One line at the top does it for the whole layer: `checked: {sure: low, ")


def test_practice_that_cites_nothing_needs_no_check(tmp_path: Path) -> None:
    rule = _rule("{distance: {known: yes}}", "Near.").replace(CITES, "cites: none")
    assert problems_of(tmp_path, layer_text(rule, basis="local_practice").replace(CHECKED, "")) == ()


def test_layer_that_is_sure_says_by_whom(tmp_path: Path) -> None:
    text = layer_text(_rule(), more=NUMBER.format(value="10 ft")).replace(", by: clerk", "")
    told = _one(tmp_path, text)
    assert (told.sentence, told.at and told.at.line) == ("It is sure, but not by whom.", 7)
    assert "`by:`" in told.remedy


def test_number_without_a_unit_is_told_where_it_stands_alone(tmp_path: Path) -> None:
    told = _one(tmp_path, layer_text(_rule(), more=NUMBER.format(value="10")))
    assert told.sentence == "our-distance: 10 has no unit."


def test_misspelt_fact_lists_the_few_there_are_and_nothing_follows(tmp_path: Path) -> None:
    test = OWN.replace("{distance:", "{distanc:")
    told = _one(tmp_path, layer_text(_rule(test), more=NUMBER.format(value="10 ft")))
    assert told.sentence == "There is no fact `distanc` of distance."
    assert told.near == "distance"
    assert "Its facts are to, to_kind, " in told.remedy


def test_fact_of_other_things_is_told_without_dots(tmp_path: Path) -> None:
    test = OWN.replace("{distance:", "{kind:")
    (told, *_) = problems_of(tmp_path, layer_text(_rule(test, "Near."), more=NUMBER.format(value="10 ft")))
    assert "It is a fact of utility supply, meter, disconnect and others." in told.remedy


def test_part_that_nobody_wrote_is_still_told(tmp_path: Path) -> None:
    text = layer_text(_rule(says="{near.found} is too near."), more=NUMBER.format(value="10 ft"))
    assert _one(tmp_path, text).sentence == "{near.found} names nothing that this rule knows."


def test_several_rules_have_exceptions(tmp_path: Path) -> None:
    too = "unless: [{id: judged-there, if: {field_evaluated: {is: yes}}, because: it was judged, sections: {'1': '67', '2': '67'}}]"
    other = PACK.replace(
        "    requires: {listed: {listed: {is: yes}}}\n",
        f"    {too}\n    requires: {{large: {{rated_current: {{at_least: {{parameter: least-rating}}, if_absent: yes}}}}}}\n",
    )
    pack_of(tmp_path, other.replace("    subject: generator\n    unless", "    subject: transfer_switch\n    unless"))
    told = _one(tmp_path, layer_text(f"  - {{set: least-rating, to: 90 A, {CITES}}}\n"))
    assert " and fern-code:set-is-listed have exceptions, " in told.sentence


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("Fern Code", "Fern Code"),
        ("fern code", "Fern Code"),
        ("fern-code 2", "Fern Code"),
        ("FC", "Fern Code"),
        ("F", None),
        ("Fern Code 9", None),
    ],
)
def test_document_is_meant_by_its_names(typed: str, meant: str | None, tmp_path: Path) -> None:
    found = document_meant(typed, (pack_of(tmp_path),))
    assert (None if found is None else found.document) == meant


def test_edition_behind_a_document_is_kept(tmp_path: Path) -> None:
    found = document_meant("fern code 2", (pack_of(tmp_path),))
    assert found is not None
    assert found.edition == "2"


def test_document_that_there_is_not_lists_those_there_are(tmp_path: Path) -> None:
    told = no_such_document("FC 1", (pack_of(tmp_path),), None)
    assert (told.sentence, told.near) == ("There is no rule pack of FC 1.", "Fern Code")
    assert "Fern Code" in told.remedy
