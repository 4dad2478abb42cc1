"""JSON Schema of a layer."""

from __future__ import annotations

from checker.catalog.model import Stage
from checker.catalog.names import OWN_CHOICE
from checker.rules import grammar
from checker.rules.model.force import Basis
from checker.rules.schemas import rules as schema_rules
from checker.rules.schemas.files import ANY_PAPERS, Papers
from checker.rules.schemas.words import (
    DATE,
    EDITION,
    FLAG,
    ID_ADVICE,
    NAME_ADVICE,
    OWN_PAPER_ADVICE,
    PART_ADVICE,
    TEXT,
    TEXT_OR_NUMBER,
    Schema,
    a_list,
    a_map,
    an_object,
    name_of,
    ref,
    words,
)

OPERATIONS = (
    "add",
    "replace",
    "set",
    "add_exception",
    "end_exception",
    "add_way",
    "widen",
    "narrow",
    "delete",
    "limit",
    "renumber",
    "confirm",
    "redirect",
    "pre_empt",
    "ask_for",
)
"""The words of the changes that a layer can make."""


def layer_file(
    rule: Schema,
    parameters: Schema,
    tables: Schema,
    condition: str,
    papers: Papers = ANY_PAPERS,
    of_site: str | None = None,
) -> Schema:
    """A layer: its head and its changes. ``of_site`` is the definition of conditions of the site, where there is one
    of its own. Definitions are added by the caller.
    """
    amends = an_object("document that is amended", {"document": TEXT, "written_against": EDITION}, ["document"])
    properties: dict[str, Schema] = {
        "layer": name_of(grammar.NAME, NAME_ADVICE),
        "title": TEXT,
        "document": TEXT,
        "authority": TEXT,
        "basis": words(*(each.value for each in Basis)),
        "amends": amends,
        "checked": ref("one-check"),
        "parameters": a_map("parameters", parameters, grammar.NAME, NAME_ADVICE),
        "tables": a_map("tables", tables, grammar.NAME, NAME_ADVICE),
        "papers": a_map("papers of its own", _own_paper(), OWN_CHOICE, OWN_PAPER_ADVICE),
        "changes": a_list("list of changes", ref("change")),
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **an_object("layer", properties, ["layer", "title", "authority", "basis", "changes"]),
        "$defs": {
            "change": _change(rule, condition, papers.asked(of_site or condition)),
            "target": _target(),
            "cites": _local_cites(),
        },
    }


def _own_paper() -> Schema:
    """A paper as the layer declares it."""
    stages = words(*(each.value for each in Stage))
    own = {"title": TEXT, "means": TEXT, "due": stages, "cites": ref("cites")}
    return an_object("paper of its own", own, ["title", "cites"])


def _change(rule: Schema, condition: str, asked: dict[str, Schema]) -> Schema:
    """One change: exactly one operation, its own words, and those that every change can have."""
    body = {**rule, "properties": {"id": name_of(grammar.ID, ID_ADVICE), **rule["properties"]}}
    own: dict[str, Schema] = {
        "add": {**body, "required": ["id", *rule["required"]]},
        "replace": ref("target"),
        "with": rule,
        "set": ref("target"),
        "to": {"title": "value or place", "type": ["string", "number", "array", "object"]},
        "exceptions": words("apply", "do_not_apply"),
        "add_exception": an_object(
            "exception",
            {"to": ref("target"), "id": name_of(grammar.ID, ID_ADVICE), "if": ref(condition), "because": TEXT},
            ["to", "id", "if", "because"],
        ),
        "end_exception": an_object("exception", {"of": ref("target"), "id": TEXT}, ["of", "id"]),
        "add_way": an_object(
            "way",
            {"to": ref("target"), "name": name_of(grammar.PART, PART_ADVICE), "if": ref(condition)},
            ["to", "name", "if"],
        ),
        "widen": ref("target"),
        "narrow": ref("target"),
        "when": ref(condition),
        "delete": ref("target"),
        "limit": ref("target"),
        "renumber": ref("target"),
        "confirm": ref("target"),
        "checked": ref("one-check"),
        "redirect": an_object("place", {"document": TEXT, "section": TEXT_OR_NUMBER}, ["document"]),
        "pre_empt": ref("target"),
        "layers": a_list("list of layers", TEXT),
        "ask_for": an_object("paper", asked, ["paper"]),
    }
    common: dict[str, Schema] = {
        "from": DATE,
        "until": DATE,
        "cites": ref("cites"),
        "reason": TEXT,
        "over": a_list("list of layers", TEXT),
    }
    return an_object("change", {**own, **common}, minProperties=1)


def _target() -> Schema:
    """A rule or a parameter: by its id, or by document, edition and section."""
    place = an_object(
        "place", {"document": TEXT, "edition": EDITION, "section": TEXT_OR_NUMBER, "every": FLAG}, ["section"]
    )
    return {"title": "target", "type": ["string", "object"], "if": {"type": "object"}, "then": place}


def _local_cites() -> Schema:
    """Citations, in which the layer's own document need not be named."""
    citation = an_object("citation", {"document": TEXT, "section": TEXT_OR_NUMBER, "edition": EDITION}, ["section"])
    return {
        "title": "list of citations, or none",
        "type": ["string", "array"],
        "if": {"type": "string"},
        "then": words(grammar.NONE),
        "else": a_list("list of citations", citation),
    }


def definitions() -> dict[str, Schema]:
    """The definitions that layers share with packs."""
    return schema_rules.common_definitions()
