"""JSON Schema of parameters and tables."""

from __future__ import annotations

from checker.rules import grammar
from checker.rules.schemas.words import (
    PART_ADVICE,
    TEXT,
    Schema,
    a_list,
    a_map,
    an_object,
    never,
    ref,
    saying,
    words,
)


def parameter(types: Schema) -> Schema:
    """A parameter with a value for each edition, or one value."""
    value: Schema = {
        "title": "value",
        "type": ["string", "number", "array"],
        "minLength": 1,
        "if": {"type": "array"},
        "then": a_list("list of choices", {"title": "choice", "type": "string", "minLength": 1}),
    }
    properties = {
        "title": TEXT,
        "type": types,
        "stricter": words(*grammar.STRICTER),
        "value": value,
        "values": a_map("values by edition", value),
        "sections": ref("sections"),
        "cites": ref("cites"),
        "checked": ref("checked"),
    }
    both = "Write `values:` by edition, or in a pack without editions `value:`."
    one = {
        "if": {"required": ["values"]},
        "then": {"properties": {"value": never(both)}},
        "else": saying({"required": ["value"]}, required=both),
    }
    return {**an_object("parameter", properties, ["title", "type"]), **one}


def table(types: Schema) -> Schema:
    """A table with its keys and, for each edition or once, its rows."""
    key = {"match": words(*grammar.MATCHES), "type": types, "unit": TEXT}
    properties = {
        "title": TEXT,
        "keys": a_map("keys of the table", an_object("key", key, ["match", "type"]), grammar.PART, PART_ADVICE),
        "gives": types,
        "unit": TEXT,
        "beyond": TEXT,
        "rows": {
            "title": "rows, or rows by edition",
            "type": ["array", "object"],
            "if": {"type": "object"},
            "then": {
                "if": {"required": ["columns"]},
                "then": ref("columns"),
                "else": a_map("rows by edition", ref("rows-of-edition")),
            },
            "else": ref("rows"),
        },
        "sections": ref("sections"),
        "cites": ref("cites"),
        "checked": ref("checked"),
    }
    return an_object("table", properties, ["title", "gives", "beyond", "rows"])


def table_definitions() -> dict[str, Schema]:
    """Rows of tables."""
    cell: Schema = {"title": "cell", "type": ["string", "number", "boolean"], "minLength": 1}
    row: Schema = {
        "title": "row",
        "type": ["string", "number", "boolean", "array"],
        "minLength": 1,
        "if": {"type": "array"},
        "then": a_list("row", cell, 2),
    }
    return {
        "rows": a_list("list of rows", row),
        "columns": an_object(
            "rows in columns",
            {"columns": a_list("list of columns", cell), "rows": a_list("list of rows", a_list("row", cell))},
            ["columns", "rows"],
        ),
        "rows-of-edition": {
            "title": "rows",
            "type": ["array", "object", "string"],
            "if": {"type": "array"},
            "then": ref("rows"),
            "else": {
                "if": {"type": "object"},
                "then": ref("columns"),
                "else": {
                    "pattern": "^same as .+$",
                    "patternErrorMessage": "Write the rows, or `same as` and an edition.",
                },
            },
        },
    }
