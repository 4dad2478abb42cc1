"""Which words of the grammar of rules the files of a pack use."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import yaml

from checker.catalog.model import Catalog
from checker.rules.grammar import (
    ANY_WAY,
    BESIDE,
    FOLDS,
    GROUPS,
    MATCHES,
    NO_LIMIT,
    OPERAND_WORDS,
    RELATIONS,
    STRICTER,
)
from checker.rules.model.pack import Pack

LINKS = ("normal", "alternate", "fed_from", "from", "to", "a", "b", "measured_from", "site", "service", "subject")
KEYS = frozenset(
    {
        *(
            "title",
            "subject",
            "basis",
            "force",
            "due",
            "harm",
            "when",
            "unless",
            "instead",
            "requires",
            ANY_WAY,
            "readings",
            "look",
        ),
        *(
            "says",
            "says_where",
            "why",
            "remedy",
            "who_acts",
            "before",
            "companions",
            "cautions",
            "sections",
            "cites",
            "covers",
            "checked",
        ),
        *(*GROUPS, *FOLDS, "not", "count", "of", "where", "that", "if_empty", "if_absent", *BESIDE),
        *(*RELATIONS, *OPERAND_WORDS),
        *("id", "if", "because", "held_by"),
        *("type", "stricter", "value", "values", "rows", "columns", "gives", "beyond", "match", "use"),
    }
)
"""Words that are keys of a rule, a condition, an operand, a parameter or a table."""

SUBJECTS = (
    "a kind",
    "a group of kinds",
    "a role",
    "a group of roles",
    "a pair",
    "a member of a list",
    "connection",
    "site",
)
TYPES = ("count", "date", "span", "choices", "ratio", "wire_size")

GRAMMAR = frozenset(
    {
        *KEYS,
        *(f"link {link}" for link in LINKS),
        *(f"subject: {subject}" for subject in SUBJECTS),
        *(f"type: {word}" for word in TYPES),
        *(f"match: {word}" for word in MATCHES),
        *(f"stricter: {word}" for word in STRICTER),
        *("force: recommended", "due: installation", NO_LIMIT, "same as", "{PART.found}", "{PART.wanted}", "{FACT}"),
    }
)
"""Every word of the grammar, with the values of those keys whose values are words of the grammar too."""

_TOLD = ("match", "stricter", "type", "force", "due")
_PLACE = re.compile(r"\{([^{}]+)\}")


def words_of(pack: Pack, catalog: Catalog) -> Iterator[str]:
    """Every word of the grammar in the files of a pack."""
    for path in sorted(Path(pack.folder).glob("*.yaml")):
        if not path.name.endswith(".cases.yaml"):
            yield from _words(yaml.safe_load(path.read_text(encoding="utf-8")), catalog)


def _words(node: Any, catalog: Catalog) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield str(key)
            yield from _links(str(key))
            yield from _of_value(str(key), value, catalog)
            yield from _words(value, catalog)
    elif isinstance(node, list):
        for item in node:
            yield from _words(item, catalog)
    elif isinstance(node, str):
        yield from _of_text(node)


def _of_value(key: str, value: Any, catalog: Catalog) -> Iterator[str]:
    if not isinstance(value, str):
        return
    if key in ("fact", "of"):
        yield from _links(value)
    if key == "subject":
        yield f"subject: {_subject(value, catalog)}"
    if key in _TOLD:
        yield f"{key}: {value}"


def _links(name: str) -> Iterator[str]:
    """Each link at the beginning of the name of a fact or a collection."""
    for step in name.split(".")[:-1]:
        if step not in LINKS:
            return
        yield f"link {step}"


def _of_text(text: str) -> Iterator[str]:
    if text == NO_LIMIT:
        yield NO_LIMIT
    if text.startswith("same as "):
        yield "same as"
    for name in _PLACE.findall(text):
        way = name.rpartition(".")[2]
        yield f"{{PART.{way}}}" if way in ("found", "wanted") else "{FACT}"


def _subject(name: str, catalog: Catalog) -> str:
    for words, known in (
        ("a kind", catalog.kinds),
        ("a group of kinds", catalog.groups),
        ("a role", catalog.roles),
        ("a group of roles", catalog.role_groups),
        ("a pair", catalog.pairs),
        ("a member of a list", {each.member for each in catalog.lists.values()}),
    ):
        if name in known:
            return words
    return name
