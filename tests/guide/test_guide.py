"""MAINTAINERS.md acted out: what it writes is written, what it runs is run, what it says is printed."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from checker.cli.main import main
from checker.tasks.gathering.library import Library
from tests.guide.steps import Step, blocks_of, steps_of
from tests.project.project_tree import ROOT

PAGE = ROOT / "MAINTAINERS.md"
STEPS = steps_of(PAGE)


@dataclass(frozen=True, slots=True)
class Acted:
    """A step that says what is printed, and what was."""

    step: Step
    printed: str


@pytest.fixture(scope="module")
def acted(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Acted, ...]]:
    """Every step, one after the other, in one folder."""
    with pytest.MonkeyPatch.context() as patch:
        patch.chdir(tmp_path_factory.mktemp("guide"))
        library = Library.shipped()
        patch.setattr(Library, "shipped", staticmethod(lambda: library))
        yield tuple(_act(STEPS, patch))


def _act(steps: tuple[Step, ...], patch: pytest.MonkeyPatch) -> Iterator[Acted]:
    printed = ""
    for step in steps:
        if step.what == "run":
            printed = _run(step, patch)
        elif step.what == "prints":
            yield Acted(step, printed)
        else:
            path = Path(step.name)
            path.parent.mkdir(exist_ok=True)
            with path.open("a" if step.what == "add" else "x", encoding="utf-8") as stream:
                stream.write(step.text)


def _run(step: Step, patch: pytest.MonkeyPatch) -> str:
    written: list[str] = []
    patch.setattr("checker.cli.console.result", written.append)
    patch.setattr("checker.cli.console.say", written.append)
    for line in step.text.splitlines():
        program, *arguments = shlex.split(line)
        assert program == "standby-checker"
        main(arguments)
    return "".join(written)


@pytest.mark.parametrize(
    "step", [each for each in STEPS if each.what == "prints"], ids=lambda step: f"line {step.line}"
)
def test_printed_as_the_guide_says(step: Step, acted: tuple[Acted, ...]) -> None:
    """Each line is printed, in that order; a line `...` stands for what is left out."""
    (printed,) = (each.printed for each in acted if each.step == step)
    wanted = [line.rstrip() for line in step.text.splitlines() if line.strip() not in ("", "...")]
    lines = iter(line.rstrip() for line in printed.splitlines())
    missing = [line for line in wanted if line not in lines]
    assert wanted
    assert not missing, f"{missing}\n\n{printed}"


def test_every_block_is_a_step() -> None:
    assert len(STEPS) == blocks_of(PAGE)
    assert {each.what for each in STEPS} == {"file", "add", "run", "prints"}


@pytest.mark.parametrize("command", ["lint", "test"])
def test_guide_ends_with_rules_that_are_in_order(command: str, acted: tuple[Acted, ...]) -> None:
    assert acted
    assert main(["rules", command, "sedge-hollow"]) == 0


def test_readme_leads_to_the_guide() -> None:
    assert "MAINTAINERS.md" in (ROOT / "README.md").read_text(encoding="utf-8")
