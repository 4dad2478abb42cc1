"""Every rule of the program in words: no code in them, nothing left to fill in, 80 columns."""

from __future__ import annotations

import re

import pytest

from checker.catalog.load import shipped_catalog
from checker.report.comparison.compared import compared_text
from checker.report.rules.explained import explanation_text
from checker.report.rules.list import rule_table
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.vocabulary import Vocabulary
from checker.tasks.comparing.sides import SideAsked, compared_editions
from checker.tasks.gathering.library import Library
from checker.tasks.telling.rule_explained import Explanation, of_pack
from checker.tasks.telling.rule_list import Wanted, rules_of_packs
from tests.project.project_tree import ROOT

LIBRARY = Library.shipped()
VOCABULARY = Vocabulary(shipped_catalog())
RULES = [(pack, rule) for pack in LIBRARY.packs for rule in pack.rules]
CODE = re.compile(r"[{}]|\b[a-z]+_[a-z_]+\b|\bNone\b|frozenset|Fraction|  +\S+  +|: *\.|\(\)")


@pytest.mark.parametrize(("pack", "rule"), RULES, ids=lambda each: getattr(each, "id", ""))
def test_a_rule_reads_like_sentences(pack: Pack, rule: Rule) -> None:
    told = explanation_text(Explanation((of_pack(rule, pack, VOCABULARY),), cases=1))
    assert not [line for line in told.splitlines() if len(line) > 80 or CODE.search(line.strip())]
    assert rule.title.split()[0] in told
    assert "It asks for" in told or "Somebody looks" in told


@pytest.mark.parametrize(("old", "new"), [("2017", "2020"), ("2020", "2023"), ("2023", "2017")])
def test_editions_are_compared_in_words(old: str, new: str) -> None:
    before, after = SideAsked(edition=old), SideAsked(edition=new)
    compared = compared_editions("NFPA 70", before, after, ROOT, (), LIBRARY)
    told = compared_text(compared)
    assert not [line for line in told.splitlines() if len(line) > 80 or CODE.search(line.strip())]
    assert len(compared.rules.differences) > 10
    assert all(each.kind != "changes" or each.differences for each in compared.rules.differences)


def test_every_rule_is_listed_once() -> None:
    told = rule_table(rules_of_packs(LIBRARY.packs, Wanted(), VOCABULARY))
    lines = told.splitlines()
    assert max(map(len, lines)) <= 80
    assert all(lines.count(rule.id) == 1 for _, rule in RULES)
    assert lines[-1] == f"{len(RULES)} rules."
