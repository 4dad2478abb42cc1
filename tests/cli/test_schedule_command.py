"""The command ``schedule``: what each piece must be, for people and for programs."""

from __future__ import annotations

import copy
import json
import re
from html.parser import HTMLParser
from typing import Any

import jsonschema
import pytest

from checker.files.folders import data_folder
from checker.tasks.scheduling import schedule as scheduling
from checker.tasks.scheduling.rows import Hanging, Rows, Section
from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.project.project_tree import ROOT
from tests.report.schema_shape import schemas

HARROW = str(ROOT / "fixtures" / "harrow-lane" / "site.yaml")
SCHEMA: dict[str, Any] = json.loads((data_folder("schemas") / "schedule.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
FEW_ROWS = Rows(
    (
        Section("Transfer switches", ("transfer_switch",), ("rated_current", "service_marking"), ()),
        Section("Disconnects and boards", ("panelboard",), ("neutral_bond", "rated_current"), ()),
    ),
    (Hanging("neutral and bond", "transfer_switch", ("neutral", "alternate.neutral_bond")),),
)


@pytest.fixture(autouse=True)
def _few_rows(monkeypatch: pytest.MonkeyPatch) -> None:
    """All rows take long, and what is printed has the same form."""
    monkeypatch.setattr(scheduling, "read_rows", lambda: FEW_ROWS)


def test_each_cell_has_what_is_left_what_is_shown_and_its_notes(run: Run) -> None:
    ran = run("schedule", HARROW)
    assert (ran.status, ran.err) == (0, "")
    said = " ".join(ran.out.split())
    assert "floating (" in said
    assert "shown bonded, which is not among them, and follows from what else is drawn" in said
    assert "P1: " in said.partition("Notes")[2]
    assert "250.24(A)(5)" in said
    assert "no-neutral-bond-past-the-service-disconnect" in said
    assert "Shown and not among what is left: P1 neutral bond" in said
    assert max(map(len, ran.out.splitlines())) <= 88


def test_json_keeps_to_its_schema(run: Run) -> None:
    printed = run("schedule", HARROW, "--format", "json").out
    data = json.loads(printed)
    assert [f"{list(each.absolute_path)}: {each.message[:200]}" for each in VALIDATOR.iter_errors(data)] == []
    assert data["tables"]
    assert data["together"]
    assert data["notes"]
    numbers = {each["number"] for each in data["notes"]}
    cells = [cell for table in data["tables"] for column in table["columns"] for cell in column["cells"]]
    assert numbers >= {note for cell in cells for note in cell["bound"]["must_notes"]}
    changed = copy.deepcopy(data)
    changed["notes"][0]["colour"] = "green"
    assert not VALIDATOR.is_valid(changed)


class _Page(HTMLParser):
    """The words of a page, what its links lead to, and what can be led to."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.said: list[str] = []
        self.links: set[str] = set()
        self.places: set[str] = set()
        self.outside: set[str] = set()
        self.tags: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        for name, value in attrs:
            if name == "href":
                self.links.add((value or "").removeprefix("#"))
            elif name == "id":
                self.places.add(value or "")
            elif name == "src":
                self.outside.add(value or "")

    def handle_data(self, data: str) -> None:
        self.said.append(data)


def test_the_page_says_what_the_text_says_and_links_each_bound_to_its_note(run: Run) -> None:
    page = _Page(run("schedule", HARROW, "--format", "html").out)
    text = " ".join(run("schedule", HARROW).out.split())
    said = " ".join(" ".join(page.said).split())
    for words in ("floating", "shown bonded, which is not among them", "What hangs together", "250.24(A)(5)"):
        assert words in said, words
        assert words in text, words
    assert page.links
    assert page.links <= page.places
    assert page.outside == set()
    assert not page.tags & {"script", "img", "link"}
    assert "table" in page.tags
    notes = {each for each in page.places if re.fullmatch(r"note-\d+", each)}
    assert notes == {
        f"note-{each['number']}" for each in json.loads(run("schedule", HARROW, "--format", "json").out)["notes"]
    }


def test_every_object_of_the_schema_is_closed_and_every_key_is_told() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    for schema in schemas(SCHEMA):
        if "properties" in schema:
            assert schema["additionalProperties"] is False
            assert schema["required"] == sorted(schema["properties"])
        for name, described in schema.get("properties", {}).items():
            assert described.get("title"), name
            assert described.get("description", "").endswith("."), name


def test_a_site_that_cannot_be_read_is_told_as_in_a_review(run: Run) -> None:
    ran = run("schedule", "nowhere.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert "nowhere.yaml" in ran.err
