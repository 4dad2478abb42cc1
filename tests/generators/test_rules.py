"""Generated rules are well typed, and among few of them is everything that the grammar has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from checker.rules.grammar import RELATIONS, relations_of
from checker.rules.model.conditions import (
    Combined,
    Compare,
    Condition,
    Count,
    FactOperand,
    Fold,
    Group,
    Lookup,
    NextSize,
    Not,
    Operand,
    ParameterOperand,
    Scaled,
    Words,
)
from checker.rules.model.in_force import RuleInForce
from checker.rules.vocabulary import Around, CollectionFound, FactFound
from checker.rules.walk import below, conditions_of, operands_below, operands_of
from tests.generators.cases import NAMES, seeded_case
from tests.soundness.budget import seeds

_DEEPEST = 3


def _features(rule: RuleInForce) -> Iterator[str]:
    body = rule.rule
    yield f"subject {body.subject}"
    yield from (word for word, there in _parts(rule) if there)
    for top in conditions_of(body):
        for condition in below(top):
            yield from _of_condition(condition)
            for operand in operands_of(condition):
                yield from _of_operand(operand)
    yield from ("no limit" for value in rule.parameters.values() if value.no_limit)


def _parts(rule: RuleInForce) -> Iterator[tuple[str, bool]]:
    body = rule.rule
    yield from {
        "when": body.when is not None,
        "unless": bool(body.unless),
        "instead": bool(body.instead),
        "requires": body.requires is not None,
        "any way": body.requires is not None and body.requires.any_way,
        "readings": bool(body.readings),
        "look": body.look is not None,
    }.items()


def _of_condition(condition: Condition) -> Iterator[str]:
    yield from ("part" for _ in [condition.part] if condition.part)
    if isinstance(condition, Compare | Count):
        yield from (f"relation {test.relation}" for test in condition.tests)
    if isinstance(condition, Compare):
        yield f"if_absent {condition.if_absent}"
        yield from (f"link {link}" for link in condition.path.links)
    elif isinstance(condition, Fold):
        yield f"{condition.how}, if_empty {condition.if_empty}"
        yield f"collection {condition.collection.name}"
    else:
        yield condition.how if isinstance(condition, Group) else type(condition).__name__


def _of_operand(operand: Operand) -> Iterator[str]:
    yield type(operand).__name__
    if isinstance(operand, Combined):
        yield f"{operand.how}, skip_absent {operand.skip_absent}"


_WANTED = (
    *(f"subject {name}" for name in NAMES.vocabulary.subjects), *(f"relation {relation}" for relation in RELATIONS),
    "when", "unless", "instead", "requires", "any way", "readings", "look", "part", "no limit",
    *(f"link {link}" for link in (*NAMES.catalog.links, "a", "b", "subject")),
    *(f"collection {name}" for name in NAMES.catalog.collections),
    *(f"{how}, if_empty {empty}" for how in ("some", "none") for empty in (None, True, False)),
    "every, if_empty True", "every, if_empty False", "all", "any", "Not", "Count",
    *(f"if_absent {absent}" for absent in (None, True, False)),
    *(f"{how}, skip_absent {skip}" for how in ("largest_of", "smallest_of", "sum_of") for skip in (True, False)),
    *(each.__name__ for each in (Words, FactOperand, ParameterOperand, Combined, Scaled, NextSize, Lookup)),
)  # fmt: skip


def test_some_hundred_rules_have_everything_that_the_grammar_has() -> None:
    found: Counter[str] = Counter()
    for seed in seeds(700):
        for rule in seeded_case(seed).rules.rules:
            found.update(set(_features(rule)))
    assert not [feature for feature in _WANTED if not found[feature]]


def test_every_name_leads_to_something_and_every_relation_fits_its_fact() -> None:
    checked = 0
    for seed in seeds(60):
        for rule in seeded_case(seed).rules.rules:
            around = Around(NAMES.vocabulary.types_of(rule.rule.subject))
            for condition in conditions_of(rule.rule):
                checked += _well_typed(condition, around, 0)
    assert checked > 0


def _well_typed(condition: Condition, around: Around, depth: int) -> int:
    """How many comparisons were checked."""
    if isinstance(condition, Compare):
        found = NAMES.vocabulary.fact(str(condition.path), around)
        assert isinstance(found, FactFound), condition.path
        for test in condition.tests:
            assert test.relation in (*relations_of(found.fact), "known", "present")
        _check_operands(condition, around)
        return 1
    assert depth < _DEEPEST
    if isinstance(condition, Group):
        return sum(_well_typed(each, around, depth + 1) for each in condition.conditions)
    if isinstance(condition, Not):
        return _well_typed(condition.condition, around, depth + 1)
    collection = NAMES.vocabulary.collection(str(condition.collection), around)
    assert isinstance(collection, CollectionFound), condition.collection
    members = tuple(sorted(collection.collection.members))
    inside = [condition.where] if isinstance(condition, Count) else [condition.where, condition.that]
    return sum(_well_typed(each, around.inside(members), depth + 1) for each in inside if each is not None)


def _check_operands(condition: Compare, around: Around) -> None:
    for test in condition.tests:
        for top in test.operands:
            for operand in operands_below(top):
                if isinstance(operand, FactOperand):
                    assert isinstance(NAMES.vocabulary.fact(str(operand.path), around), FactFound), operand.path
