"""The hook and the workflow that users copy: they are read by their own programs, and name commands that are there."""

from __future__ import annotations

import re
import shlex
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import yaml

from tests.cli.running import run_command
from tests.project.project_tree import ROOT

HOOKS = ROOT / ".pre-commit-hooks.yaml"


def _example(name: str) -> str:
    """The block of the README behind the mark of this name."""
    pattern = rf"<!-- example {name} -->\n```[a-z]+\n(.*?)```"
    found = re.search(pattern, (ROOT / "README.md").read_text("utf-8"), re.DOTALL)
    assert found is not None
    return found[1]


def _status(line: str, folder: Path) -> int:
    """The exit status of a command of the README, its output put where the command says."""
    command, _, output = line.partition(" > ")
    ran = run_command(*shlex.split(command)[1:], folder=folder)
    if output:
        (folder / output).write_text(ran.out, encoding="utf-8")
    return ran.status


@pytest.fixture(scope="module")
def project(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project with designs in which something is found, and the baseline that the README makes."""
    folder = tmp_path_factory.mktemp("project")
    for name in ("wren-cottage", "heron-cottage"):
        shutil.copytree(ROOT / "fixtures" / name, folder / "sites" / name)
    make, use = _example("baseline").splitlines()
    assert _status(make, folder) == 1
    assert _status(use, folder) == 0
    return folder


def test_the_step_is_stopped_by_what_is_new_and_by_nothing_else(project: Path) -> None:
    step = _example("step").strip()
    assert _status(step, project) == 0
    site = project / "sites" / "heron-cottage" / "site.yaml"
    before = site.read_text(encoding="utf-8")
    changed = before.replace("readily_accessible: yes", "readily_accessible: no")
    assert changed != before
    site.write_text(changed, encoding="utf-8")
    try:
        assert _status(step, project) == 1
        # A file that cannot be read never hides the others, and is no reason to call a change good.
        site.write_text("site: {name: x\n", encoding="utf-8")
        assert _status(step, project) == 2
    finally:
        site.write_text(before, encoding="utf-8")
    assert "wren-cottage" in (project / "review.xml").read_text(encoding="utf-8")


def test_a_baseline_that_is_not_there_is_told_with_how_it_is_made(tmp_path: Path) -> None:
    shutil.copytree(ROOT / "fixtures" / "heron-cottage", tmp_path / "sites" / "heron-cottage")
    make, use = _example("baseline").splitlines()
    ran = run_command(*shlex.split(use)[1:], folder=tmp_path)
    assert (ran.status, ran.out) == (2, "")
    told = make.replace("review sites", "review SITE")
    assert ran.err == f"There is no file sites/baseline.json.\n  Write one with: {told}\n"


def test_the_configuration_of_pre_commit_names_the_hook_and_takes_its_options(project: Path) -> None:
    text = _example("pre-commit")
    (project / ".pre-commit-config.yaml").write_text(text, encoding="utf-8")
    command = [sys.executable, "-m", "pre_commit", "validate-config", ".pre-commit-config.yaml"]
    done = subprocess.run(command, cwd=project, capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    (repository,) = yaml.safe_load(text)["repos"]
    (named,) = repository["hooks"]
    (hook,) = yaml.safe_load(HOOKS.read_text(encoding="utf-8"))
    assert named["id"] == hook["id"]
    # What the hook runs: its entry, the options, and the files of the commit.
    _, *entry = hook["entry"].split()
    ran = run_command(*entry, *named["args"], "sites/wren-cottage/site.yaml", folder=project)
    assert (ran.status, ran.err) == (0, "")


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
    (job,) = yaml.safe_load(_example("workflow"))["jobs"].values()
    (command,) = (each["run"] for each in job["steps"] if each.get("run", "").startswith("standby-checker"))
    words, _, output = command.partition(" > ")
    _, name, *options = words.split()
    known = run_command(name, "--help").out
    assert all(option in known for option in options if option.startswith("--"))
    assert output in {each.get("with", {}).get("sarif_file") for each in job["steps"]}
