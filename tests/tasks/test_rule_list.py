"""Which rules a list holds, in which order, and where else something stands that is not in force."""

from __future__ import annotations

from datetime import date

import pytest

from checker.catalog.load import shipped_catalog
from checker.rules.vocabulary import Vocabulary
from checker.tasks.gathering.library import Library
from checker.tasks.gathering.standing import standing
from checker.tasks.telling.rule_list import RuleList, Wanted, rules_of_packs, rules_of_town
from checker.values.problems import Problem, Unreadable

LIBRARY = Library.shipped()
VOCABULARY = Vocabulary(shipped_catalog())
ON = date(2024, 1, 1)


def _in_force(jurisdiction: str, wanted: Wanted) -> RuleList:
    rules = standing(jurisdiction, LIBRARY.profiles, LIBRARY).on(ON)
    return rules_of_town(rules, wanted, VOCABULARY, LIBRARY.packs)


def _nothing(wanted: Wanted) -> Problem:
    with pytest.raises(Unreadable) as told:
        _in_force("nec-2020", wanted)
    (problem,) = told.value.problems
    return problem


def test_section_of_a_later_edition_is_told_with_its_rules_and_not_with_another_article() -> None:
    problem = _nothing(Wanted(section="225.41"))
    assert problem.sentence.endswith("cites section 225.41.")
    assert "It stands in NFPA 70 2023 and 2026 (dwelling-on-a-feeder-has-a-disconnect-outdoors: " in problem.remedy
    assert problem.near is not None
    assert problem.near.startswith("225.")
    assert _in_force("nec-2023", Wanted(section="225.41")).rules


def test_section_that_no_edition_has_names_the_nearest_of_its_article() -> None:
    problem = _nothing(Wanted(section="225.99"))
    assert "It stands in" not in problem.remedy
    assert problem.near is not None
    assert problem.near.startswith("225.")


def test_section_with_a_wrong_article_still_has_a_nearest_name() -> None:
    assert _nothing(Wanted(section="3250.24(A)(5)")).near == "250.24(A)(5)"


def test_word_that_only_a_later_edition_has_names_the_rule() -> None:
    assert "dwelling-on-a-feeder-has-a-disconnect-outdoors" in _nothing(Wanted(word="dwelling-on-a-feeder-has")).remedy


def test_best_match_of_a_word_comes_first() -> None:
    found = list(rules_of_packs(LIBRARY.packs, Wanted(word="neutral"), VOCABULARY).rules)
    in_title = ["neutral" in each.title.casefold() for each in found]
    named = ["neutral" in each.title.casefold() or "neutral" in each.id for each in found]
    assert in_title.index(False) > 10
    assert named == sorted(named, reverse=True)
    last_named = named.index(False)
    first = [each.id for each in found if " neutral " in f" {each.title.casefold().replace(',', '')} "]
    assert first == sorted(first)
    assert [each.id for each in found[: len(first)]] == first
    assert last_named < len(found)  # there are rules that only speak of it, and they come last


def test_without_a_word_the_order_of_the_packs_stays() -> None:
    found = rules_of_packs(LIBRARY.packs, Wanted(), VOCABULARY).rules
    assert [each.id for each in found] == [rule.id for pack in LIBRARY.packs for rule in pack.rules]
