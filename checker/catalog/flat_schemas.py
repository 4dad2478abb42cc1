"""Cerberus schemas for the flat pieces of a site file, made from the fact catalog.

Each schema maps a fact to its rules: ``coerce`` names the hook that converts the value, ``check_with`` the hooks that
look at what came out. The hooks are named by type of value; whoever validates brings them along.
"""

from __future__ import annotations

from checker.catalog.model import Catalog, Fact, ValueType

Rules = dict[str, object]
"""The rules of one field: ``coerce``, ``check_with`` and, where it is so, ``required``."""

FlatSchema = dict[str, Rules]
"""The fields of one flat piece."""


def cerberus_schemas(catalog: Catalog) -> dict[str, FlatSchema]:
    """For every type of subject the facts that a person may write, in catalog order."""
    return {subject: fact_schema(catalog, subject) for subject in sorted(catalog.subject_types)}


def fact_schema(catalog: Catalog, subject: str) -> FlatSchema:
    """The facts that a person may write for one type of subject; parts of facts stand in ``part_schema``."""
    return {
        fact.name: field_rules(fact)
        for fact in catalog.facts.values()
        if subject in fact.stated_for and "." not in fact.name
    }


def part_schema(catalog: Catalog, whole: Fact) -> FlatSchema:
    """The parts of a structured fact, under their names without that of the whole."""
    return {part: field_rules(catalog.facts[f"{whole.name}.{part}"]) for part in whole.parts}


def field_rules(fact: Fact) -> Rules:
    """How the value of one fact is converted and checked."""
    rules: Rules = {"coerce": _coerce_hook(fact), "check_with": _checks(fact)}
    if fact.exact:
        rules["required"] = True
    return rules


def _coerce_hook(fact: Fact) -> str:
    if fact.parts:
        return "structure"
    return "choices" if fact.several else fact.type.value


def _checks(fact: Fact) -> list[str]:
    checks = ["understood"]
    if fact.type.is_ordered or fact.parts:
        checks.append("bounds")
    if fact.type is ValueType.TAG:
        checks.append("existing_piece")
    if fact.type is ValueType.WAY:
        checks.append("existing_way")
    return checks
