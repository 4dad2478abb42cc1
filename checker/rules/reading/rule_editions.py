"""Whether a rule still says something in each of its editions, and has every number that it reads there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from checker.rules.edition import condition_in, exists_in, rule_in_edition
from checker.rules.grammar import NO_EDITION
from checker.rules.model.conditions import Condition, Fold, Group
from checker.rules.model.numbers import Parameter, Table
from checker.rules.model.rule import Rule
from checker.rules.reading.scope import Scope
from checker.rules.walk import conditions_of_label, inside, parameters_read, requirements_of, tables_read


def check_editions(rule: Rule, editions: tuple[str, ...], scope: Scope) -> None:
    """Tell what an edition empties, and numbers that are read where they have no value."""
    for edition in editions:
        left = rule_in_edition(rule, edition)
        if left is not None:
            _check_numbers(left, edition, scope)
            if edition != NO_EDITION:
                _check_emptied(rule, left, edition, scope)


def _check_numbers(rule: Rule, edition: str, scope: Scope) -> None:
    for names, known in ((parameters_read(rule), scope.numbers.parameters), (tables_read(rule), scope.numbers.tables)):
        for name in names:
            number = known.get(name)
            if number is not None and edition not in number.values:
                _tell_no_value(name, number, edition, scope)


def _tell_no_value(name: str, number: Parameter | Table, edition: str, scope: Scope) -> None:
    having: Mapping[str, object] = number.values
    if not having:
        return  # its value could not be read, which is told there
    remedy = f"It has one in {', '.join(having)}."
    scope.problems.add(
        f"`{scope.rule}` reads `{name}`, which has no value in edition {edition}."
        if edition
        else f"`{scope.rule}` reads `{name}`, which has no value here.",
        scope.named_at.get(name),
        remedy,
    )


def _check_emptied(rule: Rule, left: Rule, edition: str, scope: Scope) -> None:
    """Compare the rule with what is left of it in the edition."""
    for what in _emptied(rule, left, edition):
        scope.problems.add(
            f"Nothing of {what} in `{rule.id}` is left in edition {edition}.",
            rule.at,
            "Put `in:` on the whole of it, or leave one of its conditions in.",
        )


def _emptied(rule: Rule, left: Rule, edition: str) -> Iterator[str]:
    if rule.readings and not left.readings:
        yield "`readings`"
    for exception in rule.unless:
        if exists_in(exception.editions, edition) and condition_in(exception.condition, edition) is None:
            yield f"the exception `{exception.id}`"
    for instead in rule.instead:
        if exists_in(instead.editions, edition) and condition_in(instead.condition, edition) is None:
            yield f"the condition of `{instead.id}`"
    yield from _emptied_beside(rule, edition)
    for requires in requirements_of(left):
        if not requires.parts:
            yield "`any_way`" if requires.any_way else "`requires`"
    for condition in _standing(rule, edition):
        yield from _emptied_inside(condition, edition)


def _emptied_beside(rule: Rule, edition: str) -> Iterator[str]:
    """What is emptied of its signs and texts."""
    if any(condition_in(each, edition) is None for each in _of_labels(rule, edition)):
        yield "a condition of `label`"
    if any(condition_in(each, edition) is None for each in _of_texts(rule, edition)):
        yield "a condition of `says_where`, `remedy` or `cautions`"


def _standing(rule: Rule, edition: str) -> Iterator[Condition]:
    """The conditions, as written, of what exists in an edition."""
    if rule.when is not None:
        yield rule.when
    for exception in rule.unless:
        if exists_in(exception.editions, edition):
            yield exception.condition
    for instead in rule.instead:
        if exists_in(instead.editions, edition):
            yield from (instead.condition, *instead.requires.parts.values())
    for reading in rule.readings:
        if exists_in(reading.editions, edition):
            yield from reading.requires.parts.values()
    yield from _of_labels(rule, edition)
    yield from _of_texts(rule, edition)
    if rule.requires is not None:
        yield from rule.requires.parts.values()


def _of_labels(rule: Rule, edition: str) -> Iterator[Condition]:
    for label in rule.labels:
        if exists_in(label.editions, edition):
            yield from conditions_of_label(label)


def _of_texts(rule: Rule, edition: str) -> Iterator[Condition]:
    for each in (*rule.says_where, *rule.remedy, *rule.cautions):
        if each.when is not None and exists_in(each.editions, edition):
            yield each.when


def _emptied_inside(condition: Condition, edition: str) -> Iterator[str]:
    if condition_in(condition, edition) is None:
        return
    if isinstance(condition, Group) and condition.how == "any" and not any(_left(condition.conditions, edition)):
        yield "an `any`"
    if isinstance(condition, Fold) and condition.that is not None and not any(_left((condition.that,), edition)):
        yield f"the `that` of `{condition.how}`"
    for each in inside(condition):
        yield from _emptied_inside(each, edition)


def _left(conditions: tuple[Condition, ...], edition: str) -> Iterator[bool]:
    return (condition_in(each, edition) is not None for each in conditions)
