"""Which outcomes a rule can have, before anything is known of a site."""

from __future__ import annotations

from checker.rules.grammar import NOT_IN_FORCE
from checker.rules.model.conditions import Compare
from checker.rules.model.force import Force
from checker.rules.model.rule import Rule
from checker.rules.reading.names_read import NamesRead, names_read
from checker.rules.vocabulary import Around, FactFound, Vocabulary
from checker.rules.walk import requirements_of


def miss_of(rule: Rule) -> str:
    """What comes out where the rule is not met: force and basis bound it."""
    if rule.force is Force.INFORMATIONAL:
        return "note"
    if rule.force is Force.RECOMMENDED or not rule.basis.can_correct:
        return "recommendation"
    return "correction"


def outcomes_of(rule: Rule, vocabulary: Vocabulary) -> frozenset[str]:
    """Every outcome that a case of the rule can have."""
    found = {NOT_IN_FORCE}
    if rule.when is not None or rule.unless or _role_can_be_open(rule, vocabulary):
        found.add("not_applicable")
    if rule.look is not None:
        return frozenset({*found, "verify_in_field"})
    found |= {"met", miss_of(rule), "needs_information"}
    if rule.readings:
        found.add("ahj_to_decide")
    return frozenset(found)


def _role_can_be_open(rule: Rule, vocabulary: Vocabulary) -> bool:
    """Whether the rule is about a role, which a piece may turn out not to have."""
    catalog = vocabulary.catalog
    return rule.subject in catalog.roles or rule.subject in catalog.role_groups


def compulsory_outcomes(rule: Rule, vocabulary: Vocabulary) -> tuple[str, ...]:
    """The outcomes that the cases of a rule must show, as far as it can have them."""
    if rule.look is not None:
        wanted = ["verify_in_field"]
    else:
        wanted = ["met", miss_of(rule)]
        if rule.readings:
            wanted = ["met", "ahj_to_decide"]
    if rule.when is not None or rule.unless:
        wanted.append("not_applicable")
    if rule.look is None and can_be_open(rule, vocabulary):
        wanted.append("needs_information")
    return tuple(wanted if can_miss(rule) else [each for each in wanted if each != miss_of(rule)])


def can_miss(rule: Rule) -> bool:
    """A requirement that only asks whether something is known is never missed: it is met or waits."""
    conditions = [condition for requires in requirements_of(rule) for condition in requires.parts.values()]
    return not conditions or not all(
        isinstance(each, Compare) and all(test.relation == "known" for test in each.tests) for each in conditions
    )


def can_be_open(rule: Rule, vocabulary: Vocabulary) -> bool:
    """Whether the rule reads anything that may be unknown: a collection, or a fact that is not always exact."""
    return _any_open(names_read(rule), Around(vocabulary.types_of(rule.subject)), vocabulary)


def _any_open(names: NamesRead, around: Around, vocabulary: Vocabulary) -> bool:
    return bool(names.lists) or any(_is_open(name, around, vocabulary) for name in names.facts)


def _is_open(name: str, around: Around, vocabulary: Vocabulary) -> bool:
    found = vocabulary.fact(name, around)
    return isinstance(found, FactFound) and not found.fact.exact
