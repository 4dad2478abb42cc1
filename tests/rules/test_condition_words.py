"""Conditions in words, from packs as somebody writes them."""

from __future__ import annotations

from pathlib import Path

import pytest

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Catalog
from checker.rules.edition import pack_in_edition
from checker.rules.reading.pack import read_pack
from checker.rules.vocabulary import Around, Vocabulary
from checker.rules.words.condition_words import ConditionWords, words_in_force

PACK = """\
pack: small
title: Small
document: Small Code
editions: ["2020", "2023"]
basis: law
rules:
  things-fit:
    title: Things fit
    subject: SUBJECT
    when: CONDITION
    requires: {fits: {listed: {is: yes}}}
    says: It does not fit.
    sections: {"2020": "1.1", "2023": "1.1"}
    checked: {sure: low, against: memory}
parameters:
  least:
    title: least rating
    type: load_current
    stricter: higher
    values: {"2020": no_limit, "2023": 100 A}
    sections: {"2020": "1.1", "2023": "1.1"}
    checked: {sure: low, against: memory}
"""
SWITCH, SET = "transfer_switch", "generator"


@pytest.mark.parametrize(
    ("subject", "condition", "line"),
    [
        (SWITCH, "{operation: {is: automatic}}", "operation is automatic"),
        (SWITCH, "{operation: {is_not: automatic}}", "operation is not automatic"),
        (
            SWITCH,
            "{neutral: {one_of: [switched, overlapping]}}",
            "neutral in the switch is switched or switched with overlap",
        ),
        (SWITCH, "{listed: {is: no}}", "listed: no"),
        (SWITCH, "{rated_current: {at_least: {parameter: least}}}", "rated current is at least 100 A (least rating)"),
        (SWITCH, "{role: {is: service_disconnect, if_absent: no}}", "role is service disconnect"),
        (SWITCH, "{role: {is: service_disconnect, if_absent: yes}}", "role is service disconnect, or there is none"),
        (SWITCH, "{role: {present: no}}", "role is not there"),
        (SWITCH, "{rated_current: {known: yes}}", "rated current is shown"),
        (SWITCH, "{not: {listed: {is: yes}}}", "it is not so that listed: yes"),
        (
            SWITCH,
            "{any: [{listed: {is: yes}}, {all: [{operation: {is: manual}}, {field_evaluated: {is: yes}}]}]}",
            "listed: yes or (operation is by hand and field evaluated and labeled: yes)",
        ),
        (SWITCH, "{site.occupancy: {is: one_family_dwelling}}", "occupancy of the site is one-family dwelling"),
        (SET, "{some: {of: stops}}", "there is one of the stops of the set"),
        (
            SET,
            "{every: {of: stops, where: {place: {is: outdoors}}, that: {readily_accessible: {is: yes}}, if_empty: no}}",
            (
                "for each of the stops of the set (those of which place is outdoors), of which there must be one: "
                "readily accessible: yes"
            ),
        ),
    ],
)
def test_a_condition_on_one_line(subject: str, condition: str, line: str, tmp_path: Path) -> None:
    assert _line(subject, condition, "2023", tmp_path) == line


def test_no_limit_is_said(tmp_path: Path) -> None:
    condition = "{rated_current: {at_least: {parameter: least}}}"
    assert _line(SWITCH, condition, "2020", tmp_path) == "rated current may be anything: no limit (least rating)"


def test_editions_are_said_where_they_are_asked_for(tmp_path: Path) -> None:
    pack = _pack(SWITCH, '{all: [{listed: {is: yes}, in: ["2023"]}, {operation: {is: manual}}]}', tmp_path)
    vocabulary = Vocabulary(pack[1])
    rule = read_pack(pack[0], pack[1]).rules[0]
    assert rule.when is not None
    around = Around(vocabulary.types_of(SWITCH))
    marked = ConditionWords(vocabulary, {}, editions=True).line(rule.when, around)
    assert marked == "listed: yes (in 2023 only) and operation is by hand"
    assert ConditionWords(vocabulary, {}).line(rule.when, around) == "listed: yes and operation is by hand"
    clause = ConditionWords(vocabulary, {}, editions=True).clause(rule.when, around)
    assert (clause.text, [each.text for each in clause.inner]) == (
        "all of these hold",
        ["listed: yes (in 2023 only)", "operation is by hand"],
    )


def _pack(subject: str, condition: str, folder: Path) -> tuple[Path, Catalog]:
    (folder / "pack.yaml").write_text(
        PACK.replace("SUBJECT", subject).replace("CONDITION", condition), encoding="utf-8"
    )
    return folder, shipped_catalog()


def _line(subject: str, condition: str, edition: str, folder: Path) -> str:
    path, catalog = _pack(subject, condition, folder)
    rule = pack_in_edition(read_pack(path, catalog), edition, "")[0]
    vocabulary = Vocabulary(catalog)
    assert rule.rule.when is not None
    return words_in_force(rule, vocabulary).line(rule.rule.when, Around(vocabulary.types_of(subject)))
