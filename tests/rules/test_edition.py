"""A rule in one edition: what is not in the edition is gone, and the numbers are those of the edition."""

from __future__ import annotations

import pytest

from checker.rules.edition import condition_in, pack_in_edition, rule_in_edition
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Compare, FactPath, Fold, Group, Not
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from tests.rules.packs import EXAMPLE, PRACTICE, read


@pytest.fixture(scope="module")
def example() -> Pack:
    return read(EXAMPLE)


def _rule(pack: Pack, name: str) -> Rule:
    return next(rule for rule in pack.rules if rule.id == name)


def _asked(name: str, *editions: str) -> Compare:
    return Compare(FactPath((), name), (), editions=frozenset(editions))


def test_rule_exists_where_it_has_a_section(example: Pack) -> None:
    rule = _rule(example, "conductors-have-an-equipment-ground")
    assert rule_in_edition(rule, "2017") is None
    assert rule_in_edition(rule, "2020") is not None


def test_conditions_exceptions_and_readings_are_filtered(example: Pack) -> None:
    rule = _rule(example, "first-switch-marked-for-service")
    old, new = rule_in_edition(rule, "2017"), rule_in_edition(rule, "2023")
    assert old is not None
    assert new is not None
    assert [each.id for each in old.unless] == ["field-work-only"]
    assert [each.id for each in new.unless] == ["on-a-pole"]
    assert [cite.edition for cite in new.unless[0].cites] == ["2023"]
    for found, count in ((old, 1), (new, 2)):
        assert isinstance(found.when, Group)
        either = found.when.conditions[1]
        assert isinstance(either, Group)
        assert len(either.conditions) == count


def test_parts_are_filtered(example: Pack) -> None:
    rule = _rule(example, "switch-carries-both-sides")
    old = rule_in_edition(rule, "2017")
    assert old is not None
    assert old.requires is not None
    assert list(old.requires.parts) == ["behind_both", "within", "agrees"]


def test_numbers_of_the_edition(example: Pack) -> None:
    by_edition = {
        edition: {each.rule.id: each for each in pack_in_edition(example, edition, "order 9")}
        for edition in ("2017", "2020")
    }
    old = by_edition["2017"]["switch-withstands-the-fault"]
    new = by_edition["2020"]["switch-withstands-the-fault"]
    assert (old.parameters["margin"].text, new.parameters["margin"].text) == ("110 %", "125 %")
    assert set(old.parameters) == {"margin", "one"}
    assert old.parameter_titles == {"margin": "margin over the fault current", "one": "one"}
    assert (new.edition, new.authority, new.id) == ("2020", "order 9", "example-code-2020:switch-withstands-the-fault")
    assert new.cites == (Citation("Example Code", "2020", "15", verify=True),)
    assert "conductors-have-an-equipment-ground" not in by_edition["2017"]
    assert set(by_edition["2020"]["conductors-have-an-equipment-ground"].tables) == {"ground-sizes"}


def test_shared_table_serves_every_edition(example: Pack) -> None:
    rules = {each.rule.id: each for each in pack_in_edition(example, "2023", "order 9")}
    sizes = rules["switch-carries-both-sides"].tables["switch-sizes"]
    assert [row.text for row in sizes.rows] == ["100 A", "200 A", "400 A"]


def test_confirmed_section_is_not_to_be_verified(example: Pack) -> None:
    rules = {each.rule.id: each for each in pack_in_edition(example, "2020", "")}
    assert rules["first-switch-marked-for-service"].cites == (Citation("Example Code", "2020", "14.1"),)


def test_pack_without_editions() -> None:
    practice = read(PRACTICE)
    first, _ = pack_in_edition(practice, None, "")
    assert (first.edition, first.id) == (None, "example-practice:switch-larger-than-the-set")
    assert first.parameters["reserve"].text == "110 %"
    with pytest.raises(KeyError):
        pack_in_edition(practice, "2020", "")


@pytest.mark.parametrize("edition", ["2026", None])
def test_edition_that_the_pack_does_not_have(example: Pack, edition: str | None) -> None:
    with pytest.raises(KeyError):
        pack_in_edition(example, edition, "")


def test_emptied_all_stays_and_is_empty() -> None:
    group = Group("all", (_asked("listed", "2020"),))
    left = condition_in(group, "2023")
    assert isinstance(left, Group)
    assert left.conditions == ()


def test_not_goes_with_what_it_negates() -> None:
    assert condition_in(Not(_asked("listed", "2020")), "2023") is None
    assert condition_in(Not(_asked("listed", "2020")), "2020") == Not(_asked("listed", "2020"))


def test_where_goes_and_the_question_stays() -> None:
    fold = Fold("some", FactPath((), "labels"), _asked("marking", "2020"), _asked("marking"))
    left = condition_in(fold, "2023")
    assert isinstance(left, Fold)
    assert left.where is None
    assert left.that == _asked("marking")
