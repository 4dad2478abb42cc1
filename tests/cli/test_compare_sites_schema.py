"""``schemas/compare-sites.schema.json``: closed, every key told, and what ``compare`` prints keeps to it."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest

from checker.files.folders import data_folder
from checker.findings.judging.outcomes import Outcome
from checker.tasks.comparing.revisions import Standing
from tests.cli.conftest import Run
from tests.project.project_tree import ROOT
from tests.report.schema_shape import schemas

PATH = data_folder("schemas") / "compare-sites.schema.json"
SCHEMA: dict[str, Any] = json.loads(PATH.read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
HERON, WREN = (str(ROOT / "fixtures" / name) for name in ("heron-cottage", "wren-cottage"))
RUNS = (
    (HERON, WREN),
    (WREN, WREN),
    (HERON, "--jurisdiction", "nec-2017", "--jurisdiction", "nec-2023", "--date", "2024-06-03", "--date", "2025-06-03"),
)


def test_it_is_a_closed_schema_and_every_key_is_compulsory_and_told() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    for schema in schemas(SCHEMA):
        if "properties" in schema:
            assert schema["additionalProperties"] is False
            assert schema["required"] == sorted(schema["properties"])
        for name, described in schema.get("properties", {}).items():
            assert described.get("title"), name
            assert described.get("description", "").endswith("."), name


def test_choices_are_those_of_the_program() -> None:
    assert set(SCHEMA["$defs"]["outcome"]["enum"]) == {*(each.value for each in Outcome), None}
    standings = SCHEMA["$defs"]["finding"]["properties"]["standing"]["enum"]
    assert set(standings) == {each.name.lower() for each in Standing}


@pytest.mark.parametrize("words", RUNS)
def test_what_is_printed_keeps_to_it(words: tuple[str, ...], run: Run) -> None:
    ran = run("compare", *words, "--format", "json")
    assert (ran.status, ran.err) == (0, "")
    assert [error.message for error in VALIDATOR.iter_errors(json.loads(ran.out))] == []


def test_it_refuses_what_is_wrong(run: Run) -> None:
    told = json.loads(run("compare", HERON, WREN, "--format", "json").out)
    told["findings"][0]["standing"] = "fine"
    assert list(VALIDATOR.iter_errors(told))
