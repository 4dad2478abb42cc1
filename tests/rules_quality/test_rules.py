"""What every shipped rule must have: a citation where it needs one, an id that is a claim and its own, what it
covers.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from checker.rules.grammar import ID, NAME
from checker.rules.model.force import Basis, Harm
from checker.rules.model.numbers import Parameter, Table
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.outcomes import miss_of

PRACTICE = frozenset({Basis.TRADE_PRACTICE, Basis.LOCAL_PRACTICE})


def _rules(packs: tuple[Pack, ...]) -> Iterator[tuple[Pack, Rule]]:
    return ((pack, rule) for pack in packs for rule in pack.rules)


def _numbers(packs: tuple[Pack, ...]) -> Iterator[tuple[Pack, Parameter | Table]]:
    for pack in packs:
        yield from ((pack, parameter) for parameter in pack.parameters.values())
        yield from ((pack, table) for table in pack.tables.values())


def test_what_is_law_standard_listing_or_policy_has_a_citation(packs: tuple[Pack, ...]) -> None:
    without = [
        rule.id
        for _, rule in _rules(packs)
        if rule.basis not in PRACTICE and not (any(rule.sections.values()) or rule.cites)
    ]
    assert without == []


def test_a_citation_stands_in_every_edition_in_which_the_rule_exists(packs: tuple[Pack, ...]) -> None:
    for pack, rule in _rules(packs):
        if pack.editions and rule.basis not in PRACTICE:
            assert set(rule.sections) <= set(pack.editions), rule.id
            assert all(all(section.strip() for section in sections) and sections for sections in rule.sections.values())


def test_a_cure_speaks_of_the_edition_in_force_alone(packs: tuple[Pack, ...]) -> None:
    """What another edition asks is no way out here: the cures of one edition are told by `in`."""
    of_another = [
        (rule.id, each.text)
        for pack, rule in _rules(packs)
        if pack.editions
        for each in rule.remedy
        if re.search(r"\b20[0-9]{2}\b", each.text)
    ]
    assert of_another == []


def test_practice_and_nothing_else_is_without_a_citation(packs: tuple[Pack, ...]) -> None:
    cited = [rule.id for _, rule in _rules(packs) if rule.basis in PRACTICE and (rule.sections or rule.cites)]
    assert cited == []


def test_practice_never_corrects(packs: tuple[Pack, ...]) -> None:
    misses = {miss_of(rule) for _, rule in _rules(packs) if rule.basis in PRACTICE}
    assert misses == {"recommendation", "note"}


def test_numbers_of_a_document_are_cited_and_checked(packs: tuple[Pack, ...]) -> None:
    """Numbers of practice have no section, but a table may name the handbook that prints it; all others have one in
    every edition, and a word on how sure they are.
    """
    for pack, each in _numbers(packs):
        of_practice = not pack.editions and all(rule.basis in PRACTICE for rule in pack.rules)
        for edition, value in each.values.items():
            assert bool(value.cites) is not of_practice or isinstance(each, Table), f"{each.name} {edition}"
            assert value.checked.sure in ("high", "medium", "low")


def test_ids_are_unique_over_all_packs(packs: tuple[Pack, ...]) -> None:
    ids = [rule.id for _, rule in _rules(packs)] + [retired for pack in packs for retired in pack.retired]
    assert len(set(ids)) == len(ids)


def test_ids_are_claims_in_kebab_case(packs: tuple[Pack, ...]) -> None:
    wrong = [rule.id for _, rule in _rules(packs) if not re.fullmatch(ID, rule.id)]
    parts = [each.id for _, rule in _rules(packs) for each in rule.unless]
    parts += [each.id for _, rule in _rules(packs) for each in rule.instead]
    wrong += [part for part in parts if not re.fullmatch(ID, part)]
    wrong += [each.name for _, each in _numbers(packs) if not re.fullmatch(NAME, each.name)]
    assert wrong == []


NO_HARM_OF_ITS_OWN = frozenset({"utility-agrees-to-the-switch"})
"""Rules with a caution that ask for a paper."""


def test_a_rule_that_warns_of_harm_says_which(packs: tuple[Pack, ...]) -> None:
    """Left out, the harm is none, and the finding is told last: right for a sign or a paper, and for nothing else that
    needs a caution.
    """
    cautioned = [rule for pack, rule in _rules(packs) if rule.cautions and pack.id != "cautions"]
    without = {rule.id for rule in cautioned if rule.harm is Harm.NONE and not rule.labels}
    assert without == NO_HARM_OF_ITS_OWN


def test_what_binds_and_keeps_exhaust_backfeed_and_shock_away_is_told_as_a_matter_of_life(
    packs: tuple[Pack, ...],
) -> None:
    harm = {rule.id: rule.harm for _, rule in _rules(packs)}
    for name in (
        "outdoor-engine-away-from-openings",
        "set-cannot-be-tied-to-the-utility",
        "transfer-equipment-listed",
        "set-neutral-bonded-at-one-place",
        "no-neutral-bond-past-the-service-disconnect",
        "gas-valve-at-the-set",
        "set-has-a-gas-valve-of-its-own",
        "dwelling-stop-outside",
    ):
        assert harm[name].kills, name


def test_every_rule_says_what_it_covers(packs: tuple[Pack, ...]) -> None:
    """Rules of trade practice may answer no entry; those of a document always answer one."""
    without = [rule.id for pack, rule in _rules(packs) if not rule.covers and pack.editions]
    assert without == []


def test_what_is_covered_has_one_form(packs: tuple[Pack, ...]) -> None:
    entries = [entry for _, rule in _rules(packs) for entry in rule.covers]
    assert entries
    assert not [entry for entry in entries if not re.fullmatch(r"[A-Z]{2}-[0-9]{2,3}", entry)]


def test_titles_and_sentences_are_there_and_told_apart(packs: tuple[Pack, ...]) -> None:
    titles = [rule.title for _, rule in _rules(packs)]
    assert len(set(titles)) == len(titles)
    assert not [
        rule.id for _, rule in _rules(packs) if rule.look is None and not (rule.says and rule.why and rule.remedy)
    ]


def test_every_other_rule_that_is_named_is_there(packs: tuple[Pack, ...]) -> None:
    known = {rule.id for _, rule in _rules(packs)}
    named = {other.rpartition(":")[2] for _, rule in _rules(packs) for other in (*rule.before, *rule.companions)}
    assert named <= known
    assert named, "no rule names another"


@pytest.mark.parametrize(
    "pack_id", ["nfpa-70", "trade-practice", "cautions", "figures", "ifgc", "nfpa-37", "nfpa-54", "nfpa-58", "nfpa-110"]
)
def test_the_packs_are_there(pack_id: str, packs: tuple[Pack, ...]) -> None:
    assert any(pack.id == pack_id and pack.rules for pack in packs)
