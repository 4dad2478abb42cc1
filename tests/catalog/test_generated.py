"""What is made from the fact catalog: it is fresh, whole, and an editor can use it."""

import json
import re
import time
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from checker.catalog.generate import generated_files, main, stale_files, write_files
from checker.catalog.load import shipped_catalog
from checker.catalog.reference_page import reference_page
from checker.catalog.site_schema import site_schema
from checker.catalog.type_tables import type_tables
from checker.files.folders import data_folder

CATALOG = shipped_catalog()
SCHEMA = site_schema(CATALOG)
# Words that draft-07 lacks, and one that makes an editor's messages useless.
UNUSED_WORDS = {
    *("oneOf", "unevaluatedProperties", "unevaluatedItems", "prefixItems", "dependentRequired", "dependentSchemas"),
    *("$dynamicRef", "$anchor", "minContains", "maxContains", "definitions"),
}


def _schemas(node: Any) -> Iterator[dict[str, Any]]:
    if isinstance(node, dict):
        yield node
        for inner in node.values():
            yield from _schemas(inner)
    elif isinstance(node, list):
        for inner in node:
            yield from _schemas(inner)


def test_generated_files_are_fresh() -> None:
    """Run `python -m checker.catalog.generate` after every change of the catalog."""
    assert stale_files(data_folder("schemas"), CATALOG) == []


def test_stale_and_missing_files_are_seen(tmp_path: Path) -> None:
    assert stale_files(tmp_path, CATALOG) == list(generated_files(CATALOG))
    write_files(tmp_path, CATALOG)
    assert stale_files(tmp_path, CATALOG) == []
    (tmp_path / "facts.md").write_text("# Facts\n", encoding="utf-8")
    assert stale_files(tmp_path, CATALOG) == ["facts.md"]


def test_command_says_what_is_stale(monkeypatch: pytest.MonkeyPatch) -> None:
    main(["--check"])
    monkeypatch.setattr("checker.catalog.generate.stale_files", lambda *_: ["facts.md"])
    with pytest.raises(SystemExit, match=r"facts\.md"):
        main(["--check"])
    with pytest.raises(SystemExit, match="usage"):
        main(["--help-me"])


def test_command_writes(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "facts").symlink_to(data_folder("schemas") / "facts")
    monkeypatch.setattr("checker.catalog.generate.data_folder", lambda _: tmp_path)
    main([])
    assert stale_files(tmp_path, CATALOG) == []


@pytest.mark.parametrize("dialect", [jsonschema.Draft202012Validator, jsonschema.Draft7Validator])
def test_schema_is_a_schema_in_both_dialects(dialect: Any) -> None:
    dialect.check_schema(SCHEMA)


def test_schema_uses_only_words_that_both_dialects_have() -> None:
    used = {word for schema in _schemas(SCHEMA) for word in schema}
    assert not used & UNUSED_WORDS
    assert {"anyOf", "if", "then"} <= used


def test_every_reference_leads_somewhere_and_every_definition_is_used() -> None:
    references = {schema["$ref"] for schema in _schemas(SCHEMA) if "$ref" in schema}
    definitions = {f"#/$defs/{name}" for name in SCHEMA["$defs"]}
    assert references == definitions


def test_a_reference_stands_alone() -> None:
    """Draft-07 passes over everything beside a reference."""
    assert all(len(schema) == 1 for schema in _schemas(SCHEMA) if "$ref" in schema)


@pytest.mark.parametrize(
    "fact", [each for each in CATALOG.facts.values() if each.stated_for], ids=lambda fact: fact.name
)
def test_an_editor_can_explain_every_fact(fact: Any) -> None:
    definition = SCHEMA["$defs"][f"fact-{fact.name}"]
    assert definition["title"] == fact.title
    assert definition["description"]
    assert all(choice in definition["description"] for choice in fact.choices)
    for example in definition.get("examples", []):
        jsonschema.Draft202012Validator({**definition, "$defs": SCHEMA["$defs"]}).validate(example)


@pytest.mark.parametrize("kind", CATALOG.kinds)
def test_an_editor_can_complete_every_kind(kind: str) -> None:
    offered = set(SCHEMA["$defs"][f"kind-{kind}"]["properties"])
    stated = {fact.name for fact in CATALOG.facts.values() if kind in fact.stated_for and "." not in fact.name}
    assert stated <= offered
    others = {"use", "override", "ways", "fed_from", "normal", "alternate", *CATALOG.lists}
    assert offered - stated <= others
    assert set(CATALOG.kinds[kind].feeding.inputs) <= offered


def _is_valid(piece: dict[str, Any]) -> set[bool]:
    """Whether a piece is valid, by each dialect."""
    document = {"site": {}, "equipment": {"P1": piece}}
    dialects = (jsonschema.Draft202012Validator, jsonschema.Draft7Validator)
    return {dialect(SCHEMA).is_valid(document) for dialect in dialects}


@pytest.mark.parametrize("given", [{"kind": "panelboard"}, {"kind": "switchboard"}, {"use": "board.yaml"}])
def test_a_board_is_fed_in_both_forms(given: dict[str, Any]) -> None:
    """Also where a sheet gives the kind."""
    taken: list[Any] = ["M1", "P1/3", {"main": "M1"}, {"main": "M1", "7": "INLET1/1"}, {"tie-1": "P2"}]
    refused: list[Any] = [
        {},
        [],
        {"main": "none"},
        {"main": {"7": "M1"}},
        {"normal": "M1"},
        {"load": "M1"},
        {"a b": "M1"},
        7,
    ]
    for fed in taken:
        assert _is_valid({**given, "fed_from": fed}) == {True}, fed
    for fed in refused:
        assert _is_valid({**given, "fed_from": fed}) == {False}, fed


@pytest.mark.parametrize("kind", [name for name, kind in CATALOG.kinds.items() if kind.feeding.inputs])
def test_only_a_board_is_fed_by_ways(kind: str) -> None:
    several = {name: {"main": "M1"} for name in CATALOG.kinds[kind].feeding.inputs}
    assert _is_valid({"kind": kind, **several}) == {kind in CATALOG.groups["board"]}


def test_an_editor_offers_the_main_of_a_board() -> None:
    fed = SCHEMA["$defs"]["kind-panelboard"]["properties"]["fed_from"]
    assert set(fed["properties"]) == {"main"}
    assert fed["examples"][-1] == {"main": "M1", "7": "INLET1"}
    for example in fed["examples"]:
        assert _is_valid({"kind": "panelboard", "fed_from": example}) == {True}
    assert fed["type"] == ["string", "object"]


@pytest.mark.parametrize(
    ("connection", "valid"),
    [
        *(("INLET1>P1.7", True), ("M1>P1.main", True), ("GEN1/1>ATS1.alternate", True), ("ATS1>P1", True)),
        *(("INLET1>P1.", False), ("INLET1>P1/7", False), ("P1.7", False), ("INLET1>P1.7.8", False)),
    ],
)
def test_runs_are_named_by_the_ways_of_boards(connection: str, valid: bool) -> None:
    document: dict[str, Any] = {"site": {}, "runs": {connection: {}}}
    assert jsonschema.Draft202012Validator(SCHEMA).is_valid(document) is valid


def _patterns() -> set[str]:
    found = {schema["pattern"] for schema in _schemas(SCHEMA) if isinstance(schema.get("pattern"), str)}
    keyed = {key for schema in _schemas(SCHEMA) for key in schema.get("patternProperties", {})}
    return found | keyed


LONG = [
    *(
        "9 kA or " * 14,
        "10 kA rms sym " * 8,
        "1" * 118,
        "a-" * 59,
        " " * 118,
        "1 ft " * 23,
        "1 ft" * 29,
        "4/0 AWG " * 14,
    ),
    *(
        "8 . " * 29,
        "8 - " * 29,
        "P1 or " * 19,
        "P1/7 or " * 14,
        "P1/" * 39,
        "solid or " * 13,
        "3, " * 39,
        "1.." * 39,
        "1-1/4 " * 18,
        "120/240 V " * 11,
    ),
]


def test_patterns_are_quick_on_long_texts() -> None:
    """An expression that can part a text in many ways tries them all before it gives up, and an editor stands still."""
    for pattern in _patterns():
        compiled = re.compile(pattern)
        began = time.perf_counter()
        for text in LONG:
            compiled.search(f"{text}!")
        assert time.perf_counter() - began < 0.5, pattern


def test_patterns_are_written_as_editors_read_them() -> None:
    """ECMAScript with the flag u: no escape but of signs that mean something, no lookbehind, no named groups."""
    patterns = _patterns()
    assert patterns
    for pattern in patterns:
        assert not re.search(r"\\[^sSuUdDwWbBnrt0-9^$\\.*+?()\[\]{}|/]", pattern.replace("\\\\", "")), pattern
        assert "(?<" not in pattern
        assert "(?P" not in pattern


def test_type_tables_say_who_gives_a_fact() -> None:
    tables = type_tables(CATALOG)
    assert tables["subjects"]["transfer_switch"]["facts"]["neutral"] == "stated"
    assert tables["subjects"]["generator"]["facts"]["separately_derived"] == "derived"
    assert tables["subjects"]["generator"]["facts"]["capacity"] == "either"
    assert "neutral" not in tables["subjects"]["panelboard"]["facts"]
    assert tables["facts"]["rated_current"]["quantity"] == "load_current"
    assert tables["facts"]["classes"]["several"] is True
    assert tables["facts"]["first"] == {**tables["facts"]["second"], "title": "one of the two devices"}
    assert tables["facts"]["first"]["type"] == "way"
    assert {name: tables["kinds"][name]["fed"] for name in ("meter", "inlet", "panelboard", "switchboard")} == {
        "meter": "fed_from",
        "inlet": "cord",
        "panelboard": "several",
        "switchboard": "several",
    }
    assert set(tables["subjects"]) == CATALOG.subject_types
    assert json.loads(json.dumps(tables)) == tables


def test_reference_page_has_every_fact_by_subject() -> None:
    page = reference_page(CATALOG)
    for subject in CATALOG.subject_types:
        for fact in CATALOG.facts_of(subject):
            heading = page.index(f"(`{subject}`)")
            end = page.find("\n## ", heading)
            assert f"| `{fact.name}` |" in page[heading : end if end > 0 else None], (subject, fact.name)


def test_rows_of_the_reference_page_have_as_many_cells_as_its_head() -> None:
    rows = [line for line in reference_page(CATALOG).splitlines() if line.startswith("|")]
    assert len(rows) > 300
    heads = {row.count(" | ") for row, below in pairwise(rows) if below.startswith("| ---")}
    assert heads == {2, 5}
    assert {row.count(" | ") for row in rows} == heads
