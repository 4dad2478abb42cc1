"""The command ``review``: every file reported, one bad file never hides the others."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from checker.cli import console
from checker.report.exit_status import COULD_NOT_RUN, exit_status
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
    text = _json(found) if asked.as_json else _text(found, everything=asked.everything)
    console.result(text if first or asked.as_json else "\n" + text)


def _json(found: Review) -> str:
    from checker.report.data import json_report

    return json_report(found)


def _text(found: Review, *, everything: bool) -> str:
    from checker.report.text import PLAIN, Style, terminal_style, text_report

    if console.on_terminal():
        style = terminal_style(marks=console.can_print_marks())
    else:
        style = PLAIN if console.can_print_marks() else Style(marks=False)
    return text_report(found, style, everything=everything)

