"""Conditions without what only tells where they stand, so that two that ask the same are equal."""

from __future__ import annotations

from dataclasses import replace

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
    Scaled,
    Test,
)
from checker.rules.model.rule import Requires


def plain(condition: Condition) -> Condition:
    """The condition without places in files, names of parts and editions; it asks the same."""
    match condition:
        case Compare():
            tests = tuple(map(_test, condition.tests))
            return replace(condition, path=_path(condition.path), tests=tests, part=None, editions=frozenset())
        case Group():
            inner = tuple(map(plain, condition.conditions))
            return inner[0] if len(inner) == 1 else Group(condition.how, inner)
        case Not():
            return Not(plain(condition.condition))
        case Fold():
            where, that = _maybe(condition.where), _maybe(condition.that)
            return Fold(condition.how, _path(condition.collection), where, that, condition.if_empty)
        case Count():
            return Count(_path(condition.collection), _maybe(condition.where), tuple(map(_test, condition.tests)))


def plain_requires(requires: Requires) -> tuple[bool, tuple[tuple[str, Condition], ...]]:
    """A requirement by the names of its parts; whether it can be met in any of them only counts for several."""
    parts = tuple(sorted(((name, plain(each)) for name, each in requires.parts.items()), key=lambda each: each[0]))
    return requires.any_way and len(parts) > 1, parts


def _maybe(condition: Condition | None) -> Condition | None:
    return None if condition is None else plain(condition)


def _path(path: FactPath) -> FactPath:
    return FactPath(path.links, path.name)


def _test(test: Test) -> Test:
    return Test(test.relation, tuple(map(_operand, test.operands)))


def _operand(operand: Operand) -> Operand:
    match operand:
        case FactOperand():
            return FactOperand(_path(operand.path))
        case Combined():
            return replace(operand, operands=tuple(map(_operand, operand.operands)))
        case Scaled():
            return Scaled(_operand(operand.operand), _operand(operand.factor))
        case NextSize():
            return NextSize(_operand(operand.operand), operand.table)
        case Lookup():
            return Lookup(operand.table, {name: _operand(each) for name, each in operand.keys.items()})
        case _:
            return operand
