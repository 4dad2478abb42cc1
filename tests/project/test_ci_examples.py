"""The hook and the workflow that users copy: they are read by their own programs, and name commands that are there."""

from __future__ import annotations

import re
import subprocess
import sys

import yaml

from tests.cli.running import run_command
from tests.project.project_tree import ROOT

HOOKS = ROOT / ".pre-commit-hooks.yaml"


def test_the_hooks_are_valid_by_the_program_that_reads_them() -> None:
    command = [sys.executable, "-m", "pre_commit", "validate-manifest", HOOKS.name]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")


def test_the_hook_takes_site_files_and_nothing_else() -> None:
    (hook,) = yaml.safe_load(HOOKS.read_text(encoding="utf-8"))
    takes = re.compile(hook["files"]).search
    assert takes("site.yaml")
    assert takes("jobs/a/site.yaml")
    assert not takes("jobs/website.yaml")
    assert not takes("jobs/site.yaml.bak")


def test_the_workflow_runs_a_review_as_the_command_line_takes_it() -> None:
    found = re.search(
        r"<!-- example workflow -->\n```yaml\n(.*?)```", (ROOT / "README.md").read_text("utf-8"), re.DOTALL
    )
    assert found is not None
    (job,) = yaml.safe_load(found[1])["jobs"].values()
    (command,) = (each["run"] for each in job["steps"] if each.get("run", "").startswith("standby-checker"))
    words, _, output = command.partition(" > ")
    _, name, *options = words.split()
    known = run_command(name, "--help").out
    assert all(option in known for option in options if option.startswith("--"))
    assert output in {each.get("with", {}).get("sarif_file") for each in job["steps"]}
