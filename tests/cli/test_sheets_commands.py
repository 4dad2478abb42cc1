"""The commands ``labels`` and ``submittal``: what they print of two fixtures, their schemas, and bad input."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from checker.catalog.load import shipped_catalog
from checker.files.folders import data_folder
from checker.findings.judging.outcomes import Outcome
from checker.tasks.papers.label_sheet import SignState
from checker.tasks.papers.submittal import PaperState
from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.cli.sheets_runs import HARROW, HERON, KEPT, MARSH
from tests.cli.town_runs import GOLDEN
from tests.report.schema_shape import schemas

SCHEMAS: dict[str, Any] = {
    name: json.loads((data_folder("schemas") / f"{name}.schema.json").read_text(encoding="utf-8"))
    for name in ("labels", "submittal")
}


@pytest.mark.parametrize("name", KEPT)
def test_what_is_printed_is_what_is_kept(name: str, run: Run) -> None:
    ran = run(*KEPT[name])
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == (GOLDEN / name).read_text(encoding="utf-8")


@pytest.mark.parametrize("command", ["labels", "submittal"])
def test_lines_fit_a_terminal(command: str, run: Run) -> None:
    assert max(map(len, run(command, MARSH).out.splitlines())) <= 88


def test_each_paper_is_there_or_a_draft_or_not_in_the_packet(run: Run) -> None:
    told = " ".join(run("submittal", MARSH).out.split())
    assert "survey or site plan: in the packet, as asked for." in told
    assert "load calculation: draft, not told to be in the packet" in told
    assert "Make a draft: `standby-checker worksheet SITE > load-calculation.txt`." in told
    assert "gas diagram: not in the packet." in told
    assert "6 papers asked for: 1 to be drafted, 3 in the packet, 1 not as asked for and 1 not in the packet." in told
    there = " ".join(run("submittal", HARROW).out.split())
    assert "one-line drawing: in the packet, as asked for." in there
    assert "Make a draft" not in there


@pytest.mark.parametrize("complete", ["yes", "no"])
def test_what_offices_commonly_want_is_marked_alike(complete: str, run: Run, site: Callable[..., Path]) -> None:
    path = site()
    papers = f"papers: {{complete: {complete}, list: [{{paper: survey}}]}}\n"
    path.write_text(path.read_text(encoding="utf-8") + papers, encoding="utf-8")
    told = " ".join(run("submittal", "site.yaml").out.split())
    yet, absent = (
        ("not in the packet yet", "not in the packet") if complete == "yes" else ("not told to be in the packet",) * 2
    )
    assert "survey or site plan: in the packet; where the set stands" in told
    assert f"one-line drawing: draft, {yet}; what feeds what" in told
    assert "`standby-checker review SITE --format html > one-line.html`" in told
    assert f"gas diagram: {absent}; sizes and lengths" in told
    page = run("submittal", "site.yaml", "--format", "html").out
    assert f"one-line drawing: draft, {yet}; " in page
    assert "standby-checker review" not in page


@pytest.mark.parametrize("command", SCHEMAS)
@pytest.mark.parametrize("site", [HARROW, MARSH])
def test_json_keeps_to_its_schema(command: str, site: str, run: Run) -> None:
    validator = jsonschema.Draft202012Validator(SCHEMAS[command])
    data = json.loads(run(command, site, "--format", "json").out)
    assert [f"{list(each.absolute_path)}: {each.message[:200]}" for each in validator.iter_errors(data)] == []
    changed = copy.deepcopy(data)
    changed["site"]["colour"] = "green"
    assert not validator.is_valid(changed)


@pytest.mark.parametrize("command", SCHEMAS)
def test_schema_is_closed_and_every_key_is_compulsory_and_told(command: str) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMAS[command])
    for schema in schemas(SCHEMAS[command]):
        if "properties" in schema:
            assert schema["additionalProperties"] is False
            assert schema["required"] == sorted(schema["properties"])
        for name, described in schema.get("properties", {}).items():
            assert described.get("title"), name
            assert described.get("description", "").endswith("."), name


def test_choices_are_those_of_the_program() -> None:
    for command, states in (("labels", SignState), ("submittal", PaperState)):
        asking = SCHEMAS[command]["$defs"]["asking"]["properties"]
        assert set(asking["outcome"]["enum"]) == {each.value for each in Outcome}
        assert set(asking["state"]["enum"]) == {each.value for each in states}


@pytest.mark.parametrize("command", ["labels", "submittal"])
def test_a_site_that_cannot_be_read_is_told(command: str, run: Run) -> None:
    ran = run(command, "nowhere.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "nowhere.yaml" in ran.err


@pytest.mark.parametrize("command", ["labels", "submittal"])
def test_a_format_that_does_not_exist_is_told(command: str, run: Run) -> None:
    ran = run(command, HARROW, "--format", "pdf")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "'pdf' is not one of" in ran.err


COMMON = "What offices commonly want, by common practice and demanded by no rule here"


def test_where_no_rule_asks_for_a_paper_common_practice_is_told_as_such(run: Run) -> None:
    told = run("submittal", HERON).out
    assert COMMON in told
    assert "asks for a paper" in told
    data = json.loads(run("submittal", HERON, "--format", "json").out)
    assert data["papers"] == []
    wanted = {"survey", "one_line", "load_calculation", "generator_data_sheet", "gas_diagram"}
    assert wanted <= {each["paper"] for each in data["common"]}
    assert {each["paper"] for each in data["common"]} <= shipped_catalog().facts["paper"].choices.keys()


def test_what_is_common_and_asked_for_by_no_rule_is_told_beside_what_a_rule_asks_for(run: Run) -> None:
    data = json.loads(run("submittal", MARSH, "--format", "json").out)
    asked = {name for each in data["papers"] for name in each["papers"]}
    common = {each["paper"] for each in data["common"]}
    assert asked
    assert common
    assert not asked & common
    assert {"survey", "one_line", "load_calculation"} <= asked | common
    assert COMMON in run("submittal", MARSH).out


def test_the_page_of_papers_is_for_the_office_and_tells_no_commands(run: Run) -> None:
    page = run("submittal", MARSH, "--format", "html").out
    assert "load calculation: draft, not told to be in the packet." in page
    assert "standby-checker" not in page
    assert "complete: yes" not in page
    assert "standby-checker worksheet" in run("submittal", MARSH).out


def test_the_list_of_papers_as_a_page_says_what_the_text_says_and_asks_for_nothing_outside(run: Run) -> None:
    page = run("submittal", MARSH, "--format", "html").out
    assert page.startswith("<!doctype html>")
    assert "http" not in page.replace("http-equiv", "")
    data = json.loads(run("submittal", MARSH, "--format", "json").out)
    for paper in data["papers"]:
        assert paper["title"] in page
    assert "Marsh Ferry Town Code (Marsh Ferry, building department" in page
    assert COMMON in run("submittal", HERON, "--format", "html").out
