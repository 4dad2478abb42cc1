"""Cases and edges see a shipped rule that is changed in one place.

A sample of all changes is tried in the usual run. All of them, which takes some minutes:

    MUTANTS=all python -m pytest tests/rules_quality/test_mutants.py -s
"""

from __future__ import annotations

import os
from collections import Counter
from pathlib import Path

import pytest

from checker.catalog.model import Catalog
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.reading.pack import read_pack
from checker.rules.vocabulary import Vocabulary
from checker.tasks.gathering.library import Library
from tests.cli.small_pack import CASES, RULES, changed, write_pack
from tests.rules_quality.catching import Tally, tally
from tests.rules_quality.mutants import mutants_of

WANTED = 0.9
"""Part of the changes that change anything which must be seen, in each pack."""

SAMPLED = 10
"""In the usual run every so-many-th change of each rule is tried."""

PACKS = tuple(pack.id for pack in Library.shipped().packs)


def _every() -> int:
    return 1 if os.environ.get("MUTANTS") == "all" else SAMPLED


@pytest.mark.parametrize("pack_id", PACKS)
def test_cases_and_edges_see_what_is_changed(pack_id: str, packs: tuple[Pack, ...], catalog: Catalog) -> None:
    pack = next(each for each in packs if each.id == pack_id)
    found = tally(pack, catalog, every=_every())
    assert found.caught
    report = _report(found)
    assert found.rate > WANTED, report


def _report(found: Tally) -> str:
    survivors = Counter(each.mutant.rule for each in found.survivors)
    heads = [
        f"{found.caught} changes were seen, {len(found.survivors)} were not, {len(found.unchanged)} change nothing."
    ]
    heads += [f"  {rule}: {count}" for rule, count in survivors.most_common()]
    return "\n".join([*heads, *(f"  {each}" for each in found.survivors)])


# --- the changes themselves ------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def small(tmp_path_factory: pytest.TempPathFactory, catalog: Catalog) -> Pack:
    return read_pack(write_pack(tmp_path_factory.mktemp("mutants")), catalog)


def whats(rule: Rule, pack: Pack, catalog: Catalog) -> set[str]:
    """What is done to a rule."""
    return {mutant.what for mutant in mutants_of(rule, pack, Vocabulary(catalog))}


def test_the_changes_of_a_small_rule(small: Pack, catalog: Catalog) -> None:
    assert whats(small.rules[0], small, catalog) == {
        "when dropped",
        "when: operation is: automatic replaced by manual",
        "when: operation: is to is_not",
        "requires: rated: rated_current: at_least to more_than",
        "requires: rated: rated_current: at_least to at_most",
        "least-switch-rating 1 % up",
        "least-switch-rating 1 % down",
        "least-switch-rating x 1000",
    }


@pytest.mark.parametrize(
    "what",
    [
        *(
            " to more_than",
            " to at_least",
            " to less_than",
            " to at_most",
            " to is_not",
            " to is",
            " to none_of",
            " to one_of",
        ),
        *(" to includes_all", " to includes_any", " to before", " to on_or_after"),
        *("1 % up", "1 % down", "x 1000", "1 up", "1 down", "a day longer", "a day shorter"),
        *(" dropped", " replaced by ", "yes flipped", "no flipped", "all swapped", "any swapped", "not dropped"),
        *(" to some", " to every", " to none", "if_absent of ", "if_empty of ", "where of ", "that of ", "part "),
        *("unless 1 dropped", "instead 1 dropped", "reading ", "in every edition", "rule in every edition"),
        *("skip_absent flipped", "scale dropped", "next size dropped", "smallest_of to largest_of", "without "),
    ],
)
def test_every_sort_of_change_is_made_somewhere(what: str, packs: tuple[Pack, ...], catalog: Catalog) -> None:
    assert any(what in each for pack in packs for rule in pack.rules for each in whats(rule, pack, catalog))


def test_every_change_changes_the_rule_or_a_number(packs: tuple[Pack, ...], catalog: Catalog) -> None:
    for pack in packs:
        for rule in pack.rules:
            for mutant in mutants_of(rule, pack, Vocabulary(catalog)):
                same = mutant.pack.rules == (rule,) and mutant.pack.parameters == pack.parameters
                assert not same, f"{mutant.rule}: {mutant.what}"


# --- what sees them --------------------------------------------------------------------------------------------------


def test_good_cases_see_every_change_of_a_small_rule(small: Pack, catalog: Catalog) -> None:
    found = tally(small, catalog)
    assert (found.rate, found.survivors) == (1, ())
    assert found.caught == sum(1 for rule in small.rules for _ in mutants_of(rule, small, Vocabulary(catalog)))


def test_a_missing_case_lets_a_change_through(tmp_path: Path, catalog: Catalog) -> None:
    """Without a case of a manual switch nobody sees that the rule forgets what it is about."""
    line = next(line for line in CASES.splitlines() if "manual switch" in line)
    pack = read_pack(write_pack(tmp_path, cases=changed(CASES, f"{line}\n", "")), catalog)
    survived = {each.mutant.what for each in tally(pack, catalog).survivors}
    assert survived == {"when dropped"}


def test_a_change_that_changes_nothing_does_not_count(tmp_path: Path, catalog: Catalog) -> None:
    """The second of two equal conditions can go."""
    rules = changed(
        RULES,
        "when: {operation: {is: automatic}}",
        "when: {all: [operation: {is: automatic}, operation: {is: automatic}]}",
    )
    pack = read_pack(write_pack(tmp_path, rules=rules), catalog)
    found = tally(pack, catalog)
    assert {each.what for each in found.unchanged} >= {"when: all without 1 (operation)", "when: all swapped"}
    assert found.survivors == ()
