"""The command ``questions`` as a person meets it: on a terminal, with every answer in the file at once."""

from __future__ import annotations

import os
import pty
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from checker.cli import questions as command
from tests.cli.conftest import Run
from tests.cli.running import USAGE
from tests.project.project_tree import ROOT

Type = Callable[..., str]

FIXTURE = ROOT / "fixtures" / "plover-row"
FIRST = "raceway or armor that counts as equipment"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """A fixture with findings that wait, in a folder of its own, where the command looks for it."""
    return Path(shutil.copytree(FIXTURE, tmp_path / "job")) / "site.yaml"


@pytest.fixture
def answers(run: Run, monkeypatch: pytest.MonkeyPatch) -> Type:
    """Runs the command with these lines typed and gives what it prints."""

    def typed(*lines: str) -> str:
        left: Iterator[str | None] = iter((*lines, None))
        monkeypatch.setattr(command, "typed_line", lambda: next(left))
        ran = run("questions", "job")
        assert (ran.status, ran.err) == (0, "")
        return ran.out

    return typed


def test_an_answer_stands_in_the_file_and_nothing_else_changes(job: Path, answers: Type) -> None:
    before = job.read_text(encoding="utf-8")
    told = answers("no")
    after = before.replace("\nbonds:", "\n  ATS1>SUB: {raceway_grounds: no}\nbonds:")
    assert job.read_text(encoding="utf-8") == after != before
    assert FIRST in told
    assert re.search(r"settles 0 to 3 findings, 3 of them could be corrections; seen on site", told)


@pytest.mark.usefixtures("job")
def test_progress_is_the_number_of_findings_that_wait(answers: Type) -> None:
    told = answers("yes")
    counts = [int(found) for found in re.findall(r"(\d+) findings still wait", told)]
    assert counts[0] > counts[1] == counts[-1]
    assert "%" not in told.replace("in %", "")


def test_skip_changes_nothing_and_is_not_asked_again(job: Path, answers: Type) -> None:
    before = job.read_bytes()
    told = answers("skip", "unknown")
    assert job.read_bytes() == before
    asked, _, end = told.partition("\nStopped. ")
    assert asked.count(FIRST) == 1
    assert re.findall(r"^(\d+)\. ", told, re.MULTILINE) == ["1", "2", "3"]
    assert "Left out in this run, and asked again in the next: 2 questions.\n   " in end
    assert end.count("?") == 2


def test_undo_gives_the_file_back_byte_for_byte_and_asks_again(job: Path, answers: Type) -> None:
    before = job.read_bytes()
    told = answers("no", "undo", "undo")
    assert job.read_bytes() == before
    assert told.count(FIRST) == 2
    assert told.count("There is no answer to take back: ") == 1
    assert re.search(r"Taken back: no, to: Is this so of the line from ATS1 to SUB: raceway or armor", told)


@pytest.mark.usefixtures("job")
def test_why_names_the_findings_that_wait_with_their_sections(answers: Type) -> None:
    told = answers("why")
    assert re.search(
        r"The line has an equipment grounding conductor .*\n?.*\(ATS1 to\n?\s+SUB\): NFPA 70 2020 250\.122", told
    )
    assert told.count(FIRST) == 1


@pytest.mark.parametrize(
    ("typed", "said"), [("zz", "zz is none of the choices."), ("yes or maybe", "maybe is none of")]
)
def test_an_answer_that_cannot_be_read_says_so_and_asks_again(typed: str, said: str, job: Path, answers: Type) -> None:
    before = job.read_bytes()
    told = answers(typed)
    assert said in told
    assert len(re.findall(r"^   a  yes$", told, re.MULTILINE)) == 2  # the choices are repeated
    assert job.read_bytes() == before


def test_a_file_that_other_hands_changed_keeps_their_change(
    job: Path, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    lines = iter(("no", "undo", None))

    def line() -> str | None:
        typed = next(lines)
        if typed == "undo":
            job.write_bytes(job.read_bytes() + b"# by other hands\n")
        return typed

    monkeypatch.setattr(command, "typed_line", line)
    told = run("questions", "job").out
    assert "was changed by other hands since" in told
    assert job.read_bytes().endswith(b"# by other hands\n")
    assert b"raceway_grounds: no" in job.read_bytes()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (None, "There is no"),
        (b"site: [\n", "site.yaml"),
        (b"\xff\xfe", "UTF-16"),
        (b"site: {name: a}\n", "jurisdiction"),
    ],
)
def test_a_bad_site_is_told_and_nothing_is_asked(content: bytes | None, said: str, run: Run, tmp_path: Path) -> None:
    if content is not None:
        (tmp_path / "site.yaml").write_bytes(content)
    ran = run("questions", "site.yaml")
    assert (ran.status, ran.out) == (USAGE, "")
    assert said in ran.err


# --- a real terminal -------------------------------------------------------------------------------------------------


@contextmanager
def _on_a_terminal(job: Path) -> Iterator[tuple[int, subprocess.Popen[bytes]]]:
    ours, theirs = pty.openpty()
    environment = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm"}
    line = [sys.executable, "-m", "checker", "questions", "site.yaml"]
    process = subprocess.Popen(
        line, cwd=job.parent, env=environment, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True
    )
    os.close(theirs)
    try:
        yield ours, process
    finally:
        process.kill()
        process.wait()
        os.close(ours)


def _until(terminal: int, mark: bytes) -> bytes:
    told = b""
    while mark not in told:
        told += os.read(terminal, 65536)
    return told


def test_questions_are_driven_line_by_line_and_a_kill_in_between_loses_nothing(job: Path) -> None:
    with _on_a_terminal(job) as (terminal, process):
        told = _until(terminal, b"> ")
        assert told.startswith(b"Reading the rules and site.yaml.")
        assert FIRST.encode() in told
        assert b"\x1b" not in told
        os.write(terminal, b"no\n")
        _until(terminal, b"2. ")
        process.send_signal(signal.SIGKILL)
        process.wait()
    assert b"ATS1>SUB: {raceway_grounds: no}" in job.read_bytes()
    assert [path.name for path in job.parent.iterdir() if path.name.startswith(".")] == []
    with _on_a_terminal(job) as (terminal, process):
        told = _until(terminal, b"> ")
        assert FIRST.encode() not in told
        os.write(terminal, b"stop\n")
        told = _until(terminal, b"Stopped. ")
        for _ in range(600):
            if process.poll() is not None:
                break
            time.sleep(0.1)
        assert process.poll() == 0
