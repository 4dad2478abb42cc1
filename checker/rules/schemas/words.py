"""The words in which our JSON Schemas are built.

Only words that mean the same in draft-07 and 2020-12 are used. ``title`` says what an object is; ``x-say`` holds, by
keyword, the sentence that a person is told where the keyword fails.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

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
OWN_PAPER_ADVICE = (
    "A paper of a town's own has a name of two or more words with hyphens, in small letters: notice-to-abutters."
)
NAME_ADVICE = "A name is written in small letters, words joined by hyphens: opening-distance."
PART_ADVICE = "The name of a part is written in small letters, words joined by _ or -: opens_neutral."


def name_of(pattern: str, advice: str) -> Schema:
    """A text that is a name."""
    return {"title": "name", "type": "string", "pattern": f"^(?:{pattern})$", "patternErrorMessage": advice}
