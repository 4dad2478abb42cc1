"""The sentences, cures and cautions of a rule: each a text, or a text with the condition under which it is told."""

from __future__ import annotations

from checker.files.yaml.tree import Mapping as MappingNode
from checker.files.yaml.tree import Node
from checker.rules.model.rule import Rule, Told
from checker.rules.reading import nodes
from checker.rules.reading.conditions import read_condition, read_editions
from checker.rules.reading.scope import Scope
from checker.rules.vocabulary import Around

TEXT = "text"


def read_told(node: Node | None, around: Around, scope: Scope) -> tuple[Told, ...]:
    """The texts of ``says_where:``, ``remedy:`` or ``cautions:``; what is wrong in their conditions is told."""
    return tuple(_told(item, around, scope) for item in nodes.items(node))


def _told(item: Node, around: Around, scope: Scope) -> Told:
    if not isinstance(item, MappingNode):
        return Told(nodes.text(item))
    when = item.get("when")
    return Told(
        nodes.text(item.get(TEXT)),
        None if when is None else read_condition(when, around, scope),
        read_editions(item.get("in"), scope),
    )


def text_of_told(item: Node) -> Node:
    """The text itself, with or without a condition beside it."""
    return nodes.scalar(item.get(TEXT)) if isinstance(item, MappingNode) else item


def check_told(rule: Rule, scope: Scope) -> None:
    """Tell a rule that could leave somebody without any cure."""
    if rule.remedy and not _has_one_at_all_times(rule):
        scope.problems.add(
            f"Every cure of `{rule.id}` is told only at times, so a finding could stand there without one.",
            rule.at,
            "Write one without `when` and `in`, or one without `when` for each edition.",
        )


def _has_one_at_all_times(rule: Rule) -> bool:
    """Whether one has no condition, in each edition in which the rule is."""
    always = [each for each in rule.remedy if each.when is None]
    if any(not each.editions for each in always):
        return True
    told = frozenset(edition for each in always for edition in each.editions)
    return bool(rule.sections) and told >= frozenset(rule.sections)
