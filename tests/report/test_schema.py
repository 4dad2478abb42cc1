"""``schemas/review.schema.json``: it is closed, every key is told, and every report keeps to it."""

from __future__ import annotations

import ast
import copy
import json
from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any

import jsonschema
import jsonschema_rs
import pytest
from hypothesis import HealthCheck, given, settings

from checker.catalog.load import shipped_catalog
from checker.catalog.model import Stage
from checker.files.folders import data_folder
from checker.findings.finding import Review
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import Job
from checker.findings.review import review as review_job
from checker.report.programs.data import json_report, json_reports, review_data
from checker.rules.grammar import EVENTS, FOLDS, RELATIONS, WHO_ACTS
from checker.rules.in_force.rules import rules_in_force
from checker.rules.model.force import Basis, Force, Harm
from checker.rules.profile import read_profile
from checker.tasks.gathering.library import Library
from checker.values.truth import Truth
from tests.generators.drawings import seeded_drawing
from tests.project.project_tree import ROOT
from tests.report.generated import reviews
from tests.report.reviews import EVERYTHING, READINGS, finding, review
from tests.report.schema_shape import schemas

SCHEMA: dict[str, Any] = json.loads((data_folder("schemas") / "review.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
AT_ONCE = jsonschema_rs.Draft202012Validator(SCHEMA)
"""A second reader of the schema, which takes a hundredth of the time and says less."""
ONE_REVIEW = jsonschema.Draft202012Validator({"$ref": "#/$defs/review", "$defs": SCHEMA["$defs"]})
PROFILES = ("nec-2017", "nec-2020", "nec-2023", "nec-2026")
DRAWINGS = range(9)


def wrong(data: Any) -> list[str]:
    """What the schema says against a report; of a single review what exactly."""
    if AT_ONCE.is_valid(data):
        return []
    found = [f"{list(error.absolute_path)}: {error.message[:200]}" for error in VALIDATOR.iter_errors(data)]
    exactly = ONE_REVIEW.iter_errors(data) if isinstance(data, dict) and found else ()
    told = [f"{list(error.absolute_path)}: {error.message[:200]}" for error in exactly] or found
    return told or ["one reader of the schema has something against it, and the other has not"]


# --- the schema itself -----------------------------------------------------------------------------------------------


def test_it_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_every_object_is_closed_and_all_its_keys_are_compulsory() -> None:
    objects = [schema for schema in schemas(SCHEMA) if schema.get("type") == "object"]
    for schema in objects:
        if "properties" in schema:
            assert schema["additionalProperties"] is False, schema["title"]
            assert schema["required"] == sorted(schema["properties"]), schema["title"]
        else:
            assert isinstance(schema["additionalProperties"], dict), schema["title"]


def test_every_key_has_a_title_and_a_description() -> None:
    for schema in schemas(SCHEMA):
        for name, described in schema.get("properties", {}).items():
            told = {**_referred(described), **described}
            assert told.get("title"), f"{schema['title']}.{name} has no title"
            assert told.get("description", "").endswith("."), f"{schema['title']}.{name} has no description"


def _referred(schema: dict[str, Any]) -> dict[str, Any]:
    name = schema.get("$ref", "").removeprefix("#/$defs/")
    return SCHEMA["$defs"][name] if name else {}


def test_every_reference_leads_somewhere_and_every_definition_is_used() -> None:
    used = {schema["$ref"] for schema in schemas(SCHEMA) if "$ref" in schema}
    assert used == {f"#/$defs/{name}" for name in SCHEMA["$defs"]}


def _words(*path: str) -> list[str]:
    schema = SCHEMA["$defs"][path[0]]
    for name in path[1:]:
        schema = schema["properties"][name]
    words: list[str] = schema["enum"]
    return words


@pytest.mark.parametrize(
    ("path", "known"),
    [
        (("outcome",), [each.value for each in Outcome]),
        (("stage",), [each.value for each in Stage]),
        (("truth",), [each.value for each in Truth]),
        (("finding", "force"), [each.value for each in Force]),
        (("finding", "basis"), [each.value for each in Basis]),
        (("finding", "who_acts"), list(WHO_ACTS)),
        (("finding", "harm"), [each.value for each in Harm]),
        (("check", "relation"), [*RELATIONS, *FOLDS]),
        (("review", "in_force", "event"), list(EVENTS)),
    ],
)
def test_words_are_those_of_the_program(path: tuple[str, ...], known: list[str]) -> None:
    assert sorted(_words(*path)) == sorted(known)


def test_totals_name_every_outcome() -> None:
    totals = SCHEMA["$defs"]["review"]["properties"]["totals"]
    assert set(totals["properties"]) == {each.value for each in Outcome}


# --- reports ---------------------------------------------------------------------------------------------------------


def test_fixtures_keep_to_it(fixture_reviews: Mapping[str, Review]) -> None:
    assert {place: wrong(json.loads(json_report(each))) for place, each in fixture_reviews.items()} == {
        place: [] for place in fixture_reviews
    }


@pytest.mark.parametrize("seed", DRAWINGS)
def test_reviews_of_any_drawing_keep_to_it(seed: int, library: Library) -> None:
    catalog, stage = shipped_catalog(), list(Stage)[seed % len(Stage)]
    profile = read_profile(library.profiles / f"{PROFILES[seed % len(PROFILES)]}.yaml")
    rules = rules_in_force(profile, date(2026, 3, 11), library.packs)
    found = review_job(Job(seeded_drawing(seed, catalog), catalog, rules, stage))
    assert len(found.findings) > 1
    assert wrong(json.loads(json_report(found))) == []


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(reviews())
def test_anything_that_a_review_can_hold_keeps_to_it(found: Review) -> None:
    assert wrong(json.loads(json_report(found))) == []


def test_a_list_of_reviews_keeps_to_it() -> None:
    one = review(finding(Outcome.MET))
    assert wrong(json.loads(json_reports([one, one]))) == []
    assert wrong(json.loads(json_reports([]))) == []


# --- it refuses ------------------------------------------------------------------------------------------------------

FULL = review_data(
    review(finding(Outcome.NEEDS_INFORMATION, **EVERYTHING), finding(Outcome.AHJ_TO_DECIDE, readings=READINGS))
)


def _objects(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """The path to every object of a report."""
    if isinstance(node, dict):
        yield path
        for key, inner in node.items():
            yield from _objects(inner, (*path, key))
    elif isinstance(node, list):
        for place, inner in enumerate(node):
            yield from _objects(inner, (*path, place))


def _at(data: Any, path: tuple[Any, ...]) -> Any:
    for step in path:
        data = data[step]
    return data


_MAPS = frozenset({"subject", "worksheets"})


def test_the_full_report_keeps_to_it() -> None:
    assert wrong(FULL) == []


@pytest.mark.parametrize("path", list(_objects(FULL)), ids=lambda path: ".".join(map(str, path)) or "review")
def test_no_key_may_be_missing_and_none_may_be_new(path: tuple[Any, ...]) -> None:
    if path and path[-1] in _MAPS:
        return
    for key in _at(FULL, path):
        short = copy.deepcopy(FULL)
        del _at(short, path)[key]
        assert wrong(short), f"{key} may be missing"
    longer = copy.deepcopy(FULL)
    _at(longer, path)["severity"] = "high"
    assert wrong(longer)


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("stage",), "planning"),
        (("site", "digest"), "abc"),
        (("in_force", "date"), "3/14/2026"),
        (("totals", "met"), -1),
        (("findings", 0, "outcome"), "violation"),
        (("findings", 0, "number"), 0),
        (("findings", 0, "id"), "a finding"),
        (("findings", 0, "could_be"), []),
        (("findings", 0, "subject"), {}),
        (("findings", 0, "checks", 0, "found", "low"), 100),
        (("findings", 0, "checks", 0, "found", "low"), "1e3"),
        (("findings", 0, "checks", 0, "found", "at"), "line 3"),
        (("notices", 0, "kind"), "warning"),
    ],
)
def test_wrong_values_are_refused(path: tuple[Any, ...], value: Any) -> None:
    changed = copy.deepcopy(FULL)
    _at(changed, path[:-1])[path[-1]] = value
    assert wrong(changed)


def test_every_kind_of_notice_in_the_code_is_in_the_schema() -> None:
    """Notices are made in several rooms; one of a kind that the schema does not know would break its readers."""
    kinds = set(SCHEMA["$defs"]["review"]["properties"]["notices"]["items"]["properties"]["kind"]["enum"])
    made = {kind for path in (ROOT / "checker").rglob("*.py") for kind in _notice_kinds(path)}
    assert made <= kinds
    assert {"goes_over", "override", "permission_ended"} <= made


def _notice_kinds(path: Path) -> Iterator[str]:
    """The texts with which notices of one module begin."""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and node.args and isinstance(node.args[0], ast.Constant):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            kind = node.args[0].value
            if name in ("Notice", "LayerNotice", "_tell") and isinstance(kind, str) and kind.isidentifier():
                yield kind
