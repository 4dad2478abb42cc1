"""``schemas/compare.schema.json``: it is closed, every key is told, and what ``rules compare`` prints keeps to it."""

from __future__ import annotations

import ast
import copy
import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest

import checker.tasks.comparing.rule_differences
from checker.files.folders import data_folder
from checker.findings.judging.outcomes import Outcome
from tests.cli.conftest import Run
from tests.project.project_tree import ROOT
from tests.report.schema_shape import schemas

SCHEMA: dict[str, Any] = json.loads((data_folder("schemas") / "compare.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
GULL, ALDER = (str(ROOT / "fixtures" / name) for name in ("gull-strand", "alder-rise"))
RUNS = (
    ("--document", "NFPA 70", "--edition", "2017", "--to-edition", "2020", ALDER),
    ("--document", "NFPA 70", "--edition", "2023", "--to-edition", "2026"),
    ("--jurisdiction", "gull-strand", "--folder", GULL, "--date", "2027-06-30", "--to-date", "2027-07-01", GULL),
)


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_every_object_is_closed_and_every_key_is_compulsory_and_told() -> None:
    for schema in schemas(SCHEMA):
        if "properties" in schema:
            assert schema["additionalProperties"] is False
            assert schema["required"] == sorted(schema["properties"])
        for name, described in schema.get("properties", {}).items():
            assert described.get("title"), name
            assert described.get("description", "").endswith("."), name


def test_choices_are_those_of_the_program() -> None:
    outcomes = SCHEMA["$defs"]["outcome"]["enum"]
    assert set(outcomes) == {*(each.value for each in Outcome), None}
    aspects = set(SCHEMA["$defs"]["difference"]["properties"]["aspect"]["enum"])
    assert _aspects_written() <= aspects


def _aspects_written() -> set[str]:
    """Every word that the program writes as the aspect of a difference: first text of each call."""
    source = Path(checker.tasks.comparing.rule_differences.__file__).read_text(encoding="utf-8")
    calls = [node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Call)]
    named = [call for call in calls if isinstance(call.func, ast.Name) and call.func.id == "Difference"]
    first = [call.args[0] for call in named]
    found = {each.value for each in first if isinstance(each, ast.Constant)}
    assert found
    return {str(each) for each in found}


@pytest.mark.parametrize("options", RUNS, ids=["2017-2020", "2023-2026", "permission"])
def test_what_is_printed_keeps_to_it(options: tuple[str, ...], run: Run) -> None:
    data = json.loads(run("rules", "compare", *options, "--format", "json").out)
    assert data["rules"] or data["sites"]
    assert [f"{list(each.absolute_path)}: {each.message[:200]}" for each in VALIDATOR.iter_errors(data)] == []
    changed = copy.deepcopy(data)
    changed["before"]["colour"] = "green"
    assert not VALIDATOR.is_valid(changed)
