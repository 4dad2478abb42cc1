"""Nothing is imported before it is needed: what a command leaves alone stays out of its process."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from checker.files.cache import SWITCH
from tests.project.project_tree import EXAMPLE, ROOT

_RUN = """
import contextlib, io, json, sys
from checker.cli.main import main
with contextlib.redirect_stdout(io.StringIO()):
    status = main(sys.argv[1:])
print(json.dumps([status, sorted(sys.modules)]))
"""
READS_PACKS = frozenset({"jsonschema", "checker.rules.reading.pack", "checker.rules.reading.shape_check"})
REVIEWS = frozenset(
    {
        "yaml",
        "cerberus",
        "checker.catalog.load",
        "checker.rules.model",
        # The open condition under which a sign is wanted is told in words.
        "checker.rules.vocabulary",
        "checker.findings.review",
    }
)

Command = Callable[..., frozenset[str]]


@pytest.fixture
def imported(tmp_path: Path) -> Command:
    """Runs a command in a process of its own, with a cache of its own; gives the modules that were then imported."""

    def run(*arguments: str) -> frozenset[str]:
        surroundings = {**os.environ, "XDG_CACHE_HOME": str(tmp_path), "PYTHONPATH": str(ROOT), SWITCH: ""}
        done = subprocess.run(
            (sys.executable, "-c", _RUN, *arguments),
            cwd=ROOT,
            env=surroundings,
            capture_output=True,
            text=True,
            check=True,
        )
        status, modules = json.loads(done.stdout)
        assert status in (0, 1, 3), done.stderr
        return frozenset(modules)

    return run


def test_the_version_needs_no_rules_and_no_files(imported: Command) -> None:
    assert not imported("--version") & (READS_PACKS | REVIEWS)


def test_packs_from_the_cache_need_nothing_that_reads_packs(imported: Command) -> None:
    first, second = (imported("review", EXAMPLE) for _ in range(2))
    assert first >= READS_PACKS | REVIEWS
    assert second >= REVIEWS
    assert not second & READS_PACKS


def test_each_report_brings_its_own_writer(imported: Command) -> None:
    text, data = imported("review", EXAMPLE), imported("review", EXAMPLE, "--format", "json")
    assert "checker.report.text" in text - data
    assert "checker.report.programs.data" in data - text
    assert "tabulate" in text - data
