"""JSON Schema of whole files: packs, cases, profiles."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from checker.rules import grammar
from checker.rules.model.force import Basis
from checker.rules.model.profile import May
from checker.rules.schemas.words import (
    DATE,
    EDITION,
    EDITIONS,
    FLAG,
    ID_ADVICE,
    NAME_ADVICE,
    TEXT,
    Schema,
    a_list,
    a_map,
    an_object,
    name_of,
    never,
    ref,
    words,
)


@dataclass(frozen=True, slots=True)
class Papers:
    """How a paper is named, and what it can show."""

    paper: Schema
    shown: Schema

    def asked(self, condition: str) -> dict[str, Schema]:
        """The words by which a paper is asked for."""
        return {
            "paper": self.paper,
            "must_show": a_list("list of what it shows", self.shown),
            "when": ref(condition),
            "says": TEXT,
            "id": name_of(grammar.ID, ID_ADVICE),
            "covers": a_list("list of texts", TEXT),
        }


ANY_PAPERS = Papers(TEXT, TEXT)
"""Without the names of the catalog."""


def pack_file(
    rules: Schema, parameters: Schema, tables: Schema, only: Schema, definitions: Mapping[str, Schema]
) -> Schema:
    """A file of a pack: its head, rules, parameters, tables. ``only`` holds conditions by subject."""
    reference = an_object(
        "standard sent to",
        {
            "document": TEXT,
            "editions": a_map("edition of the standard by edition of the code", EDITION),
            "sections": ref("sections"),
            "cites": ref("cites"),
            "checked": ref("checked"),
            "only": only,
        },
        ["document", "editions", "checked"],
    )
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
        "interim": a_map("interim amendments by edition", a_map("interim amendments by number", DATE)),
        "sends_to": a_list("list of standards", reference),
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


def profile_file(condition: str, papers: Papers = ANY_PAPERS) -> Schema:
    """A jurisdiction profile. The definitions of conditions and citations are added by the caller."""
    where = {"where": ref(condition), "where_words": TEXT}
    dates = {"from": DATE, "until": DATE, "event": words(*grammar.EVENTS)}
    with_words = {
        "if": {"required": ["where"]},
        "then": {"title": "entry with where", "required": ["where_words"]},
        "else": {"properties": {"where_words": never("`where_words` stands beside `where`: write both, or neither.")}},
    }
    interim: Schema = {
        "title": "interim amendments: all, or a list of numbers",
        "type": ["string", "array"],
        "if": {"type": "array"},
        "then": a_list("list of interim amendments", TEXT),
        "else": words("all"),
    }
    adoption = an_object(
        "adoption",
        {"document": TEXT, "edition": EDITION, **dates, "adopted_by": TEXT, "interim": interim, **where},
        ["document", "from", "adopted_by"],
        **with_words,
    )
    layer = an_object(
        "layer of a profile",
        {"layer": TEXT, "may": words(*(each.value for each in May)), "same_rank": FLAG, **dates, **where},
        ["layer", "may"],
        **with_words,
    )
    grace = an_object(
        "time of grace",
        {"for": TEXT, "until": DATE, "elect": words("rules_before"), "if": TEXT},
        ["for", "until", "elect"],
    )
    paper = an_object(
        "paper",
        {**papers.asked(condition), "cites": ref("cites"), "checked": ref("one-check")},
        ["paper", "cites", "checked"],
    )
    interpretation = an_object(
        "interpretation",
        {
            "rule": TEXT,
            "status": words(*grammar.INTERPRETATION_STATUS),
            "says": TEXT,
            "by": TEXT,
            "on": DATE,
            "reading": TEXT,
        },
        ["rule", "status", "says", "by", "on"],
    )
    permission = an_object(
        "special permission",
        {
            "rule": TEXT,
            "site": TEXT,
            "subject": TEXT,
            "by": TEXT,
            "on": DATE,
            "until": DATE,
            "conditions": a_list("list of conditions", TEXT),
            "says": TEXT,
        },
        ["rule", "site", "by", "on", "says"],
    )
    properties = {
        "profile": name_of(grammar.NAME, NAME_ADVICE),
        "title": TEXT,
        "event": words(*grammar.EVENTS),
        "documents": a_list("list of adopted documents", adoption),
        "layers": a_list("list of layers, the lowest first", layer),
        "grace": a_list("list of times of grace", grace),
        "papers": a_list("list of papers", paper),
        "interpretations": a_list("list of interpretations", interpretation, 0),
        "special_permissions": a_list("list of special permissions", permission, 0),
        "symbols": words(*grammar.SYMBOLS),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **an_object("profile", properties, ["profile", "title", "event", "documents"]),
    }
