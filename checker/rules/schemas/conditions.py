"""JSON Schema of operands and conditions, with or without the names of the fact catalog."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checker.rules import grammar
from checker.rules.schemas.words import (
    ANY_COMPARISON,
    ANY_CONDITION,
    ANY_OPERAND,
    EDITIONS,
    FLAG,
    ONLY_YES,
    PART_ADVICE,
    TEXT,
    Schema,
    a_list,
    a_map,
    an_object,
    name_of,
    never,
    ref,
    saying,
)


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
        "key-operand": {"if": {"type": "string"}, "then": TEXT, "else": {"if": FLAG, "else": ref(ANY_OPERAND)}},
    }


# --- conditions -----------------------------------------------------------------------------------------------------


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
    """A condition: one fact, or one of the words that take conditions; ``me`` is its own definition, ``folds`` that
    of folds.
    """
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
