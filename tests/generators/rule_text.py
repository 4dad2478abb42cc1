"""Rules as text, near to how a pack writes them, for reports of what failed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

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
    Test,
    Words,
)
from checker.rules.model.in_force import RuleInForce, RulesInForce
from checker.rules.model.rule import Requires
from checker.values.possible import Possible


def rules_text(rules: RulesInForce) -> str:
    """Every rule with the numbers it reads."""
    return "\n".join(line for rule in rules.rules for line in _Printer(rule).lines())


def _indented(lines: Iterator[str]) -> Iterator[str]:
    return (f"  {line}" for line in lines)


class _Printer:
    """Prints one rule."""

    def __init__(self, rule: RuleInForce) -> None:
        self._rule = rule

    def lines(self) -> Iterator[str]:
        body = self._rule.rule
        yield f"{self._rule.id}: subject {body.subject}, {body.force.value}, {body.basis.value}"
        if body.when is not None:
            yield "  when"
            yield from _indented(_indented(self._condition(body.when)))
        for exception in body.unless:
            yield f"  unless {exception.id}"
            yield from _indented(_indented(self._condition(exception.condition)))
        for instead in body.instead:
            yield f"  instead {instead.id}, if"
            yield from _indented(_indented(self._condition(instead.condition)))
            yield from _indented(self._requires(instead.requires))
        for reading in body.readings:
            yield f"  reading {reading.name}"
            yield from _indented(self._requires(reading.requires))
        if body.requires is not None:
            yield from _indented(self._requires(body.requires))
        if body.look is not None:
            yield "  look"

    def _requires(self, requires: Requires) -> Iterator[str]:
        yield "requires any_way" if requires.any_way else "requires"
        for name, condition in requires.parts.items():
            yield f"  {name}:"
            yield from _indented(_indented(self._condition(condition)))

    def _condition(self, condition: Condition) -> Iterator[str]:
        match condition:
            case Compare():
                absent = "" if condition.if_absent is None else f", if_absent: {condition.if_absent}"
                tests = ", ".join(self._test(test) for test in condition.tests)
                yield f"{condition.path}: {tests}{absent}"
            case Group():
                yield f"{condition.how}:"
                for each in condition.conditions:
                    yield from _indented(self._condition(each))
            case Not():
                yield "not:"
                yield from _indented(self._condition(condition.condition))
            case Fold():
                empty = "" if condition.if_empty is None else f", if_empty: {condition.if_empty}"
                yield f"{condition.how} of {condition.collection}{empty}"
                yield from self._beside("where", condition.where)
                yield from self._beside("that", condition.that)
            case Count():
                tests = ", ".join(self._test(test) for test in condition.tests)
                yield f"count of {condition.collection}: {tests}"
                yield from self._beside("where", condition.where)

    def _beside(self, word: str, condition: Condition | None) -> Iterator[str]:
        if condition is not None:
            yield f"  {word}:"
            yield from _indented(_indented(self._condition(condition)))

    def _test(self, test: Test) -> str:
        return f"{test.relation} {' and '.join(self._operand(each) for each in test.operands)}"

    def _operand(self, operand: Operand) -> str:
        match operand:
            case Words():
                return str(list(operand.words)) if operand.is_list else str(operand.words[0])
            case FactOperand():
                return f"fact {operand.path}"
            case ParameterOperand():
                return f"({self._rule.parameters[operand.name].text})"
            case Combined():
                skip = ", skip_absent" if operand.skip_absent else ""
                return f"{operand.how}({', '.join(self._operand(each) for each in operand.operands)}{skip})"
            case Scaled():
                return f"scaled({self._operand(operand.operand)}, {self._operand(operand.factor)})"
            case NextSize():
                sizes = [row.text for row in self._rule.tables[operand.table].rows]
                return f"next_size({self._operand(operand.operand)}, {sizes})"
            case Lookup():
                keys = {name: self._operand(each) for name, each in operand.keys.items()}
                rows = [self._row(row.keys.values(), row.text) for row in self._rule.tables[operand.table].rows]
                return f"table({keys}, {rows})"

    def _row(self, keys: Iterable[Possible], text: str) -> str:
        return f"{[_key(key) for key in keys]}: {text}"


def _key(key: Possible) -> str:
    if key.spans:
        span = key.spans[0]
        return f"{'over ' if span.low_open else ''}{span.low} to {span.high}"
    return " or ".join(str(atom) for atom in key.atoms)
