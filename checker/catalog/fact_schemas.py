"""JSON Schema definitions of single facts: every way in which a value can be written."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from checker.catalog import notation_patterns as patterns
from checker.catalog.model import Catalog, Fact, ValueType
from checker.catalog.names import OWN_CHOICE
from checker.values.kinds import kind as quantity_kind
from checker.values.quantities import show

Schema = dict[str, Any]

_FLAGS: list[object] = [True, False, "yes", "no"]
_FLAG_WORDS = ("yes", "no", "true", "false")
_PAPER: Schema = {
    "title": "paper",
    "description": "The paper on which the value stands, or `assumed`.",
    "type": ["string", "number", "boolean"],
    "pattern": r"\S",
    "examples": ["nameplate", "utility letter", "assumed"],
}
_EXAMPLES = {
    "conductor": "3 AWG copper THWN-2",
    "voltage_system": "120/240 V 1-phase 3-wire",
    "date": "2024-03-11",
    "wire_size": "3 AWG",
    "tag": "P1",
    "way": "P1/7",
    "count": "2",
}


def definitions(catalog: Catalog) -> dict[str, Schema]:
    """Every definition that the facts need, by its name under ``$defs``."""
    shared: dict[str, Schema] = {"paper": _PAPER}
    written = [fact for fact in catalog.facts.values() if fact.stated_for]
    facts = {f"fact-{fact.name}": _definition(fact, catalog) for fact in written}
    for fact in written:
        shared.update(_shared(fact, catalog))
    return shared | facts


def reference(name: str) -> Schema:
    """A reference to a definition."""
    return {"$ref": f"#/$defs/{name}"}


def fact_reference(name: str) -> Schema:
    """A reference to the definition of a fact."""
    return reference(f"fact-{name}")


def _definition(fact: Fact, catalog: Catalog) -> Schema:
    return {
        "title": fact.title,
        "description": _description(fact),
        **({"examples": [example]} if (example := _example(fact)) else {}),
        "anyOf": [reference(_value_name(fact, catalog)), _with_paper(fact, catalog)],
    }


def _description(fact: Fact) -> str:
    parts = [fact.means or f"{fact.title[:1].upper()}{fact.title[1:]}."]
    if fact.choices:
        parts.append(f"One of: {'; '.join(f'{name} ({title})' for name, title in fact.choices.items())}.")
    if fact.several:
        parts.append("Several that hold together stand in brackets.")
    if fact.unit:
        parts.append(f"With its unit ({fact.unit}).")
    if fact.found_on:
        parts.append(f"Found on: {fact.found_on}.")
    return " ".join(parts)


def _example(fact: Fact) -> str | None:
    if fact.reads is not None:
        return _EXAMPLES.get(fact.reads)
    if fact.quantity is not None and fact.plausible is not None and fact.plausible.high is not None:
        return show(fact.plausible.low or fact.plausible.high, fact.quantity, fact.unit)
    return _EXAMPLES.get(fact.type.value)


# --- values ---


def _value_name(fact: Fact, catalog: Catalog) -> str:
    """The definition of the bare value: shared by all facts of one type, own where the choices are its own."""
    if fact.choices or fact.type is ValueType.COUNT:
        return f"value-{fact.name}"
    base = fact.reads or fact.quantity or fact.type.value
    if fact.short_for is not None:
        part = catalog.facts[f"{fact.name}.{fact.short_for}"]
        base = part.quantity or part.type.value
    return f"{base}{'-or-none' if fact.may_be_none else ''}{'-exact' if fact.exact else ''}"


def _shared(fact: Fact, catalog: Catalog) -> dict[str, Schema]:
    return {_value_name(fact, catalog): _value(fact, catalog)}


def _value(fact: Fact, catalog: Catalog) -> Schema:
    if fact.several:
        return _several(fact)
    if fact.choices:
        return {"anyOf": [{"enum": _choice_list(fact)}, *_own_choices(fact), *_or_words(fact, fact.choices)]}
    if fact.type is ValueType.FLAG:
        return {"anyOf": [{"enum": [*_FLAGS, *_open_words(fact)]}, *_or_words(fact, _FLAG_WORDS)]}
    if fact.type is ValueType.TEXT:
        return _text(fact)
    return _typed(fact, catalog)


def _typed(fact: Fact, catalog: Catalog) -> Schema:
    pattern = _pattern(fact, catalog)
    ways: list[Schema] = [] if pattern is None else [{"type": "string", "pattern": pattern, **_explained(fact)}]
    ways += _numbers(fact)
    if words := _open_words(fact):
        ways.append({"enum": words})
    return ways[0] if len(ways) == 1 else {"anyOf": ways}


def _pattern(fact: Fact, catalog: Catalog) -> str | None:
    none = fact.may_be_none
    if fact.reads == "conductor":
        return patterns.conductor()
    if fact.reads == "voltage_system":
        return patterns.voltage_system()
    if fact.short_for is not None:
        short = catalog.facts[f"{fact.name}.{fact.short_for}"]
        return patterns.quantity(quantity_kind(short.quantity or ""), none=none)
    if fact.quantity is not None:
        return patterns.quantity(quantity_kind(fact.quantity), none=none)
    match fact.type:
        case ValueType.COUNT:
            return patterns.count(none=none)
        case ValueType.DATE:
            return patterns.date(none=none)
        case ValueType.WIRE_SIZE:
            return patterns.wire_size(none=none)
        case ValueType.TAG:
            return patterns.one_tag() if fact.exact else patterns.tags(none=none)
        case ValueType.WAY:
            return patterns.one_way() if fact.exact else patterns.ways(none=none)
        case _:
            return None


def _explained(fact: Fact) -> Schema:
    """What an editor shows where the pattern does not fit; other programs pass over the word."""
    if fact.quantity is not None:
        symbols = [symbol for symbol in quantity_kind(fact.quantity).symbols if symbol]
        return {"patternErrorMessage": f"Write the number with its unit ({', '.join(symbols)})."} if symbols else {}
    example = _example(fact)
    return {"patternErrorMessage": f"Write it as {example}."} if example else {}


def _numbers(fact: Fact) -> list[Schema]:
    """Bare numbers, where they mean something."""
    if fact.type is ValueType.COUNT:
        low, high = _count_ends(fact)
        return [{"type": "integer", "minimum": low} | ({} if high is None else {"maximum": high})]
    if fact.quantity is not None and quantity_kind(fact.quantity).bare_allowed:
        return [{"type": "number", **({"minimum": -1, "maximum": 1} if fact.quantity == "ratio" else {})}]
    return []


def _count_ends(fact: Fact) -> tuple[int, int | None]:
    ranges = [bounds for bounds in (fact.physical, fact.plausible) if bounds is not None]
    lows = [int(bounds.low) for bounds in ranges if bounds.low is not None]
    highs = [int(bounds.high) for bounds in ranges if bounds.high is not None]
    return max(lows, default=0), min(highs, default=None)


def _open_words(fact: Fact) -> list[object]:
    if fact.exact:
        return []
    return ["unknown", "none"] if fact.may_be_none else ["unknown"]


def _choice_list(fact: Fact) -> list[object]:
    """The choices as text, and those that look like numbers as numbers too, as an editor reads them."""
    numbers = [int(name) for name in fact.choices if name.isdecimal()]
    return [*fact.choices, *numbers, *_open_words(fact)]


def _own_choices(fact: Fact) -> list[Schema]:
    """Which choices a place has of its own no schema knows; by their hyphen it tells them from misspelt ones."""
    return [{"type": "string", "pattern": f"^(?:{OWN_CHOICE})$"}] if fact.own_choices else []


def _or_words(fact: Fact, choices: Iterable[str]) -> list[Schema]:
    if fact.exact:
        return []
    words = [*choices, *(["none"] if fact.may_be_none else [])]
    return [{"type": "string", "pattern": patterns.words_with_or(words)}]


def _several(fact: Fact) -> Schema:
    choices: list[object] = [*fact.choices]
    together: Schema = {"type": "array", "items": {"enum": choices}, "minItems": 1, "uniqueItems": True}
    return {"anyOf": [{"enum": [*choices, *_open_words(fact)]}, together, *_or_words(fact, fact.choices)]}


def _text(fact: Fact) -> Schema:
    refused = "(?!none$)" if not fact.may_be_none else ""
    refused += "(?!unknown$)" if fact.exact else ""
    return {"type": ["string", "number", "boolean"], "pattern": rf"^\s*{refused}\S"}


# --- values with their paper, and parts ---


def _with_paper(fact: Fact, catalog: Catalog) -> Schema:
    own = reference(_value_name(fact, catalog))
    properties = {"value": own, "per": reference("paper"), **_parts(fact)}
    schema: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    if not fact.parts:
        return schema | {"required": ["value"]}
    schema["anyOf"] = [{"required": [name]} for name in properties if name != "per"]
    if excluded := list(_given_by_value(fact)):
        schema["allOf"] = excluded
    return schema


def _parts(fact: Fact) -> dict[str, Schema]:
    return {part: fact_reference(f"{fact.name}.{part}") for part in fact.parts}


def _given_by_value(fact: Fact) -> Iterator[Schema]:
    """What a line of text gives cannot stand beside it once more."""
    given = fact.parts if fact.reads is not None else (fact.short_for,) if fact.short_for else ()
    for part in given:
        yield {"not": {"required": ["value", part]}}
