"""What else must change when this changes: companions, rules that read the same fact, numbers set elsewhere too."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from checker.rules.model.conditions import Compare, Condition, FactPath, ParameterOperand
from checker.rules.model.rule import Rule
from checker.rules.reading.names_read import NamesRead, names_read
from checker.rules.walk import below, conditions_of, operands_of, requirements_of
from checker.tasks.drafting.finding import Finder, NumberFound, RuleFound

MOST_TOLD = 8
_WHAT_IT_IS = frozenset({"kind", "paper", "to_kind", "status", "role"})


def beside_number(found: NumberFound, finder: Finder) -> tuple[str, ...]:
    """Questions about a number that is set."""
    facts = {path.name for each in found.readers for path in _compared_with(each.rule, found.parameter.name)}
    own = {each.name for each in found.readers}
    return (
        *_first(_elsewhere(found, facts, finder)),
        *_first(_companions(found.readers, finder)),
        *_first(_readers(facts, own, finder)),
    )


def beside_rule(found: RuleFound, finder: Finder) -> tuple[str, ...]:
    """Questions about a rule that is deleted or ended."""
    facts = asked_facts(found.rule)
    return (*_first(_companions((found,), finder)), *_first(_readers(facts, {found.name}, finder)))


def beside_own(rule: Rule, finder: Finder) -> tuple[str, ...]:
    """Questions about a rule of the office's own."""
    named = {each.rpartition(":")[2] for each in rule.companions}
    told = (f"Is it still so? {each.words}" for each in finder.rules if each.rule.id in named)
    known = {each.name for each in finder.rules if each.rule.id in named}
    return (*_first(told), *_first(_readers(asked_facts(rule), known, finder)))


def asked_facts(rule: Rule) -> set[str]:
    """The facts that the requirement of a rule compares, by their names without links. What a thing is, as its kind,
    is no such fact.
    """
    conditions = [each for requires in requirements_of(rule) for each in requires.parts.values()]
    return {each.path.name for each in _compares(conditions)} - _WHAT_IT_IS


def _compares(conditions: Iterable[Condition]) -> Iterator[Compare]:
    return (each for top in conditions for each in below(top) if isinstance(each, Compare))


def _compared_with(rule: Rule, parameter: str) -> Iterator[FactPath]:
    for each in _compares(conditions_of(rule)):
        if any(isinstance(operand, ParameterOperand) and operand.name == parameter for operand in operands_of(each)):
            yield each.path


def _companions(found: Iterable[RuleFound], finder: Finder) -> Iterator[str]:
    """The rules that the rule names, and those that name it."""
    for target in found:
        named = {*target.rule.companions, *target.rule.before}
        for each in finder.rules:
            ids = {each.rule.id, each.name}
            names_it = {target.rule.id, target.name} & {*each.rule.companions, *each.rule.before}
            if named & ids or (names_it and each.pack is target.pack):
                yield f"It goes together with this rule: {each.words}"


def _readers(facts: set[str], own: set[str], finder: Finder) -> Iterator[str]:
    for each in finder.rules:
        read = sorted(facts & _names(names_read(each.rule)))
        if read and each.name not in own:
            yield f"This rule reads {' and '.join(read).replace('_', ' ')} too: {each.words}"


def _names(read: NamesRead) -> set[str]:
    inner = (name for each in read.lists.values() for name in _names(each))
    return {*(name.rpartition(".")[2] for name in read.facts), *read.facts, *inner}


def _elsewhere(found: NumberFound, facts: set[str], finder: Finder) -> Iterator[str]:
    """Numbers of the same kind that another number of the same fact sets."""
    for each in finder.numbers:
        same = each.parameter.type == found.parameter.type and each.name != found.name
        if same and any(
            path.name in facts for rule in each.readers for path in _compared_with(rule.rule, each.parameter.name)
        ):
            yield f"Here the same is set: {each.words}"


def _first(told: Iterable[str]) -> list[str]:
    every = list(dict.fromkeys(told))
    more = [f"... and {len(every) - MOST_TOLD} more."] if len(every) > MOST_TOLD else []
    return [*every[:MOST_TOLD], *more]
