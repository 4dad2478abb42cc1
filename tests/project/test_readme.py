"""What README.md gives to type and shows as printed is true."""

import shlex
import subprocess
import sys

import pytest

from tests.project.project_tree import EXAMPLE, ROOT, readme_block


@pytest.mark.parametrize("mark", ["example command", "test command"])
def test_each_command_is_one_line_that_starts_from_nothing(mark: str) -> None:
    (line,) = readme_block(mark).splitlines()
    assert line.startswith("python3 -m venv .venv && .venv/bin/pip install ")


def test_example_command_reviews_the_example_that_the_wheel_carries() -> None:
    last = readme_block("example command").rpartition("&&")[2]
    assert shlex.split(last) == [".venv/bin/standby-checker", "review", EXAMPLE]
    assert (ROOT / EXAMPLE).is_file()


def test_block_that_is_not_there_is_missed() -> None:
    with pytest.raises(LookupError):
        readme_block("no such comment")


def test_sample_output_is_what_the_example_command_prints() -> None:
    """Each line of the sample is printed, in that order; a line `...` stands for what is left out."""
    sample = [line.rstrip() for line in readme_block("sample output").splitlines() if line.strip() not in ("", "...")]
    assert sample
    printed = iter(line.rstrip() for line in _printed_by_example())
    missing = [line for line in sample if line not in printed]
    assert not missing


def _printed_by_example() -> list[str]:
    asked = subprocess.run(
        [sys.executable, "-m", "checker", "review", EXAMPLE],
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
        env={"LANG": "C.UTF-8"},
        stdin=subprocess.DEVNULL,
        timeout=120,
        check=False,
    )
    return asked.stdout.splitlines()
