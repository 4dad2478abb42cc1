"""What a rule of a shipped pack answers on given facts: on this way a published figure reaches a user."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from functools import cache
from pathlib import Path

from checker.catalog.load import shipped_catalog
from checker.files.folders import data_folder
from checker.rules.cases.read import CaseRule, CaseRules, read_case_text
from checker.rules.edition import editions_of, pack_in_edition
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.pack import Pack
from checker.rules.outcomes import outcomes_of
from checker.rules.reading.names_read import names_read
from checker.rules.reading.pack import read_pack
from checker.rules.vocabulary import Vocabulary
from checker.tasks.testing.cases import answer

EDITION = "2020"
"""In which rules are asked here."""

NFPA_70, TRADE = "nfpa-70", "trade-practice"
_HUNDREDTHS = 100


@cache
def pack(name: str) -> Pack:
    return read_pack(data_folder("rulesets") / name, shipped_catalog(), data_folder("shared"))


@cache
def _vocabulary() -> Vocabulary:
    return Vocabulary(shipped_catalog())


@cache
def _rule(name: str, rule_id: str) -> tuple[RuleInForce, CaseRules]:
    """The rule as it is in the edition, and what its cases may name."""
    whole = pack(name)
    edition = EDITION if whole.editions else None
    in_force = next(each for each in pack_in_edition(whole, edition, "", frozenset()) if each.rule.id == rule_id)
    rule = next(each for each in whole.rules if each.id == rule_id)
    usual = editions_of(rule, whole)
    case_rule = CaseRule(rule, names_read(rule), outcomes_of(rule, _vocabulary()), usual, usual)
    return in_force, CaseRules("this pack", {rule_id: case_rule}, whole.editions, {})


def outcome(rule_id: str, facts: str, name: str = NFPA_70) -> str:
    """What comes out of a rule on these facts, written as a case writes them."""
    in_force, rules = _rule(name, rule_id)
    folder = Path(pack(name).folder)
    text = f"{rule_id}:\n  base: {{{facts}}}\n  cases:\n    - {{shows: what is asked, outcome: met}}\n"
    (case,) = read_case_text(text, folder, rules, shipped_catalog())
    return answer(case, in_force, folder, _vocabulary()).outcome


def least_amperes(outcome_at: Callable[[Fraction], str]) -> Fraction:
    """The least current (A, to a hundredth) at which a rule is met, below which it is missed."""
    low, high = 0, 10_000 * _HUNDREDTHS
    while high - low > 1:
        middle = (low + high) // 2
        if outcome_at(Fraction(middle, _HUNDREDTHS)) == "met":
            high = middle
        else:
            low = middle
    assert outcome_at(Fraction(low, _HUNDREDTHS)) in ("correction", "recommendation")
    return Fraction(high, _HUNDREDTHS)


def standard_ratings() -> Sequence[Fraction]:
    """Standard ratings of overcurrent devices (A), as the pack has them."""
    rows = pack(NFPA_70).tables["standard-overcurrent-sizes"].values[EDITION].rows
    numbers = [row.value.number for row in rows]
    return sorted(each for each in numbers if each is not None)


def amperes(number: Fraction) -> str:
    """A current as a file writes it."""
    return f"{float(number):.9g} A"
