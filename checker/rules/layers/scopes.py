"""Where a document or a layer holds: a condition on the site, asked of every rule under it."""

from __future__ import annotations

from dataclasses import replace

from checker.rules.layers.changing import both
from checker.rules.model.conditions import Compare, Condition, FactOperand, FactPath, Group, Not, Operand, Test
from checker.rules.model.in_force import RuleInForce

SITE = "site"


def only_where(rule: RuleInForce, where: Condition | None) -> RuleInForce:
    """The rule, to be applied only where the condition on the site holds. The scope stands beside the rule until all
    layers are applied: what they change of the rule does not reach beyond it.
    """
    return rule if where is None else replace(rule, scopes=(*rule.scopes, where))


def scoped(rule: RuleInForce) -> RuleInForce:
    """The rule as it is asked of a site: its scopes among the conditions under which it applies."""
    body = rule.rule
    versions = tuple(
        each if each.rule is None else replace(each, rule=scoped(replace(each.rule, scopes=rule.scopes)))
        for each in rule.versions
    )
    when = body.when
    for where in rule.scopes:
        when = both(when, from_subject(where, body.subject))
    return replace(rule, rule=replace(body, when=when), versions=versions)


def restricted(where: Condition | None, other: Condition) -> Condition:
    """Two scopes that must hold together; the first may be everywhere."""
    return both(where, other)


def is_plain(where: Condition) -> bool:
    """Whether a condition is made of comparisons alone, so that it can be asked from any subject."""
    if isinstance(where, Group):
        return all(map(is_plain, where.conditions))
    return is_plain(where.condition) if isinstance(where, Not) else isinstance(where, Compare)


def from_subject(where: Condition, subject: str) -> Condition:
    """A condition on the site as a rule with this subject asks it."""
    return where if subject == SITE else _from_subject(where)


def _from_subject(where: Condition) -> Condition:
    if isinstance(where, Compare):
        tests = tuple(Test(each.relation, tuple(map(_operand, each.operands))) for each in where.tests)
        return replace(where, path=_through_site(where.path), tests=tests)
    if isinstance(where, Group):
        return replace(where, conditions=tuple(map(_from_subject, where.conditions)))
    if isinstance(where, Not):
        return replace(where, condition=_from_subject(where.condition))
    raise TypeError("a scope holds comparisons alone")


def _operand(operand: Operand) -> Operand:
    return FactOperand(_through_site(operand.path)) if isinstance(operand, FactOperand) else operand


def _through_site(path: FactPath) -> FactPath:
    return replace(path, links=(SITE, *path.links))
