"""Versions of a rule, where authorities differ and none goes before: made, changed, one again when they are alike."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from checker.rules.layers.at_work import AtWork, Made
from checker.rules.layers.changing import changed, has_effect, history
from checker.rules.layers.model import Change
from checker.rules.model.in_force import History, RuleInForce, Version
from checker.rules.model.rule import Rule
from checker.values.positions import Position


def successively(rule: RuleInForce, changes: Iterable[Made]) -> RuleInForce | None:
    """The rule after several changes, one after another; None where one of them takes it away."""
    after: RuleInForce | None = rule
    for at_work, change in changes:
        if after is not None and has_effect(after, change):
            after = changed(after, change, at_work.layer, at_work.held)
    return after


def alike(one: RuleInForce | None, other: RuleInForce | None) -> bool:
    """Whether two forms ask the same, whoever changed them and wherever that is cited: none goes before the other."""
    if one is None or other is None:
        return one is other
    return _asked(one) == _asked(other)


def _asked(rule: RuleInForce) -> tuple[Rule, dict[str, object], dict[str, object]]:
    body = replace(rule.rule, at=Position("", 1, 1), unless=tuple(replace(each, cites=()) for each in rule.rule.unless))
    return (
        body,
        {name: each.value for name, each in rule.parameters.items()},
        {name: each.rows for name, each in rule.tables.items()},
    )


def settled(rule: RuleInForce) -> RuleInForce:
    """One rule again where all its versions have become alike."""
    first = rule.versions[0].rule
    if first is None or not all(alike(first, each.rule) for each in rule.versions):
        return rule
    return replace(first, history=rule.history, scopes=rule.scopes, only_in=rule.only_in)


def with_version(rule: RuleInForce, at_work: AtWork, change: Change) -> tuple[Version, ...]:
    """The versions of a rule with what an authority wants that may not change it: its version, changed further if it
    has one.
    """
    who = at_work.layer.authority
    versions = rule.versions or (Version(holder(rule), rule),)
    held = next((each.rule for each in versions[1:] if each.held_by == who), versions[0].rule)
    wanted = Version(who, None if held is None else successively(held, [(at_work, change)]))
    return (versions[0], *(each for each in versions[1:] if each.held_by != who), wanted)


def changed_version(version: Version, at_work: AtWork, change: Change) -> Version:
    """A version after one more change."""
    after = None if version.rule is None else successively(version.rule, [(at_work, change)])
    return Version(version.held_by, after)


def holder(rule: RuleInForce) -> str:
    """Whose the rule is as it stands."""
    return rule.history[-1].authority if rule.history else rule.authority or "the rules below it"


def not_applied(rule: RuleInForce, change: Change, at_work: AtWork) -> History:
    """What an authority wanted that may not."""
    return replace(history(rule, change, at_work.layer, at_work.held), applied=False)
