"""Standards to which a code sends: in force wherever the code is, for what it sends there, unless the place says otherwise."""

# ruff: noqa: E501  changes of a layer stand on one line, as in a layer
from __future__ import annotations

import shutil
from datetime import date
from functools import cache
from pathlib import Path

import pytest

from checker import Library, Outcome, review
from checker.catalog.load import shipped_catalog
from checker.files.folders import data_folder
from checker.rules.in_force.rules import rules_in_force
from checker.rules.layers.model import Layer
from checker.rules.layers.read import read_layer
from checker.rules.layers.shelf import Shelf
from checker.rules.model.conditions import Not
from checker.rules.model.in_force import RulesInForce
from checker.rules.model.pack import Pack
from checker.rules.profile import read_profile
from checker.rules.reading.pack import read_pack
from tests.rules.layers.shelves import DAY, notices

FIXTURES = Path(__file__).parents[3] / "fixtures"
PROFILE = """\
profile: fern-town
title: Fern Town
event: permit_application
documents:
"""
GAS = '  - {{document: {document}, edition: "{edition}", from: "{start}", adopted_by: order 7}}\n'
IFGC = GAS.format(document="International Fuel Gas Code", edition="2021", start="2020-01-01")
LATER = GAS.format(document="International Fuel Gas Code", edition="2024", start="2026-03-01")
OWN = '  - {{document: NFPA 37, edition: "2021", from: "{start}", adopted_by: order 9{more}}}\n'
WALL = "outdoor-engine-away-from-walls-that-burn"
EXHAUST = "exhaust-and-gas-of-the-engine-looked-at"


@cache
def _pack(name: str) -> Pack:
    return read_pack(data_folder("rulesets") / name, shipped_catalog())


def _in_force(
    folder: Path, documents: str, packs: tuple[str, ...] = ("ifgc", "nfpa-54", "nfpa-37"), changes: str = ""
) -> RulesInForce:
    read = tuple(map(_pack, packs))
    layers: tuple[Layer, ...] = ()
    if changes:
        head = "layer: fern-law\ntitle: Fern law\ndocument: Fern law\nauthority: Fern\nbasis: law\n"
        (folder / "fern-law.yaml").write_text(f"{head}changes:\n{changes}", encoding="utf-8")
        layers = (read_layer(folder / "fern-law.yaml", shipped_catalog(), Shelf(read, ())),)
        documents += "layers: [{layer: fern-law, may: anything}]\n"
    (folder / "profile.yaml").write_text(PROFILE + documents, encoding="utf-8")
    return rules_in_force(read_profile(folder / "profile.yaml"), DAY, read, layers)


def _engines(found: RulesInForce) -> list[tuple[str | None, str]]:
    return [(each.edition, each.adopted_by) for each in found.packs if each.pack == "nfpa-37"]


@pytest.mark.parametrize(
    ("documents", "edition", "adopted_by"),
    [
        (IFGC, "2018", "International Fuel Gas Code 2021 616.1 by order 7, verify the reference"),
        (IFGC + LATER, "2021", "International Fuel Gas Code 2024 616.1 by order 7, verify the reference"),
        (
            GAS.format(document="NFPA 54", edition="2018", start="2020-01-01"),
            "2018",
            "NFPA 54 2018 10.24 by order 7, verify the reference",
        ),
    ],
)
def test_the_edition_that_the_code_names_is_in_force_by_its_reference(
    documents: str, edition: str, adopted_by: str, tmp_path: Path
) -> None:
    found = _in_force(tmp_path, documents)
    assert _engines(found) == [(edition, adopted_by)]
    assert {each.authority for each in found.rules if each.rule.id == WALL} == {adopted_by}


def test_an_edition_that_the_place_adopts_itself_goes_before(tmp_path: Path) -> None:
    assert _engines(_in_force(tmp_path, IFGC + OWN.format(start="2021-01-01", more=""))) == [("2021", "order 9")]


def test_until_its_own_adoption_begins_the_reference_counts(tmp_path: Path) -> None:
    later = OWN.format(start="2026-06-01", more="")
    assert [edition for edition, _ in _engines(_in_force(tmp_path, IFGC + later))] == ["2018"]


def test_where_the_place_adopts_it_only_somewhere_the_reference_counts_elsewhere(tmp_path: Path) -> None:
    somewhere = OWN.format(
        start="2021-01-01", more=", where: {zones: {includes: historic, if_absent: no}}, where_words: it is old"
    )
    found = _in_force(tmp_path, IFGC + somewhere)
    scopes = [each.scopes for each in found.rules if each.rule.id == WALL]
    assert len(scopes) == 2
    assert [isinstance(each, Not) for (each,) in scopes] == [False, True]


def test_a_standard_of_which_there_is_no_pack_is_told(tmp_path: Path) -> None:
    found = _in_force(tmp_path, IFGC, packs=("ifgc",))
    assert not _engines(found)
    (told,) = notices(found, "reference_without_pack")
    assert "NFPA 37 2018" in told.sentence


def test_a_town_can_take_out_what_a_reference_brought(tmp_path: Path) -> None:
    delete = (
        f"  - {{delete: nfpa-37:{WALL}, from: '2025-01-01', reason: left to the maker, cites: [{{section: '1'}}]}}\n"
    )
    ids = {each.rule.id for each in _in_force(tmp_path, IFGC, changes=delete).rules}
    assert WALL not in ids
    assert EXHAUST in ids


@cache
def _library() -> Library:
    return Library.shipped()


@pytest.mark.parametrize(
    ("old", "new", "wall", "exhaust"),
    [
        ("", "", Outcome.CORRECTION, Outcome.VERIFY_IN_FIELD),
        ("wall_fire_rating: none", "wall_fire_rating: 1 h", Outcome.NOT_APPLICABLE, Outcome.VERIFY_IN_FIELD),
        ("wall_fire_rating: none", "shown_by_fire_test: yes", Outcome.NOT_APPLICABLE, Outcome.VERIFY_IN_FIELD),
        (
            "vinyl siding, to_kind: wall, distance: 2 ft",
            "vinyl siding, to_kind: wall, distance: 5 ft",
            Outcome.MET,
            Outcome.VERIFY_IN_FIELD,
        ),
        ("fuel: natural_gas", "fuel: diesel", Outcome.NOT_APPLICABLE, Outcome.NOT_APPLICABLE),
        ("generator_form: stationary", "generator_form: portable", Outcome.NOT_APPLICABLE, Outcome.NOT_APPLICABLE),
        ("generator_form: stationary", "generator_form: trailer", Outcome.CORRECTION, Outcome.VERIFY_IN_FIELD),
    ],
)
def test_only_permanent_engines_on_gas_are_sent_there(
    old: str, new: str, wall: Outcome, exhaust: Outcome, tmp_path: Path
) -> None:
    """The scope of the section: equipment that is there for good and burns gas (from memory, as the pack says)."""
    place = tmp_path / "house"
    shutil.copytree(FIXTURES / "crake-landing", place)
    changed = 0
    for each in (place / "site.yaml", *(place / "sheets").glob("*.yaml")):
        text = each.read_text(encoding="utf-8")
        changed += text.count(old) if old else 1
        each.write_text(text.replace(old, new) if old else text, encoding="utf-8")
    assert changed
    found = review(place / "site.yaml", library=_library()).findings
    outcomes = {
        each.rule: each.outcome
        for each in found
        if each.rule == EXHAUST or (each.rule == WALL and "siding" in each.subject.words)
    }
    assert outcomes == {WALL: wall, EXHAUST: exhaust}


def test_the_day_of_the_reference_is_that_of_the_code(tmp_path: Path) -> None:
    (start,) = [each.since for each in _in_force(tmp_path, IFGC).packs if each.pack == "nfpa-37"]
    assert start == date(2020, 1, 1)
