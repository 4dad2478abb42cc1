"""JSON Schema of rules: the shapes, with or without the names of the fact catalog.

Only words that mean the same in draft-07 and 2020-12 are used. ``title`` says what an object is; ``x-say`` holds, by keyword,
the sentence that a person is told where the keyword fails.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from checker.catalog.model import Stage
from checker.rules import grammar
from checker.rules.model import Basis, Force

Schema = dict[str, Any]

ANY_CONDITION = "condition"
ANY_COMPARISON = "comparison"
ANY_OPERAND = "operand"


def ref(name: str) -> Schema:
    """A reference to a definition."""
    return {"$ref": f"#/$defs/{name}"}


def an_object(title: str, properties: Mapping[str, Schema], required: Iterable[str] = (), **more: Any) -> Schema:
    """An object with these properties and no others."""
    needed = list(required)
    return {
        "title": title,
        "type": "object",
        **({"required": needed} if needed else {}),
        "properties": dict(properties),
        "additionalProperties": False,
        **more,
    }


def a_map(title: str, values: Schema, names: str = "", say: str = "") -> Schema:
    """An object whose keys are names, of a pattern if one is given, and whose values are all of one shape."""
    schema: Schema = {"title": title, "type": "object", "minProperties": 1, "additionalProperties": values}
    if names:
        schema["propertyNames"] = {"pattern": f"^(?:{names})$", "patternErrorMessage": say}
    return schema


def a_list(title: str, items: Schema, least: int = 1, most: int | None = None) -> Schema:
    """A list of things of one shape."""
    return {
        "title": title,
        "type": "array",
        "minItems": least,
        **({} if most is None else {"maxItems": most}),
        "items": items,
    }


def saying(schema: Schema, **sentences: str) -> Schema:
    """The schema with what to tell where a keyword fails (``not_`` for the keyword ``not``)."""
    return {**schema, "x-say": {keyword.rstrip("_"): sentence for keyword, sentence in sentences.items()}}


def words(*allowed: str) -> Schema:
    """One of these words."""
    return {"enum": list(allowed)}


def never(sentence: str) -> Schema:
    """What must not stand here, and why."""
    return saying({"not": {}}, not_=sentence)


TEXT: Schema = {"title": "text", "type": "string", "minLength": 1}
TEXT_OR_NUMBER: Schema = {"title": "text", "type": ["string", "number"], "minLength": 1}
FLAG: Schema = {"title": "yes or no", "type": "boolean"}
DATE: Schema = {
    "title": "date",
    "type": "string",
    "pattern": r"^\d{4}-\d{2}-\d{2}$",
    "patternErrorMessage": "A date is written as year, month and day: 2026-03-14.",
}
ONLY_YES = saying({"enum": [True]}, enum="`known: no` does not exist: what is not known can ask, but not correct.")
EDITION = saying({"title": "edition", "type": "string"}, type='An edition is a name and stands in quotes: "2020".')
EDITIONS: Schema = {**a_list("list of editions", EDITION), "uniqueItems": True}
ID_ADVICE = "An id is a claim in two or more words with hyphens, in small letters: first-switch-marked-for-service."
NAME_ADVICE = "A name is written in small letters, words joined by hyphens: opening-distance."
PART_ADVICE = "The name of a part is written in small letters, words joined by _ or -: opens_neutral."


def name_of(pattern: str, advice: str) -> Schema:
    """A text that is a name."""
    return {"title": "name", "type": "string", "pattern": f"^(?:{pattern})$", "patternErrorMessage": advice}


# --- operands -----------------------------------------------------------------------------------------------------------


def operand(facts: Schema) -> Schema:
    """What stands on the other side of a comparison, where it is more than a word; ``facts`` is the shape of a name."""
    operands = a_list("list of operands", ref(ANY_OPERAND))
    lone = {"required": ["table"]}, {"title": "operand", "required": ["table", "keys"], "maxProperties": 2}
    combined = {"anyOf": [{"required": [word]} for word in grammar.COMBINATIONS]}
    skipping = {"if": {"required": ["skip_absent"]}, "then": {"maxProperties": 2}, "else": {"maxProperties": 1}}
    alone = {
        "maxProperties": 1,
        "properties": {
            "keys": never("`keys` belongs to a table."),
            "skip_absent": never("`skip_absent` belongs beside largest_of, smallest_of or sum_of."),
        },
    }
    properties = {
        "fact": facts,
        "parameter": TEXT,
        **dict.fromkeys(grammar.COMBINATIONS, operands),
        "skip_absent": saying({"enum": [True]}, enum="Write `skip_absent: yes`, or leave it out."),
        "scaled": a_list("list of an operand and a ratio", ref(ANY_OPERAND), 2, 2),
        "next_size": a_list("list of an operand and a table of sizes", ref("operand-or-sizes"), 2, 2),
        "table": TEXT,
        "keys": a_map("keys of the table", ref("key-operand")),
    }
    one = "An operand is one thing: fact, parameter, largest_of, smallest_of, sum_of, scaled, next_size or table."
    rest = {"if": combined, "then": saying(skipping, maxProperties=one), "else": saying(alone, maxProperties=one)}
    return an_object(
        "operand",
        properties,
        minProperties=1,
        **{"if": lone[0], "then": saying(lone[1], maxProperties=one), "else": rest},
    )


def operand_definitions(facts: Schema) -> dict[str, Schema]:
    """The definitions that operands need."""
    sizes = an_object("table of sizes", {"table": TEXT}, ["table"])
    lone_table = {"required": ["table"], "maxProperties": 1}
    literal = "Numbers live in parameters and tables: write {parameter: NAME}."
    return {
        ANY_OPERAND: saying(operand(facts), type=literal),
        "operand-or-sizes": {"if": lone_table, "then": sizes, "else": ref(ANY_OPERAND)},
        "key-operand": {"if": {"type": "string"}, "then": TEXT, "else": ref(ANY_OPERAND)},
    }


# --- conditions ---------------------------------------------------------------------------------------------------------


def any_comparison() -> Schema:
    """A comparison of a fact of which nothing is known here."""
    word_or_operand: Schema = {
        "title": "operand",
        "type": ["string", "boolean", "number", "object"],
        "if": {"type": "object"},
        "then": ref(ANY_OPERAND),
    }
    listed: Schema = {
        "title": "list of choices",
        "type": ["array", "object"],
        "if": {"type": "object"},
        "then": ref(ANY_OPERAND),
        "else": a_list("list of choices", {"title": "choice", "type": ["string", "boolean", "number"]}),
    }
    both: Schema = a_list("list of the lowest and the highest value", word_or_operand, 2, 2)
    relations = {
        relation: listed if relation in grammar.LIST_RELATIONS else word_or_operand for relation in grammar.RELATIONS
    }
    return comparison({**relations, grammar.BETWEEN: both})


def comparison(relations: Mapping[str, Schema], **more: Any) -> Schema:
    """One or more relations of one fact."""
    properties = {**relations, "known": ONLY_YES, "present": FLAG, "if_absent": FLAG}
    return an_object("comparison", properties, minProperties=1, **more)


def condition(facts: Mapping[str, Schema], others: Schema | bool, me: str, folds: str) -> Schema:
    """A condition: one fact, or one of the words that take conditions; ``me`` is its own definition, ``folds`` that of folds."""
    listed = saying(a_list("list of conditions", ref(me)), minItems="There is no condition in this list.")
    joined = (
        "A condition is one thing: one fact, or one of all, any, not, some, every, none, count; join several with all."
    )
    properties: dict[str, Schema] = {
        "all": listed,
        "any": listed,
        "not": ref(me),
        "some": ref(folds),
        "every": ref(f"{folds}-every"),
        "none": ref(folds),
        "count": ref(f"{folds}-count"),
        "part": name_of(grammar.PART, PART_ADVICE),
        "in": EDITIONS,
        **facts,
    }
    counted = {
        "if": {"required": ["part", "in"]},
        "then": saying({"minProperties": 3, "maxProperties": 3}, minProperties=joined, maxProperties=joined),
        "else": {
            "if": {"anyOf": [{"required": ["part"]}, {"required": ["in"]}]},
            "then": saying({"minProperties": 2, "maxProperties": 2}, minProperties=joined, maxProperties=joined),
            "else": saying({"minProperties": 1, "maxProperties": 1}, minProperties=joined, maxProperties=joined),
        },
    }
    return {**an_object("condition", properties), "additionalProperties": others, **counted}


def fold_definitions(name: str, of: Schema, inner: Schema, **more: Any) -> dict[str, Schema]:
    """Folds and counts over collections; ``of`` is the shape of their name, ``inner`` that of where and that."""
    asked = {"of": of, "where": inner, "that": inner, "if_empty": FLAG}
    needed = "of", "that", "if_empty"
    counted = {"of": of, "where": inner, **_count_relations()}
    return {
        name: an_object("question about several things", asked, ["of"], **more),
        f"{name}-every": an_object("question about several things", asked, needed, **more),
        f"{name}-count": an_object("count", counted, ["of"], minProperties=2, **more),
    }


def _count_relations() -> dict[str, Schema]:
    number: Schema = {
        "title": "operand",
        "type": ["string", "boolean", "number", "object"],
        "if": {"type": "object"},
        "then": ref(ANY_OPERAND),
    }
    pair = a_list("list of the lowest and the highest value", number, 2, 2)
    return {relation: pair if relation == grammar.BETWEEN else number for relation in grammar.COUNT_RELATIONS}


def any_condition_definitions() -> dict[str, Schema]:
    """Conditions of which no names are known."""
    return {
        ANY_COMPARISON: any_comparison(),
        ANY_CONDITION: condition({}, ref(ANY_COMPARISON), ANY_CONDITION, "fold"),
        **fold_definitions("fold", TEXT, ref(ANY_CONDITION)),
    }


# --- rules --------------------------------------------------------------------------------------------------------------


def requires_of(conditions: str) -> Schema:
    """Named parts, or ``any_way`` with named ways."""
    named = "named conditions"
    ways = an_object("requirement", {grammar.ANY_WAY: a_map(named, ref(conditions), grammar.PART, PART_ADVICE)})
    parts = a_map(named, ref(conditions), grammar.PART, PART_ADVICE)
    alone = "`any_way` stands alone: give each way as a named condition in it."
    return {
        "title": "requirement",
        "type": "object",
        "if": {"type": "object", "required": [grammar.ANY_WAY]},
        "then": saying(ways, additionalProperties=alone),
        "else": parts,
    }


def conditional_words(conditions: str) -> dict[str, Schema]:
    """The words of a rule that hold conditions."""
    requires = requires_of(conditions)
    exception = {
        "id": name_of(grammar.ID, ID_ADVICE),
        "if": ref(conditions),
        "because": TEXT,
        "in": EDITIONS,
        "sections": ref("sections"),
        "cites": ref("cites"),
    }
    instead = {"id": name_of(grammar.ID, ID_ADVICE), "if": ref(conditions), "requires": requires, "in": EDITIONS}
    reading = an_object("reading", {"held_by": TEXT, "requires": requires, "in": EDITIONS}, ["held_by", "requires"])
    return {
        "when": ref(conditions),
        "unless": a_list("list of exceptions", an_object("exception", exception, ["id", "if", "because"])),
        "instead": a_list("list of replacements", an_object("replacement", instead, ["id", "if", "requires"])),
        "requires": requires,
        "readings": {**a_map("readings", reading, grammar.PART, PART_ADVICE), "minProperties": 2},
    }


def rule(subjects: Schema, conditional: Mapping[str, Schema], **more: Any) -> Schema:
    """A rule; exactly one of requires, readings and look."""
    only_one = never("A rule has exactly one of requires, readings and look.")
    plain: dict[str, Schema] = {
        "title": TEXT,
        "subject": subjects,
        "basis": words(*(each.value for each in Basis)),
        "force": words(*(each.value for each in Force)),
        "due": words(*(each.value for each in Stage)),
        "look": TEXT,
        "says": TEXT,
        "why": TEXT,
        "remedy": ref("texts"),
        "who_acts": words(*grammar.WHO_ACTS),
        "before": a_list("list of rules", TEXT),
        "companions": a_list("list of rules", TEXT),
        "cautions": a_list("list of texts", TEXT),
        "sections": ref("sections"),
        "cites": ref("cites"),
        "checked": ref("checked"),
        "covers": a_list("list of texts", TEXT),
    }
    needs_one = saying({"required": ["look"]}, required="A rule has exactly one of requires, readings and look.")
    one = {
        "if": {"required": ["requires"]},
        "then": {"title": "rule", "required": ["says"], "properties": {"readings": only_one, "look": only_one}},
        "else": {
            "if": {"required": ["readings"]},
            "then": {"title": "rule", "required": ["says"], "properties": {"look": only_one}},
            "else": needs_one,
        },
    }
    return {**an_object("rule", {**plain, **conditional}, ["title", "subject"]), **one, **more}


def common_definitions() -> dict[str, Schema]:
    """Citations, who checked, and texts."""
    section: Schema = {
        "title": "section",
        "type": ["string", "number", "array"],
        "if": {"type": "array"},
        "then": a_list("list of sections", TEXT_OR_NUMBER),
    }
    citation = an_object(
        "citation", {"document": TEXT, "section": TEXT_OR_NUMBER, "edition": EDITION}, ["document", "section"]
    )
    one_check = an_object(
        "note of who checked",
        {"sure": words(*grammar.SURE), "against": TEXT, "on": DATE, "by": TEXT},
        ["sure", "against"],
    )
    return {
        "texts": {
            "title": "text or list of texts",
            "type": ["string", "array"],
            "minLength": 1,
            "if": {"type": "array"},
            "then": a_list("list of texts", TEXT),
        },
        "sections": a_map("sections by edition", section),
        "cites": {
            "title": "list of citations, or none",
            "type": ["string", "array"],
            "if": {"type": "string"},
            "then": words(grammar.NONE),
            "else": a_list("list of citations", citation),
        },
        "one-check": one_check,
        "checked": {
            "title": "note of who checked",
            "type": "object",
            "if": {"type": "object", "anyOf": [{"required": [word]} for word in ("sure", "against", "on", "by")]},
            "then": ref("one-check"),
            "else": a_map("notes of who checked, by edition", ref("one-check")),
        },
    }


# --- parameters and tables ----------------------------------------------------------------------------------------------


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


# --- files --------------------------------------------------------------------------------------------------------------


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
