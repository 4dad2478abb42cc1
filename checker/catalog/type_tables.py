"""The fact catalog as one JSON document: for the schema of rule packs and for other programs."""

from __future__ import annotations

from typing import Any

from checker.catalog.model import Catalog, Fact


def type_tables(catalog: Catalog) -> dict[str, Any]:
    """Facts by name with their types, and for each type of subject its facts and who gives them."""
    return {
        "subjects": {subject: _subject(catalog, subject) for subject in sorted(catalog.subject_types)},
        "facts": {fact.name: _fact(fact) for fact in catalog.facts.values()},
        "kinds": {kind.name: {"title": kind.title, "fed": kind.feeding.value} for kind in catalog.kinds.values()},
        "groups": {name: list(members) for name, members in catalog.groups.items()},
        "roles": dict(catalog.roles),
        "role_groups": {name: list(members) for name, members in catalog.role_groups.items()},
        "pairs": {pair.name: {"title": pair.title, "a": pair.a, "b": pair.b} for pair in catalog.pairs.values()},
        "lists": {each.name: {"member": each.member, "on": each.on} for each in catalog.lists.values()},
        "links": {link.name: {"of": sorted(link.of), "to": list(link.to)} for link in catalog.links.values()},
        "collections": {
            each.name: {"of": sorted(each.of), "members": list(each.members)} for each in catalog.collections.values()
        },
    }


def _subject(catalog: Catalog, subject: str) -> dict[str, Any]:
    facts = {fact.name: fact.origin(subject).value for fact in catalog.facts_of(subject)}
    return {"title": catalog.titles[subject], "facts": facts}


def _fact(fact: Fact) -> dict[str, Any]:
    described: dict[str, Any] = {"title": fact.title, "type": fact.type.value}
    optional: dict[str, Any] = {
        "quantity": fact.quantity,
        "unit": fact.unit,
        "choices": list(fact.choices),
        "several": fact.several,
        "none": fact.may_be_none,
        "exact": fact.exact,
        "parts": list(fact.parts),
        "known_at": fact.known_at.value,
    }
    return described | {key: value for key, value in optional.items() if value}
