"""Where the output goes: pipes, full disks, readers that leave, locales, and what is told to a terminal only."""

from __future__ import annotations

import os
from collections.abc import Mapping
from errno import ENOSPC
from io import BytesIO, TextIOWrapper
from pathlib import Path

import pytest

from checker.cli import console
from checker.cli.main import main
from tests.cli.running import EXAMPLE, USAGE, run_command

ASCII = {"LC_ALL": "C", "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


class Terminal(TextIOWrapper):
    """Standard output of a person with a terminal of some encoding."""

    def __init__(self, encoding: str) -> None:
        super().__init__(BytesIO(), encoding=encoding)

    def isatty(self) -> bool:
        return True


# --- terminals -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("environment", "weights"),
    [
        ({"TERM": "xterm"}, True),
        ({"TERM": "dumb"}, False),
        ({}, False),
        ({"TERM": "xterm", "NO_COLOR": "1"}, False),
        ({"TERM": "xterm", "NO_COLOR": ""}, True),
    ],
)
def test_weights_are_for_terminals_that_show_them(
    environment: Mapping[str, str], weights: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An empty NO_COLOR is as none, by https://no-color.org."""
    monkeypatch.setattr("sys.stdout", Terminal("utf-8"))
    for name in ("TERM", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    for name, value in environment.items():
        monkeypatch.setenv(name, value)
    assert console.on_terminal() is weights


@pytest.mark.parametrize(("encoding", "marks"), [("utf-8", True), ("UTF8", True), ("ascii", False), ("cp1252", False)])
def test_marks_are_for_terminals_that_can_print_them(
    encoding: str, marks: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdout", Terminal(encoding))
    assert console.can_print_marks() is marks


def test_nothing_is_a_terminal_where_there_is_no_output(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", None)
    assert not console.on_terminal()
    assert console.can_print_marks()


# --- pipes and files -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("environment", [{}, {"TERM": "xterm-256color", "FORCE_COLOR": "1", "CLICOLOR_FORCE": "1"}])
def test_a_pipe_gets_no_escape_codes(environment: Mapping[str, str]) -> None:
    ran = run_command("review", EXAMPLE, "--all", environment=environment)
    assert ran.status == 1
    assert "\x1b" not in ran.out
    assert "■ 1 " in ran.out


@pytest.mark.parametrize(
    "arguments",
    [("review", EXAMPLE), ("review", EXAMPLE, "--format", "json"), ("--help",), ("rules", "lint", "rulesets/nfpa-110")],
)
def test_a_reader_that_has_left_is_no_error_and_no_success(arguments: tuple[str, ...]) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "wb") as gone:
        ran = run_command(*arguments, out=gone)
    assert (ran.status, ran.err) == (USAGE, "")


class FullDisk(BytesIO):
    """A disk with no room left."""

    def write(self, _: object) -> int:
        raise OSError(ENOSPC, "No space left on device")


def test_a_full_disk_is_told(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    monkeypatch.setattr("sys.stdout", TextIOWrapper(FullDisk(), encoding="utf-8"))
    assert main(["--version"]) == USAGE
    told = "The result cannot be written: No space left on device.\n  Check the disk and where the output goes.\n"
    assert capsys.readouterr().err == told


def test_no_output_at_all_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdout", None)
    with pytest.raises(console.NotWritten, match="standard output is closed"):
        console.result("text")


def test_nothing_to_tell_errors_to_does_not_matter(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stderr", None)
    console.say("nobody hears this")


# --- locales ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("options", [(), ("--all",), ("--format", "json")])
def test_results_are_utf8_whatever_the_locale(options: tuple[str, ...]) -> None:
    plain = run_command("review", EXAMPLE, *options)
    ascii_only = run_command("review", EXAMPLE, *options, environment=ASCII)
    assert ascii_only == plain


def test_messages_do_not_break_where_the_locale_cannot_write_them(tmp_path: Path) -> None:
    (tmp_path / "café.yaml").write_text("site: {name: x}\nbö: 1\n", encoding="utf-8")
    ran = run_command("review", "café.yaml", folder=tmp_path, environment=ASCII)
    assert ran.status == USAGE
    assert "Traceback" not in ran.err
    assert "is not a section of a site file." in ran.err


def test_a_file_name_that_is_no_text_does_not_break_it() -> None:
    ran = run_command("review", os.fsdecode(b"t\xe9rn.yaml"))
    assert ran.status == USAGE
    assert ran.err.startswith("There is no file t")
    assert "Traceback" not in ran.err
