"""Rules tried out: whether anything makes them apply, meets or misses them, and what their cases really come to."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise, product

from checker.catalog.model import Catalog
from checker.facts.known import Leaf
from checker.findings.judging.conditions import Judged
from checker.findings.judging.evaluation import evaluate
from checker.findings.judging.outcomes import Outcome, Outcomes
from checker.rules.cases.model import Case, Given
from checker.rules.edition import pack_in_edition
from checker.rules.grammar import NO_EDITION
from checker.rules.model.conditions import Compare, Condition, Count, Fold, ParameterOperand
from checker.rules.model.in_force import RuleInForce
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Rule
from checker.rules.outcomes import can_miss, compulsory_outcomes, miss_of
from checker.rules.vocabulary import Vocabulary
from checker.rules.walk import conditions_of, inside
from checker.rules.wording import listing
from checker.tasks.testing.case_evidence import SUBJECT, CaseEvidence
from checker.tasks.testing.cases import USUAL_DATE, CaseResult
from checker.values.possible import Possible, number
from checker.values.problems import Problem
from checker.values.truth import Truth

_MOST_TRIALS = 128
"""Combinations of numbers that are tried on one rule; with more it is taken that something makes it apply."""


def tried_packs(packs: Sequence[Pack], catalog: Catalog) -> Iterator[Problem]:
    """The rules of packs that can never apply, be missed or be met, in some edition."""
    vocabulary = _anything_said(catalog)
    for pack in packs:
        found: dict[tuple[str, str], list[str]] = defaultdict(list)
        bodies: dict[str, Rule] = {}
        for edition in pack.editions or (None,):
            interim = frozenset(pack.interim.get(edition or NO_EDITION, {}))
            for rule in pack_in_edition(pack, edition, "", interim):
                bodies[rule.rule.id] = rule.rule
                told = _never(rule, vocabulary)
                if told:
                    found[rule.rule.id, told].append(edition or "")
        for (name, told), editions in found.items():
            yield _problem(bodies[name], told, [each for each in editions if each])


def tried(rules: Iterable[RuleInForce], catalog: Catalog) -> Iterator[Problem]:
    """The rules in force that can never apply, be missed or be met."""
    vocabulary = _anything_said(catalog)
    for rule in rules:
        told = _never(rule, vocabulary)
        if told:
            yield _problem(rule.rule, told, [])


def _anything_said(catalog: Catalog) -> Vocabulary:
    """The catalog as if somebody might have written every choice, those too that are possible only where written."""
    facts = {name: replace(fact, said_only=frozenset()) for name, fact in catalog.facts.items()}
    return Vocabulary(replace(catalog, facts=facts))


def _problem(rule: Rule, told: str, editions: Sequence[str]) -> Problem:
    where = f" in {listing(editions)}" if editions else ""
    return Problem(
        f"`{rule.id}` can never {told}{where}, whatever a site shows.",
        rule.at,
        "Look for two conditions of which one rules the other out.",
    )


def _never(rule: RuleInForce, vocabulary: Vocabulary) -> str:
    """What the rule can never do, in a word; empty where it can do all."""
    possible = _possible(rule, vocabulary)
    if possible == {Outcome.NOT_APPLICABLE}:
        return "apply"
    body = rule.rule
    if body.look is not None or not can_miss(body):
        return ""
    misses = {Outcome(miss_of(body)), *([Outcome.AHJ_TO_DECIDE] if body.readings else [])}
    if not possible & misses:
        return "be missed"
    # Two readings of one text may be made so that they never agree.
    return "" if Outcome.MET in possible or body.readings else "be met"


def _possible(rule: RuleInForce, vocabulary: Vocabulary) -> Outcomes:
    """What can come out while nothing is known, for each combination of numbers between the limits that it is
    compared with.
    """
    evidence = CaseEvidence(vocabulary, vocabulary.types_of(rule.rule.subject), Given())
    points = _points(rule)
    count = 1
    for each in points.values():
        count *= len(each)
    if count > _MOST_TRIALS:
        points = {}
    found: Outcomes = frozenset()
    for values in product(*points.values()):
        pinned = evidence.pinned(dict(zip(points, values, strict=True)))
        found |= evaluate(rule, SUBJECT, lambda _: Judged(Truth.YES), pinned, USUAL_DATE).possible
    return found


def _points(rule: RuleInForce) -> Mapping[Leaf, tuple[Possible, ...]]:
    """For each fact that is compared with numbers more than once: on, between and beyond these numbers."""
    limits: dict[str, list[Fraction]] = defaultdict(list)
    for condition in conditions_of(rule.rule):
        for compare in _of_the_subject(condition):
            limits[str(compare.path)] += _limits(compare, rule)
    return {
        Leaf(SUBJECT, name): tuple(map(number, _around(sorted(set(values)))))
        for name, values in limits.items()
        if len(values) > 1
    }


def _of_the_subject(condition: Condition) -> Iterator[Compare]:
    """Comparisons outside collections: inside them a name is another member's each time."""
    if isinstance(condition, Compare):
        yield condition
    elif not isinstance(condition, Fold | Count):
        for each in inside(condition):
            yield from _of_the_subject(each)


def _limits(compare: Compare, rule: RuleInForce) -> Iterator[Fraction]:
    for test in compare.tests:
        for operand in test.operands:
            value = rule.parameters.get(operand.name) if isinstance(operand, ParameterOperand) else None
            if value is not None and isinstance(value.value, Possible) and value.value.number is not None:
                yield value.value.number


def _around(numbers: Sequence[Fraction]) -> Iterator[Fraction]:
    yield numbers[0] - 1
    for low, high in pairwise(numbers):
        yield low
        yield (low + high) / 2
    yield numbers[-1]
    yield numbers[-1] + 1


# --- cases -----------------------------------------------------------------------------------------------------------


def tried_cases(
    rules: Iterable[Rule], cases: Sequence[Case], results: Sequence[CaseResult], vocabulary: Vocabulary
) -> Iterator[Problem]:
    """Rules of which a case says that an outcome is reached, and none reaches it when it is run."""
    reached: dict[str, set[str]] = defaultdict(set)
    for result in results:
        reached[result.case.rule].add(result.outcome)
    for rule in rules:
        said = {case.outcome for case in cases if case.rule == rule.id}
        missing = [
            each for each in compulsory_outcomes(rule, vocabulary) if each in said and each not in reached[rule.id]
        ]
        if missing:
            yield Problem(
                f"No case of `{rule.id}` comes out as {listing(missing)} when it is run, though one says so.",
                rule.at,
                "See rules test.",
            )
