"""The command ``review`` as a build server runs it: folders of sites, formats for programs, what was known before."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest

from tests.cli.conftest import Run
from tests.cli.running import EXAMPLE, USAGE
from tests.cli.test_review_command import BONDED
from tests.project.project_tree import ROOT

Site = Callable[..., Path]


# --- several sites ---------------------------------------------------------------------------------------------------


def test_a_folder_stands_for_every_site_below_it(run: Run, site: Site) -> None:
    for name in ("jobs/b/site.yaml", "jobs/a/site.yaml", "jobs/a/phase-2/site.yaml", "jobs/.old/site.yaml"):
        site(name=name)
    site(name="jobs/loose.yaml")
    ran = run("review", "jobs", "--format", "json")
    files = [each["site"]["file"] for each in json.loads(ran.out)]
    assert files == ["jobs/a/phase-2/site.yaml", "jobs/a/site.yaml", "jobs/b/site.yaml"]


def test_a_site_that_is_named_twice_is_reviewed_once(run: Run, site: Site) -> None:
    site(name="jobs/a/site.yaml")
    ran = run("review", "jobs", "jobs/a", "jobs/a/site.yaml", "--format", "jsonl")
    assert [json.loads(line)["record"] for line in ran.out.splitlines()].count("site") == 1


@pytest.mark.parametrize("form", ["sarif", "junit", "jsonl"])
def test_a_bad_file_stands_beside_the_others_in_one_document(form: str, run: Run, site: Site) -> None:
    site(name="a.yaml")
    site("kind: panelboard", "kind: panelbord", name="b.yaml")
    ran = run("review", "a.yaml", "b.yaml", "missing.yaml", "--format", form)
    assert ran.status == USAGE
    assert "panelbord is not a kind of equipment." in ran.err
    assert "There is no file missing.yaml." in ran.err
    found: list[str]
    if form == "sarif":
        found = [each["automationDetails"]["id"].partition("/")[2] for each in json.loads(ran.out)["runs"]]
    elif form == "junit":
        found = [each.get("name", "") for each in ET.fromstring(ran.out)]
    else:
        found = list(dict.fromkeys(json.loads(line)["file"] for line in ran.out.splitlines()))
    assert sorted(found) == ["a.yaml", "b.yaml", "missing.yaml"]


@pytest.mark.parametrize("form", ["sarif", "junit", "jsonl"])
def test_each_format_is_the_same_bytes_each_time_and_says_nothing_beside(form: str, run: Run, site: Site) -> None:
    site()
    first, second = (run("review", "site.yaml", "--format", form) for _ in range(2))
    assert first == second
    assert first.err == ""


def test_a_page_shows_one_site(run: Run, site: Site) -> None:
    site(name="a.yaml")
    site(name="b.yaml")
    one = run("review", "a.yaml", "--format", "html")
    assert (one.status, one.err) == (3, "")
    assert one.out.startswith("<!doctype html>\n")
    several = run("review", "a.yaml", "b.yaml", "--format", "html")
    assert (several.status, several.out) == (USAGE, "")
    assert several.err.startswith("A page shows one site, and several are named.")


# --- an earlier report -----------------------------------------------------------------------------------------------


def test_only_what_is_new_makes_the_status(run: Run, site: Site, tmp_path: Path) -> None:
    site(name="site.yaml")
    before = tmp_path / "before.json"
    before.write_text(run("review", "site.yaml", "--format", "json").out, encoding="utf-8")
    same = run("review", "site.yaml", "--baseline", "before.json")
    assert same.status == 0
    assert "Against before.json: none of them is new." in same.out
    site(*BONDED, name="site.yaml")
    worse = run("review", "site.yaml", "--baseline", "before.json")
    assert worse.status == 1
    assert "Against before.json: new are " in worse.out or "Against before.json: new is " in worse.out


def test_a_site_that_the_earlier_report_does_not_hold_counts_whole(run: Run, site: Site, tmp_path: Path) -> None:
    site(name="a.yaml")
    site(name="b.yaml")
    (tmp_path / "before.json").write_text(run("review", "a.yaml", "--format", "json").out, encoding="utf-8")
    ran = run("review", "a.yaml", "b.yaml", "--baseline", "before.json")
    assert ran.status == 3
    assert "before.json does not hold b.yaml, so everything in it counts as new." in ran.out


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (None, "There is no file before.json."),
        ("", "before.json is no report of this program as JSON."),
        ("[1, 2]", "before.json is no report of this program as JSON."),
        ('{"site": {"file": "a"}}', "before.json is no report of this program as JSON."),
        ("[" * 100_000, "before.json is no report of this program as JSON."),
        ("\ufffe", "before.json is no report of this program as JSON."),
    ],
)
def test_an_earlier_report_that_is_none(text: str | None, sentence: str, run: Run, site: Site, tmp_path: Path) -> None:
    site()
    if text is not None:
        (tmp_path / "before.json").write_text(text, encoding="utf-8")
    ran = run("review", "site.yaml", "--baseline", "before.json")
    assert (ran.status, ran.out) == (USAGE, "")
    assert ran.err.startswith(sentence)


# --- progress --------------------------------------------------------------------------------------------------------


def _errors_on_a_terminal() -> tuple[bytes, bytes]:
    """What the example writes to a pipe as its result, and what to a terminal as standard error."""
    ours, theirs = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm"}
    command = [sys.executable, "-m", "checker", "review", EXAMPLE]
    with subprocess.Popen(command, cwd=ROOT, env=environment, stdout=subprocess.PIPE, stderr=theirs) as process:
        os.close(theirs)
        assert process.stdout is not None
        result = process.stdout.read()
    told = b""
    try:
        while part := os.read(ours, 65536):
            told += part
    except OSError:
        pass  # A terminal that nobody writes to any more ends so.
    finally:
        os.close(ours)
    return result, told


def test_progress_shows_on_a_terminal_and_is_wiped_before_the_result() -> None:
    result, told = _errors_on_a_terminal()
    assert b"Reading fixtures/harrow-lane/site.yaml" in told
    assert told.endswith(b"\r\x1b[2K")
    assert b"Reading" not in result
