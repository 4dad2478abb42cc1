"""The published schemas: up to date, the same under both drafts, and of one mind with the reader."""

from __future__ import annotations

import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft7Validator, Draft202012Validator

from checker.catalog.load import shipped_catalog
from checker.files.folders import data_folder
from checker.files.yaml.strict_yaml import read_file
from checker.files.yaml.tree import plain
from checker.rules.reading.pack_paths import CASES
from checker.rules.schemas import published as schema
from checker.rules.schemas.described import meanings
from tests.rules.packs import DATA

NEWER_WORDS = {
    "prefixItems", "unevaluatedProperties", "unevaluatedItems", "dependentRequired", "dependentSchemas", "minContains",
    "maxContains", "$dynamicRef", "$anchor", "oneOf",
}  # fmt: skip
"""Words that draft-07 does not have, and the one that makes poor messages in editors."""


@cache
def _published() -> dict[str, Any]:
    return {name: json.loads(text) for name, text in schema.files(shipped_catalog()).items()}


def _words(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        for key, value in node.items():
            yield key
            yield from _words(value)
    elif isinstance(node, list):
        for each in node:
            yield from _words(each)


def _texts(folder: Path) -> list[Path]:
    return sorted(path for path in folder.glob("*/*.yaml") if path.parent.name not in ("profiles", "shared"))


FILES = [*_texts(DATA), *_texts(data_folder("rulesets"))]


def test_files_are_up_to_date() -> None:
    assert list(schema.stale(shipped_catalog(), data_folder("schemas"))) == []


def test_stale_file_is_seen(tmp_path: Path) -> None:
    for name, text in schema.files(shipped_catalog()).items():
        (tmp_path / name).write_text(text, encoding="utf-8")
    (tmp_path / "pack.schema.json").write_text("{}", encoding="utf-8")
    (tmp_path / "cases.schema.json").unlink()
    assert list(schema.stale(shipped_catalog(), tmp_path)) == ["pack.schema.json", "cases.schema.json"]


@pytest.mark.parametrize("name", ["pack.schema.json", "layer.schema.json", "cases.schema.json", "profile.schema.json"])
def test_schema_means_the_same_under_both_drafts(name: str) -> None:
    Draft202012Validator.check_schema(_published()[name])
    Draft7Validator.check_schema(_published()[name])
    assert not NEWER_WORDS & set(_words(_published()[name]))


def test_every_reference_leads_somewhere() -> None:
    pack = _published()["pack.schema.json"]
    references = set(_references(pack))
    assert references == {f"#/$defs/{name}" for name in pack["$defs"]} & references
    assert len(references) > 100


def _references(node: Any) -> Iterator[str]:
    if isinstance(node, dict):
        if "$ref" in node:
            yield node["$ref"]
        for value in node.values():
            yield from _references(value)
    elif isinstance(node, list):
        for each in node:
            yield from _references(each)


@pytest.mark.parametrize("path", FILES, ids=[f"{path.parent.name}/{path.name}" for path in FILES])
def test_published_schema_accepts_what_the_reader_accepts(path: Path) -> None:
    name = "cases.schema.json" if path.name.endswith(CASES) else "pack.schema.json"
    content = plain(read_file(path, path.name))
    for draft in (Draft202012Validator, Draft7Validator):
        found = [
            f"{list(error.absolute_path)}: {error.message}" for error in draft(_published()[name]).iter_errors(content)
        ]
        assert not found


@pytest.mark.parametrize("path", sorted(data_folder("rulesets").glob("profiles/*.yaml")), ids=lambda path: path.name)
def test_published_schema_accepts_profiles(path: Path) -> None:
    assert Draft202012Validator(_published()["profile.schema.json"]).is_valid(plain(read_file(path, path.name)))


def test_facts_of_a_subject_are_its_own() -> None:
    definitions = _published()["pack.schema.json"]["$defs"]
    switch = definitions["when.transfer_switch"]["properties"]
    assert "neutral" in switch
    assert "alternate.kind" in switch
    assert "normal.overcurrent.rated_current" in switch
    assert "floor_area" not in switch
    assert "site.floor_area" in switch


def test_editor_is_told_what_a_fact_means() -> None:
    neutral = _published()["pack.schema.json"]["$defs"]["fact.neutral"]
    assert neutral["description"].startswith("neutral in the switch")
    assert "solid: carried solid" in neutral["description"]


def _properties(node: Any) -> Iterator[tuple[str, str, Any]]:
    """Every word of every object of a schema: the title of the object, the word, its schema."""
    if isinstance(node, dict):
        if "properties" in node and isinstance(node.get("title"), str):
            yield from ((node["title"], word, each) for word, each in node["properties"].items())
        for value in node.values():
            yield from _properties(value)
    elif isinstance(node, list):
        for value in node:
            yield from _properties(value)


@pytest.mark.parametrize("name", ["pack.schema.json", "layer.schema.json", "profile.schema.json", "cases.schema.json"])
def test_every_word_says_what_it_means(name: str) -> None:
    silent = {
        (title, word)
        for title, word, each in _properties(_published()[name])
        if each.get("not") != {} and "description" not in each and not each.get("$ref", "").startswith("#/$defs/fact.")
    }
    assert not silent


def test_no_meaning_is_without_its_word() -> None:
    known = {(title, word) for each in _published().values() for title, word, _ in _properties(each)}
    anywhere = {word for _, word in known}
    told = [(title, word) for title, words in meanings().items() for word in words]
    assert not [
        (title, word) for title, word in told if (title, word) not in known and (title != "any" or word not in anywhere)
    ]


def test_flags_are_read_as_yaml_1_2_reads_them() -> None:
    definitions = _published()["pack.schema.json"]["$defs"]
    assert definitions["fact.neutral"]["properties"]["if_absent"]["enum"] == ["yes", "no", True, False]
    assert '"type":"boolean"' not in schema.files(shipped_catalog())["layer.schema.json"]
