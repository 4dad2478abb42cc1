"""The command ``compare``: two revisions of a job, or one job under several profiles and dates."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import product
from pathlib import Path
from typing import TYPE_CHECKING

from checker.cli import console
from checker.cli.outputs import terminal
from checker.cli.site_files import site_file
from checker.report.exit_status import COULD_NOT_RUN, SETTLED
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from checker.values.problems import Problem, Unreadable

if TYPE_CHECKING:
    from checker.findings.finding import Review

REVISIONS = 2


@dataclass(frozen=True, slots=True)
class Asked:
    """What the command line asked for."""

    sites: tuple[Path, ...]
    jurisdictions: tuple[str, ...]
    dates: tuple[date, ...]
    output: str
    """``text``, ``json`` or ``html``."""
    folder: Path | None = None


def compare(asked: Asked) -> int:
    """Print how the sides differ; 0 whatever differs, 2 where a side cannot be told."""
    try:
        reviews = _reviews(asked)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    console.result(_revisions(reviews, asked) if len(asked.sites) == REVISIONS else _sides(reviews, asked))
    return SETTLED


def _reviews(asked: Asked) -> list[Review]:
    sides = list(product(asked.jurisdictions or (None,), asked.dates or (None,)))
    if len(asked.sites) > REVISIONS or (len(asked.sites) == REVISIONS and len(sides) > 1):
        raise Unreadable([_TOO_MANY])
    if len(asked.sites) == 1 and len(sides) == 1:
        raise Unreadable([_NOTHING])
    library = Library.shipped()
    return [
        review_file(site_file(site), library, Overrides(jurisdiction, on, folder=asked.folder))
        for site in asked.sites
        for jurisdiction, on in sides
    ]


_TOO_MANY = Problem(
    "Two revisions are compared under one set of rules, or one site under several.",
    remedy="Name two site files, or one with --jurisdiction or --date given several times.",
)
_NOTHING = Problem("One site under one set of rules has nothing to be compared with.", remedy=_TOO_MANY.remedy)


def _revisions(reviews: Sequence[Review], asked: Asked) -> str:
    from checker.report.comparison.revised import revised_json, revised_text
    from checker.tasks.comparing.revisions import revised

    before, after = reviews
    was, now = (site_file(each).as_posix() for each in asked.sites)
    found = revised(before, after, (was, now))
    match asked.output:
        case "json":
            return revised_json(found)
        case "html":
            from checker.report.page.compared_page import revised_page

            return revised_page(found)
        case _:
            return revised_text(found, terminal())


def _sides(reviews: Sequence[Review], asked: Asked) -> str:
    from checker.report.comparison.side_by_side import sides_json, sides_text

    match asked.output:
        case "json":
            return sides_json(reviews)
        case "html":
            from checker.report.page.compared_page import sides_page

            return sides_page(reviews)
        case _:
            return sides_text(reviews, terminal())
