"""The command ``review``: every file reported, one bad file never hides the others."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from checker.cli import console
from checker.files.folders import regular_file
from checker.report.exit_status import COULD_NOT_RUN, applies_nothing, exit_status
from checker.review.finding import Review
from checker.tasks.reviewing import Library, Overrides, review_file
from checker.values.problems import Problem, Unreadable

if TYPE_CHECKING:
    from checker.report.text import Style

SITE_FILE = "site.yaml"


@dataclass(frozen=True, slots=True)
class Asked:
    """What the command line asked for."""

    sites: tuple[Path, ...]
    overrides: Overrides
    as_json: bool
    everything: bool
    fail_on_open: bool


def review_files(asked: Asked) -> int:
    """Review and print every site; the exit status is that of the worst."""
    try:
        library = Library.shipped()
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    reviews: list[Review] = []
    for path in asked.sites:
        try:
            found = review_file(site_file(path), library, asked.overrides)
        except Unreadable as error:
            console.problems(error.problems)
            continue
        if not asked.as_json:
            console.result(("\n" if reviews else "") + _text(found, everything=asked.everything))
        if applies_nothing(found):
            console.problems([_nothing_applies(found)])
        reviews.append(found)
    if asked.as_json:
        console.result(_json(reviews, is_list=len(asked.sites) > 1))
    unreadable = len(reviews) < len(asked.sites)
    return exit_status(reviews, unreadable=unreadable, fail_on_open=asked.fail_on_open)


def site_file(path: Path) -> Path:
    """The site file that was meant, which is there; raises Unreadable with the path as it was typed."""
    if not path.is_dir():
        regular_file(path, path.as_posix())
        return path
    if not (path / SITE_FILE).is_file():
        sentence = f"There is no {SITE_FILE} in the folder {path.as_posix()}."
        remedy = f"Name the site file itself, or a folder that holds a {SITE_FILE}."
        raise Unreadable([Problem(sentence, remedy=remedy)])
    return path / SITE_FILE


def _nothing_applies(found: Review) -> Problem:
    sentence = f"No rule in force applies to what {found.file} shows, so nothing was looked at."
    remedy = "Check that equipment: holds what is to be installed, and that the jurisdiction is the right one."
    return Problem(sentence, remedy=remedy)


def _json(reviews: list[Review], *, is_list: bool) -> str:
    """One review as an object, several as a list; nothing where the only site could not be read."""
    from checker.report.data import json_report, json_reports

    if is_list:
        return json_reports(reviews)
    return json_report(reviews[0]) if reviews else ""


def _text(found: Review, *, everything: bool) -> str:
    from checker.report.text import text_report

    return text_report(found, terminal(), everything=everything)


def terminal() -> Style:
    """How words are set off where the result goes: weights on a terminal, nothing in a file."""
    from checker.report.text import PLAIN, Style, terminal_style

    if console.on_terminal():
        return terminal_style(marks=console.can_print_marks())
    return PLAIN if console.can_print_marks() else Style(marks=False)
