"""A rule in one edition: what is not in the edition is taken out before anything is judged."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import TypeVar

from checker.rules.grammar import NO_EDITION
from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Compare, Condition, Count, Fold, Group, Not
from checker.rules.model.force import Editions
from checker.rules.model.in_force import NumbersInForce, RuleInForce
from checker.rules.model.numbers import Parameter, Table
from checker.rules.model.pack import Pack
from checker.rules.model.rule import Instead, Label, NamedException, Requires, Rule, Told
from checker.rules.walk import parameters_read, tables_read

_Numbers = TypeVar("_Numbers", Parameter, Table)


def editions_of(rule: Rule, pack: Pack) -> tuple[str, ...]:
    """The editions in which a rule exists, oldest first; NO_EDITION alone where the pack has none."""
    return tuple(edition for edition in pack.editions if edition in rule.sections) if pack.editions else (NO_EDITION,)


def rule_in_edition(rule: Rule, edition: str) -> Rule | None:
    """The rule as it stands in an edition; None where it does not exist there. NO_EDITION for documents without
    editions.
    """
    if edition == NO_EDITION:
        return rule
    if edition not in rule.sections:
        return None
    return replace(
        rule,
        when=condition_in(rule.when, edition),
        unless=tuple(_exceptions_in(rule.unless, edition)),
        instead=tuple(_instead_in(rule.instead, edition)),
        requires=None if rule.requires is None else requires_in(rule.requires, edition),
        readings=tuple(
            replace(each, requires=requires_in(each.requires, edition))
            for each in rule.readings
            if exists_in(each.editions, edition)
        ),
        labels=tuple(_label_in(each, edition) for each in rule.labels if exists_in(each.editions, edition)),
        says_where=tuple(_told_in(rule.says_where, edition)),
        remedy=tuple(_told_in(rule.remedy, edition)),
        cautions=tuple(_told_in(rule.cautions, edition)),
    )


def _told_in(texts: Iterable[Told], edition: str) -> Iterator[Told]:
    for each in texts:
        if exists_in(each.editions, edition):
            yield replace(each, when=condition_in(each.when, edition))


def _label_in(label: Label, edition: str) -> Label:
    colors = label.colors if label.colors is not None and exists_in(label.colors.editions, edition) else None
    when, where = condition_in(label.when, edition), condition_in(label.where, edition)
    return replace(label, when=when, where=where, colors=colors)


def exists_in(editions: Editions, edition: str) -> bool:
    """Whether something that is limited to these editions (none: to no edition) exists in one."""
    return not editions or edition in editions


def _exceptions_in(exceptions: Iterable[NamedException], edition: str) -> Iterator[NamedException]:
    for each in exceptions:
        condition = condition_in(each.condition, edition)
        if condition is not None and exists_in(each.editions, edition):
            cites = tuple(cite for cite in each.cites if cite.edition in (None, edition))
            yield replace(each, condition=condition, cites=cites)


def _instead_in(replacements: Iterable[Instead], edition: str) -> Iterator[Instead]:
    for each in replacements:
        condition = condition_in(each.condition, edition)
        if condition is not None and exists_in(each.editions, edition):
            yield replace(each, condition=condition, requires=requires_in(each.requires, edition))


def requires_in(requires: Requires, edition: str) -> Requires:
    """A requirement with the parts that exist in an edition; it may be empty, which lint refuses."""
    parts = {name: condition_in(condition, edition) for name, condition in requires.parts.items()}
    return replace(requires, parts={name: condition for name, condition in parts.items() if condition is not None})


def condition_in(condition: Condition | None, edition: str) -> Condition | None:
    """A condition without what is not in an edition; None where nothing is left."""
    if condition is None or not exists_in(condition.editions, edition):
        return None
    if isinstance(condition, Compare):
        return condition
    if isinstance(condition, Group):
        inner = (condition_in(each, edition) for each in condition.conditions)
        return replace(condition, conditions=tuple(each for each in inner if each is not None))
    if isinstance(condition, Not):
        negated = condition_in(condition.condition, edition)
        return None if negated is None else replace(condition, condition=negated)
    if isinstance(condition, Fold):
        where, that = condition_in(condition.where, edition), condition_in(condition.that, edition)
        return replace(condition, where=where, that=that)
    return _count_in(condition, edition)


def _count_in(count: Count, edition: str) -> Count:
    return replace(count, where=condition_in(count.where, edition))


def pack_in_edition(
    pack: Pack, edition: str | None, authority: str, interim: frozenset[str] | None = None
) -> tuple[RuleInForce, ...]:
    """The rules of a pack in one edition (None for a pack without editions), with the numbers of that edition.

    ``interim`` are the interim amendments that count with it, all of the pack where it is None. KeyError for an edition
    that the pack does not have.
    """
    key = edition or NO_EDITION
    if (key != NO_EDITION) != bool(pack.editions) or (pack.editions and key not in pack.editions):
        raise KeyError(f"{pack.id} has no edition {edition}")
    counting = frozenset(pack.interim.get(key, ())) if interim is None else interim
    found = (rule_in_edition(rule, key) for rule in pack.rules if rule.interim.get(key, "") in {"", *counting})
    return tuple(_in_force(pack, rule, key, authority) for rule in found if rule is not None)


def all_interim(pack: Pack, edition: str | None) -> frozenset[str]:
    """Every interim amendment of an edition that the pack knows."""
    return frozenset(pack.interim.get(edition or NO_EDITION, {}))


def _in_force(pack: Pack, rule: Rule, edition: str, authority: str) -> RuleInForce:
    names = parameters_read(rule)
    return RuleInForce(
        rule,
        edition or None,
        authority,
        cites_in(rule, pack.document, edition),
        {name: each.values[edition] for name, each in _named(pack.parameters, names) if edition in each.values},
        {name: each.values[edition] for name, each in _named(pack.tables, tables_read(rule)) if edition in each.values},
        {name: pack.parameters[name].title for name in names if name in pack.parameters},
    )


def numbers_in_edition(pack: Pack, edition: str | None) -> NumbersInForce:
    """The parameters and tables of a pack in one edition (None for a pack without editions), for calculations."""
    key = edition or NO_EDITION
    return NumbersInForce(
        {name: each.values[key] for name, each in pack.parameters.items() if key in each.values},
        {name: each.values[key] for name, each in pack.tables.items() if key in each.values},
    )


def _named(known: Mapping[str, _Numbers], names: Iterable[str]) -> Iterator[tuple[str, _Numbers]]:
    return ((name, known[name]) for name in names if name in known)


def cites_in(rule: Rule, document: str, edition: str) -> tuple[Citation, ...]:
    """What a rule cites in an edition."""
    if edition == NO_EDITION:
        return rule.cites
    checked = rule.checked.get(edition)
    sure = checked is not None and checked.confirmed
    return tuple(Citation(document, edition, section, verify=not sure) for section in rule.sections[edition])
