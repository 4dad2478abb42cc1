"""Only the command line prints, and nothing is imported that the project does not declare."""

from importlib.metadata import packages_distributions
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.project.project_tree import ROOT, project_table
from tests.project.rooms import from_elsewhere, imported, modules, speaking

PACKAGE = ROOT / "checker"
SPEAKS = PACKAGE / "cli"


def _silent_modules() -> list[Path]:
    return [path for path in modules(PACKAGE) if not path.is_relative_to(SPEAKS)]


def test_only_the_command_line_prints() -> None:
    silent = _silent_modules()
    assert silent
    found = [
        f"{path.relative_to(ROOT)}:{place}" for path in silent for place in speaking(path.read_text(encoding="utf-8"))
    ]
    assert not found


def test_the_command_line_is_there_and_prints() -> None:
    texts = [path.read_text(encoding="utf-8") for path in modules(SPEAKS)]
    assert any(speaking(text) for text in texts)


@pytest.mark.parametrize(
    ("source", "what"),
    [
        ("print('a')", "print"),
        ("say = print", "print"),
        ("input()", "input"),
        ("import sys\nsys.stdout.write('a')", "sys.stdout"),
        ("import sys\ndef f():\n    return sys.stderr", "sys.stderr"),
        ("from sys import argv, stdout", "sys.stdout"),
        ("import typer", "typer"),
        ("def f():\n    from rich.console import Console", "rich.console"),
        ("import logging.handlers", "logging.handlers"),
    ],
)
def test_what_speaks_is_found(source: str, what: str) -> None:
    assert [place.partition(": ")[2] for place in speaking(source)] == [what]


@pytest.mark.parametrize(
    "source",
    ["'print'", "import sys\nsys.exit(1)", "page.print_to(sheet)", "page.stdout", "class Feed:\n    input: str"],
)
def test_what_does_not_speak_is_left_alone(source: str) -> None:
    assert speaking(source) == []


def test_what_is_imported_is_declared() -> None:
    declared = {canonicalize_name(Requirement(text).name) for text in project_table()["project"]["dependencies"]}
    names = {name for path in modules(PACKAGE) for name in imported(path.read_text(encoding="utf-8"))}
    provided = packages_distributions()
    undeclared = {
        name
        for name in from_elsewhere(names)
        if declared.isdisjoint(canonicalize_name(each) for each in provided.get(name, []))
    }
    assert not undeclared


def test_what_is_declared_is_imported() -> None:
    names = {name for path in modules(PACKAGE) for name in imported(path.read_text(encoding="utf-8"))}
    used = {canonicalize_name(each) for name in names for each in packages_distributions().get(name, [])}
    declared = {canonicalize_name(Requirement(text).name) for text in project_table()["project"]["dependencies"]}
    assert declared <= used, f"declared and not imported: {sorted(declared - used)}"


def test_imports_are_found_wherever_they_stand() -> None:
    source = "import os.path\nfrom yaml import nodes\ndef f():\n    import typer\nfrom checker.values import truth"
    assert imported(source) == {"os", "yaml", "typer", "checker"}
    assert from_elsewhere(imported(source)) == {"yaml", "typer"}
