"""What the command ``review`` prints, by format: site by site where the format allows, or at the end."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from typing import TYPE_CHECKING, Protocol

from checker.cli import console
from checker.values.problems import Problem

if TYPE_CHECKING:
    from checker.findings.finding import Review
    from checker.report.exit_status import Gate
    from checker.report.text import Style


class Format(StrEnum):
    """What a review is printed as."""

    TEXT = "text"
    JSON = "json"
    LINES = "jsonl"
    SARIF = "sarif"
    JUNIT = "junit"
    HTML = "html"


class Output(Protocol):
    """Takes each review, and each file that could not be reviewed, and prints them."""

    def review(self, found: Review) -> None:
        """One site was reviewed."""

    def unread(self, file: str, problems: Iterable[Problem]) -> None:
        """One file could not be reviewed; what is wrong was said on standard error already."""

    def end(self) -> None:
        """All were reviewed."""


def output(form: Format, gate: Gate, *, everything: bool, several: bool) -> Output:
    """The output for a format."""
    match form:
        case Format.TEXT:
            return _Letters(gate, everything=everything)
        case Format.LINES:
            return _Lines()
        case Format.JSON:
            return _Json(several=several)
        case Format.SARIF | Format.JUNIT:
            return _Interchange(form, gate)
        case Format.HTML:
            return _Pages()


class _Letters:
    def __init__(self, gate: Gate, *, everything: bool) -> None:
        self._gate = gate
        self._everything = everything
        self._between = ""

    def review(self, found: Review) -> None:
        from checker.report.text import text_report

        text = text_report(found, terminal(), everything=self._everything, earlier=self._gate.earlier)
        console.result(self._between + text)
        self._between = "\n"

    def unread(self, file: str, problems: Iterable[Problem]) -> None:
        """Nothing: a person has read it."""

    def end(self) -> None:
        """Nothing: all is printed."""


class _Lines:
    def review(self, found: Review) -> None:
        from checker.report.programs.lines import json_lines

        console.result(json_lines(found))

    def unread(self, file: str, problems: Iterable[Problem]) -> None:
        from checker.report.programs.lines import problem_lines

        console.result(problem_lines(file, problems))

    def end(self) -> None:
        """Nothing: all is printed."""


class _Json:
    """One review as an object, several as a list; nothing where the only site could not be read."""

    def __init__(self, *, several: bool) -> None:
        self._several = several
        self._found: list[Review] = []

    def review(self, found: Review) -> None:
        self._found.append(found)

    def unread(self, file: str, problems: Iterable[Problem]) -> None:
        """Nothing: the list holds reviews only."""

    def end(self) -> None:
        from checker.report.programs.data import json_report, json_reports

        if self._several:
            console.result(json_reports(self._found))
        elif self._found:
            console.result(json_report(self._found[0]))


class _Pages:
    """The page of the one site."""

    def review(self, found: Review) -> None:
        from checker.report.page.page import html_report

        console.result(html_report(found))

    def unread(self, file: str, problems: Iterable[Problem]) -> None:
        """Nothing: a person has read it."""

    def end(self) -> None:
        """Nothing: all is printed."""


class _Interchange:
    """One document for all, what could not be reviewed included."""

    def __init__(self, form: Format, gate: Gate) -> None:
        self._form = form
        self._gate = gate
        self._found: list[Review] = []
        self._unread: list[tuple[str, Problem]] = []

    def review(self, found: Review) -> None:
        self._found.append(found)

    def unread(self, file: str, problems: Iterable[Problem]) -> None:
        self._unread += [(file, problem) for problem in problems]

    def end(self) -> None:
        if self._form is Format.SARIF:
            from checker.report.programs.sarif import sarif_report

            console.result(sarif_report(self._found, self._unread, self._gate.earlier))
        else:
            from checker.report.programs.junit import junit_report

            console.result(junit_report(self._found, self._unread, self._gate))


def terminal() -> Style:
    """How words are set off where the result goes: weights on a terminal, nothing in a file."""
    from checker.report.text import PLAIN, Style, terminal_style

    if console.on_terminal():
        return terminal_style(marks=console.can_print_marks())
    return PLAIN if console.can_print_marks() else Style(marks=False)
