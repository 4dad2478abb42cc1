"""JSON Schema of whole files: packs, cases, profiles."""

from __future__ import annotations

from collections.abc import Mapping

from checker.rules import grammar
from checker.rules.model import Basis
from checker.rules.schema_words import (
    DATE,
    EDITION,
    EDITIONS,
    ID_ADVICE,
    NAME_ADVICE,
    TEXT,
    Schema,
    a_list,
    a_map,
    an_object,
    name_of,
    never,
    words,
)


def pack_file(rules: Schema, parameters: Schema, tables: Schema, definitions: Mapping[str, Schema]) -> Schema:
    """A file of a pack: its head, rules, parameters, tables."""
    shared_file: Schema = {
        "title": "path of a file in shared/",
        "type": "string",
        "pattern": r"^shared/[A-Za-z0-9_-]+\.yaml$",
        "patternErrorMessage": "Shared tables are named as shared/NAME.yaml.",
    }
    use: Schema = {
        "title": "path, or list of paths",
        "type": ["string", "array"],
        "if": {"type": "array"},
        "then": a_list("list of paths", shared_file),
        "else": shared_file,
    }
    properties: dict[str, Schema] = {
        "pack": name_of(grammar.NAME, NAME_ADVICE),
        "title": TEXT,
        "document": TEXT,
        "editions": EDITIONS,
        "basis": words(*(each.value for each in Basis)),
        "retired": a_map("retired rules", TEXT, grammar.ID, ID_ADVICE),
        "rules": a_map("rules", rules, grammar.ID, ID_ADVICE),
        "parameters": a_map("parameters", parameters, grammar.NAME, NAME_ADVICE),
        "tables": {**a_map("tables", tables, grammar.NAME, NAME_ADVICE), "properties": {"use": use}},
    }
    head = {"if": {"required": ["pack"]}, "then": {"title": "file of a pack", "required": ["title", "document"]}}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **an_object("file of a pack", properties, minProperties=1),
        **head,
        "$defs": dict(definitions),
    }


def case_file() -> Schema:
    """The cases of the rules of one file."""
    value: Schema = {"title": "value", "type": ["string", "number", "boolean", "array", "object"]}
    facts: Schema = {"title": "facts", "type": "object", "additionalProperties": value}
    outcome = words(*grammar.CASE_OUTCOMES)
    could_be = words(*(each for each in grammar.CASE_OUTCOMES if each != grammar.NOT_IN_FORCE))
    properties = {
        "shows": TEXT,
        "but": facts,
        "site": TEXT,
        "subject": TEXT,
        "outcome": outcome,
        "needs": a_list("list of facts", TEXT),
        "could_be": a_list("list of outcomes", could_be),
        "says": TEXT,
        "in": EDITIONS,
        "date": DATE,
    }
    with_site = {
        "if": {"required": ["site"]},
        "then": {
            "title": "case",
            "required": ["subject"],
            "properties": {"but": never("A case with `site:` takes every fact from the site file.")},
        },
        "else": {"properties": {"subject": never("`subject:` belongs to a case with `site:`.")}},
    }
    case = {**an_object("case", properties, ["shows", "outcome"]), **with_site}
    of_rule = an_object("cases of a rule", {"base": facts, "cases": a_list("list of cases", case)}, ["cases"])
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **a_map("cases by rule", of_rule, grammar.ID, ID_ADVICE),
    }


def profile_file() -> Schema:
    """A jurisdiction profile."""
    adoption = an_object(
        "adoption",
        {"document": TEXT, "edition": EDITION, "from": DATE, "adopted_by": TEXT},
        ["document", "from", "adopted_by"],
    )
    properties = {
        "profile": name_of(grammar.NAME, NAME_ADVICE),
        "title": TEXT,
        "event": words(*grammar.EVENTS),
        "documents": a_list("list of adopted documents", adoption),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **an_object("profile", properties, ["profile", "title", "event", "documents"]),
    }
