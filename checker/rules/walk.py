"""Going through what a rule is made of."""

from __future__ import annotations

from collections.abc import Iterator

from checker.rules.model.conditions import (
    Combined,
    Compare,
    Condition,
    Count,
    FactOperand,
    FactPath,
    Fold,
    Group,
    Lookup,
    NextSize,
    Not,
    Operand,
    ParameterOperand,
    Scaled,
)
from checker.rules.model.rule import Label, Requires, Rule


def requirements_of(rule: Rule) -> Iterator[Requires]:
    """The rule's own requirement, those that can take its place, and those of its readings."""
    if rule.requires is not None:
        yield rule.requires
    yield from (each.requires for each in rule.instead)
    yield from (each.requires for each in rule.readings)


def conditions_of(rule: Rule) -> Iterator[Condition]:
    """Every condition of a rule that stands in no other condition."""
    if rule.when is not None:
        yield rule.when
    yield from (each.condition for each in rule.unless)
    yield from (each.condition for each in rule.instead)
    for requires in requirements_of(rule):
        yield from requires.parts.values()


def below(condition: Condition) -> Iterator[Condition]:
    """A condition and every condition inside it."""
    yield condition
    for inner in inside(condition):
        yield from below(inner)


def inside(condition: Condition) -> tuple[Condition, ...]:
    """The conditions that stand directly in this one."""
    if isinstance(condition, Group):
        return condition.conditions
    if isinstance(condition, Not):
        return (condition.condition,)
    if isinstance(condition, Fold):
        return tuple(each for each in (condition.where, condition.that) if each is not None)
    if isinstance(condition, Count):
        return () if condition.where is None else (condition.where,)
    return ()


def operands_of(condition: Condition) -> Iterator[Operand]:
    """Every operand of the condition's own comparisons, with all operands inside them."""
    if isinstance(condition, Compare | Count):
        for test in condition.tests:
            for operand in test.operands:
                yield from operands_below(operand)


def operands_below(operand: Operand) -> Iterator[Operand]:
    """An operand and every operand inside it."""
    yield operand
    if isinstance(operand, Combined):
        inner: tuple[Operand, ...] = operand.operands
    elif isinstance(operand, Scaled):
        inner = (operand.operand, operand.factor)
    elif isinstance(operand, NextSize):
        inner = (operand.operand,)
    elif isinstance(operand, Lookup):
        inner = tuple(operand.keys.values())
    else:
        inner = ()
    for each in inner:
        yield from operands_below(each)


def operands_in(rule: Rule) -> Iterator[Operand]:
    """Every operand of a rule."""
    for top in conditions_of(rule):
        for condition in below(top):
            yield from operands_of(condition)


def facts_compared(condition: Condition) -> Iterator[FactPath]:
    """The facts that the condition itself names, on either side of its comparisons."""
    if isinstance(condition, Compare):
        yield condition.path
    yield from (operand.path for operand in operands_of(condition) if isinstance(operand, FactOperand))


def parameters_read(rule: Rule) -> tuple[str, ...]:
    """The names of the parameters that a rule reads, each once: in its conditions, of its signs and of its texts."""
    compared = (
        each.name for each in (*operands_in(rule), *_operands_beside(rule)) if isinstance(each, ParameterOperand)
    )
    heights = (each.letter_height for each in rule.labels if each.letter_height is not None)
    return tuple(dict.fromkeys((*compared, *heights)))


def conditions_of_label(label: Label) -> Iterator[Condition]:
    """The conditions that say which sign is wanted, and where. They decide no finding, so they are none of the rule."""
    yield from (each for each in (label.when, label.where) if each is not None)


def conditions_of_texts(rule: Rule) -> Iterator[Condition]:
    """The conditions that say which sentences, cures and cautions are told. They decide no finding either."""
    yield from (each.when for each in (*rule.says_where, *rule.remedy, *rule.cautions) if each.when is not None)


def _operands_beside(rule: Rule) -> Iterator[Operand]:
    """Every operand of its signs and of its texts."""
    of_labels = (each for label in rule.labels for each in conditions_of_label(label))
    for top in (*of_labels, *conditions_of_texts(rule)):
        for condition in below(top):
            yield from operands_of(condition)


def tables_read(rule: Rule) -> tuple[str, ...]:
    """The names of the tables that a rule reads, each once."""
    operands = (*operands_in(rule), *_operands_beside(rule))
    return tuple(dict.fromkeys(each.table for each in operands if isinstance(each, Lookup | NextSize)))


def parts_of(rule: Rule) -> dict[str, Condition]:
    """Every named part of a rule: the parts and ways of its requirements, and conditions with ``part``."""
    found: dict[str, Condition] = {}
    for requires in requirements_of(rule):
        for name, condition in requires.parts.items():
            found.setdefault(name, condition)
    for top in conditions_of(rule):
        for condition in below(top):
            if condition.part is not None:
                found.setdefault(condition.part, condition)
    return found
