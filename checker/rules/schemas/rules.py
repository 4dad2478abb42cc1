"""JSON Schema of rules and of what they cite."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from checker.catalog.model import Stage
from checker.rules import grammar
from checker.rules.model.force import Basis, Force, Harm
from checker.rules.schemas.words import (
    DATE,
    EDITION,
    EDITIONS,
    ID_ADVICE,
    NAME_ADVICE,
    PART_ADVICE,
    TEXT,
    TEXT_OR_NUMBER,
    Schema,
    a_list,
    a_map,
    an_object,
    name_of,
    never,
    ref,
    saying,
    words,
)


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


def label_of(conditions: str) -> Schema:
    """A sign that a rule wants: words to engrave, or the meaning of a longer sentence."""
    folds = conditions.replace("when.", "fold.", 1) if conditions.startswith("when.") else "fold"
    line = name_of(grammar.LINE_OF_A_SIGN, _LINE_ADVICE) | {"title": "line of a sign"}
    place: Schema = {
        "title": "link, or collection",
        "type": ["string", "object"],
        "if": {"type": "object"},
        "then": ref(folds),
    }
    colors = an_object("colors of a sign", {"ground": TEXT, "letters": TEXT, "in": EDITIONS}, ["ground", "letters"])
    properties: dict[str, Schema] = {
        "words": a_list("list of lines to engrave", line, most=grammar.MOST_LINES),
        "meaning": TEXT,
        "class_word": words(*grammar.CLASS_WORDS),
        "at": place,
        "when": ref(conditions),
        "part": name_of(grammar.PART, PART_ADVICE),
        "colors": colors,
        "letter_height": name_of(grammar.NAME, NAME_ADVICE),
        "in": EDITIONS,
    }
    only_one = "A sign has either words to engrave or a meaning."
    one: Schema = {
        "if": {"required": ["words"]},
        "then": {"title": "label", "properties": {"meaning": never(only_one)}},
        "else": saying({"required": ["meaning"]}, required=only_one),
    }
    return {**an_object("label", properties), **one}


_LINE_ADVICE = (
    "A line to engrave is a few words without a full stop; of a longer sentence write the meaning: no code is quoted."
)


def told_of(conditions: str) -> Schema:
    """Cures or cautions: one text or several, each alone or with the condition under which it is told."""
    parts = {"text": TEXT, "when": ref(conditions), "in": EDITIONS}
    at_times = an_object("text that is told at times", parts, ["text"])
    one: Schema = {
        "title": "text, or text with its condition",
        "type": ["string", "object"],
        "minLength": 1,
        "if": {"type": "object"},
        "then": at_times,
    }
    return {
        "title": "text or list of texts",
        "type": ["string", "array"],
        "minLength": 1,
        "if": {"type": "array"},
        "then": a_list("list of texts", one),
    }


def name_of_told(conditions: str) -> str:
    """The name of the definition of cures and cautions beside that of their conditions."""
    return conditions.replace("when.", "told.", 1) if conditions.startswith("when.") else "told"


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
        "label": a_list("list of signs", label_of(conditions)),
        "says_where": ref(name_of_told(conditions)),
        "remedy": ref(name_of_told(conditions)),
        "cautions": ref(name_of_told(conditions)),
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
        "harm": words(*(each.value for each in Harm)),
        "look": TEXT,
        "says": TEXT,
        "why": TEXT,
        "who_acts": words(*grammar.WHO_ACTS),
        "before": a_list("list of rules", TEXT),
        "companions": a_list("list of rules", TEXT),
        "sections": ref("sections"),
        "cites": ref("cites"),
        "checked": ref("checked"),
        "covers": a_list("list of texts", TEXT),
        "interim": a_map("interim amendment by edition", TEXT_OR_NUMBER),
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
