"""The JSON Schema of a site file, for editors and other programs.

Draft 2020-12 with words that draft-07 has too. A piece is told apart by its ``kind`` with if and then, so that a
mistake is shown where it stands.
"""

from __future__ import annotations

from typing import Any

from checker.catalog.fact_schemas import Schema, definitions, fact_reference, reference
from checker.catalog.model import Catalog, Feeding, Kind, Listing
from checker.catalog.names import (
    CLAIMS,
    COMPLETE,
    EQUIPMENT,
    KIND,
    LIST,
    MAIN_WAY,
    NO_FEED_WAYS,
    OVERRIDE,
    PAIRS,
    PERMIT,
    READINGS,
    RUNS,
    SITE_SECTION,
    TAG,
    TAG_MEANING,
    USE,
    WAY,
    WAYS,
)

_COMPLETE: Schema = {
    "title": "complete",
    "description": "Whether what is not listed is known not to be there. Left out: the list is open.",
    "enum": [True, False, "yes", "no", "true", "false"],
}
_NOT_RESERVED = r"(?![uU][nN][kK][nN][oO][wW][nN]$|[nN][oO][nN][eE]$|[sS][iI][tT][eE]$)"
_FED: Schema = {
    "type": "string",
    "pattern": rf"^\s*(?!(?:unknown|none)\s*$){TAG}(?:/{WAY})?\s*$",
    "patternErrorMessage": "Write one tag, as P1, or a way of it, as P1/3.",
    "examples": ["UTIL", "P1/3"],
}
_SEVERAL_FED: Schema = {
    # Each word speaks of one of the two: the text of one feed, or the ways with what feeds each.
    **_FED,
    "description": "One feed, or each way of the board by which it is fed with what feeds it there.",
    "type": ["string", "object"],
    "examples": ["UTIL", "P1/3", {MAIN_WAY: "M1", "7": "INLET1"}],
    "properties": {MAIN_WAY: {"title": "what feeds the main", **_FED}},
    "patternProperties": {rf"^(?!(?:{'|'.join(sorted(NO_FEED_WAYS))})$){WAY}$": _FED},
    "additionalProperties": False,
    "minProperties": 1,
}
_FED_TITLES = {
    "fed_from": "what feeds it",
    "normal": "what feeds the normal side",
    "alternate": "what feeds the alternate side",
}


def site_schema(catalog: Catalog) -> dict[str, Any]:
    """The schema as one document."""
    lists = {each.name: reference(f"list-{each.name}") for each in catalog.lists.values() if each.on == "site"}
    sections = {
        SITE_SECTION: reference("section-site"),
        PERMIT: fact_reference(PERMIT),
        EQUIPMENT: reference("section-equipment"),
        RUNS: reference("section-runs"),
        PAIRS: reference("section-pairs"),
        **lists,
    }
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Site description",
        "description": "What is, or is to be, installed. Made from the fact catalog; not to be edited by hand.",
        **_object(sections, required=[SITE_SECTION]),
        "$defs": _definitions(catalog),
    }


def _definitions(catalog: Catalog) -> dict[str, Schema]:
    equipment = f"Each piece under its tag. {TAG_MEANING}"
    runs = "What is known of the conductors of each connection, as GEN1/1>ATS1.alternate."
    pairs = "What is known of two pieces together, as P1~UTIL."
    return {
        "section-site": _site(catalog),
        "section-equipment": _keyed(rf"^{_NOT_RESERVED}{TAG}$", "piece", EQUIPMENT, equipment),
        "section-runs": _keyed(rf"^{TAG}(?:/{WAY})?>{TAG}(?:\.{WAY})?$", "run", RUNS, runs),
        "section-pairs": _keyed(rf"^{TAG}~{TAG}$", "pair", PAIRS, pairs),
        "piece": _piece(catalog),
        "run": _object(_facts(catalog, "connection")),
        "pair": _object({name: schema for pair in catalog.pairs for name, schema in _facts(catalog, pair).items()}),
        "way": _object(_facts(catalog, "way")),
        **{f"kind-{kind.name}": _kind(kind, catalog) for kind in catalog.kinds.values()},
        **{f"list-{each.name}": _list(each) for each in catalog.lists.values()},
        **{f"member-{each.member}": _member(each, catalog) for each in catalog.lists.values()},
        **definitions(catalog),
    }


def _object(properties: dict[str, Schema], required: list[str] | None = None) -> Schema:
    schema: Schema = {"type": "object", "properties": properties, "additionalProperties": False}
    return schema | ({"required": required} if required else {})


def _keyed(pattern: str, definition: str, title: str, description: str) -> Schema:
    return {
        "title": title,
        "description": description,
        "type": "object",
        "patternProperties": {pattern: reference(definition)},
        "additionalProperties": False,
    }


def _facts(catalog: Catalog, subject: str) -> dict[str, Schema]:
    """What a person may write of one type of subject, parts left to their wholes."""
    return {
        fact.name: fact_reference(fact.name)
        for fact in catalog.facts.values()
        if subject in fact.stated_for and "." not in fact.name
    }


def _required(catalog: Catalog, subject: str) -> list[str]:
    return [name for name in _facts(catalog, subject) if catalog.facts[name].exact]


def _site(catalog: Catalog) -> Schema:
    facts = {name: schema for name, schema in _facts(catalog, "site").items() if name != PERMIT}
    open_kinds = [kind.name for kind in catalog.kinds.values() if not kind.drawing_complete]
    complete: Schema = {
        "title": "kinds that are all drawn",
        "description": "Open kinds of equipment of which none is there beyond those that are drawn.",
        "type": "array",
        "items": {"enum": open_kinds},
        "uniqueItems": True,
    }
    return {"title": "site", "description": "The site as a whole.", **_object({**facts, COMPLETE: complete})}


def _piece(catalog: Catalog) -> Schema:
    return {
        "title": "piece of equipment",
        "type": "object",
        "properties": {KIND: fact_reference(KIND), USE: _use(), OVERRIDE: _override()},
        "if": {"not": {"required": [USE]}},
        "then": {"required": [KIND]},
        "allOf": [*(_if_kind(kind) for kind in catalog.kinds.values()), *_kind_from_sheet(catalog)],
    }


def _if_kind(kind: Kind) -> Schema:
    return {
        "if": {"properties": {KIND: {"const": kind.name}}, "required": [KIND]},
        "then": reference(f"kind-{kind.name}"),
    }


def _kind_from_sheet(catalog: Catalog) -> list[Schema]:
    """Where the sheet gives the kind, a piece may hold what any kind may hold."""
    # What may be fed in several ways comes last, so that its key takes both forms.
    kinds = sorted(catalog.kinds.values(), key=lambda kind: kind.feeding is Feeding.SEVERAL)
    properties = {key: value for kind in kinds for key, value in _piece_keys(kind, catalog).items()}
    return [{"if": {"not": {"required": [KIND]}}, "then": _object(properties)}]


def _kind(kind: Kind, catalog: Catalog) -> Schema:
    required = [name for name in _required(catalog, kind.name) if name != KIND]
    schema = {"title": kind.title, "description": kind.means, **_object(_piece_keys(kind, catalog))}
    if not required:
        return schema
    # What is missing here may stand in the sheet.
    return schema | {"if": {"not": {"required": [USE]}}, "then": {"required": required}}


def _piece_keys(kind: Kind, catalog: Catalog) -> dict[str, Schema]:
    fed = _SEVERAL_FED if kind.feeding is Feeding.SEVERAL else _FED
    feeding = {name: {"title": _FED_TITLES[name], **fed} for name in kind.feeding.inputs}
    ways = {WAYS: _ways()} if kind.has_ways else {}
    lists = {each.name: reference(f"list-{each.name}") for each in catalog.lists.values() if each.on == kind.name}
    return {**_facts(catalog, kind.name), **feeding, **ways, **lists, USE: _use(), OVERRIDE: _override()}


def _ways() -> Schema:
    description = "Each way with its overcurrent device; normal, alternate, main and load hold built-in devices."
    return _keyed(rf"^{WAY}$", "way", WAYS, description)


def _use() -> Schema:
    description = "A sheet with the nameplate facts of the model; the path begins at the folder of this file."
    return {"title": "equipment sheet", "description": description, "type": "string", "pattern": r"^\s*[^/\\\s][^\\]*$"}


def _override() -> Schema:
    description = "Keys that stand in the sheet too and count as they are written here."
    return {"title": "overridden", "description": description, "type": "array", "items": {"type": "string"}}


def _list(listing: Listing) -> Schema:
    """A list, or a mapping with the list and whether it is complete; each word below speaks of one of the two."""
    member = reference(f"member-{listing.member}")
    return {
        "title": listing.title,
        "description": listing.means,
        "type": ["array", "object"],
        "items": member,
        "properties": {COMPLETE: _COMPLETE, LIST: {"type": "array", "items": member}},
        "additionalProperties": False,
        "required": [LIST],
    }


def _member(listing: Listing, catalog: Catalog) -> Schema:
    facts = _facts(catalog, listing.member)
    if listing.member == "paper":
        facts[CLAIMS] = {
            "title": "claims",
            "description": "What the paper says of facts, as GEN1.capacity: 41.7 A; it is compared and never used.",
            "type": "object",
        }
        facts[READINGS] = {
            "title": "readings",
            "description": "Of a demand record: a table of readings beside the site file, as records/demand.csv, with "
            "the columns time and kVA or kW.",
            "type": "string",
        }
    return _object(facts, _required(catalog, listing.member))
