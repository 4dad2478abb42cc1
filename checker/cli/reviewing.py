"""The command ``review``: every file reported, one bad file never hides the others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from checker.cli import console
from checker.report.data import json_report
from checker.report.exit_status import COULD_NOT_RUN, exit_status
from checker.report.text import PLAIN, Style, terminal_style, text_report
from checker.review.finding import Review
from checker.tasks.reviewing import Library, Overrides, review_file
from checker.values.problems import Unreadable

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
    unreadable = False
    for place, path in enumerate(_site_files(asked.sites)):
        try:
            found = review_file(path, library, asked.overrides)
        except Unreadable as error:
            console.problems(error.problems)
            unreadable = True
            continue
        reviews.append(found)
        _print(found, asked, first=place == 0)
    return exit_status(reviews, unreadable=unreadable, fail_on_open=asked.fail_on_open)


def _site_files(paths: tuple[Path, ...]) -> Iterator[Path]:
    for path in paths:
        yield path / SITE_FILE if path.is_dir() else path


def _print(found: Review, asked: Asked, *, first: bool) -> None:
    if asked.as_json:
        console.result(json_report(found))
        return
    text = text_report(found, _style(), everything=asked.everything)
    console.result(text if first else "\n" + text)


def _style() -> Style:
    if console.on_terminal():
        return terminal_style(marks=console.can_print_marks())
    return PLAIN if console.can_print_marks() else Style(marks=False)

