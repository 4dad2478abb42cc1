"""The command ``worksheet``: the calculations behind the findings, step by step."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from checker.cli import console
from checker.cli.outputs import terminal
from checker.cli.site_files import site_file
from checker.engineering.worksheet import Worksheet
from checker.findings.finding import Review
from checker.rules.wording import listing
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable

SHOWN, COULD_NOT_RUN = 0, 2


def print_worksheets(path: Path, wanted: Sequence[str], overrides: Overrides) -> int:
    """Print the worksheets of a site, or those of the facts that are named."""
    try:
        review = review_file(site_file(path), Library.shipped(), overrides)
        sheets = _wanted(review, wanted)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    from checker.report.worksheets import worksheets_text

    console.result(worksheets_text(review, sheets, terminal()))
    return SHOWN


def _wanted(review: Review, wanted: Sequence[str]) -> list[Worksheet]:
    sheets = review.worksheets
    if not sheets:
        sentence = f"Nothing was worked out for {review.file}."
        raise Unreadable([Problem(sentence, remedy="No rule in force that applies here rests on a calculation.")])
    missing = [each for each in wanted if each not in sheets]
    if missing:
        near = nearest(missing[0], sheets)
        remedy = f"There is one of each of these: {listing(tuple(sheets))}."
        raise Unreadable([Problem(f"There is no worksheet of {missing[0]}.", remedy=remedy, near=near)])
    return [sheets[each] for each in wanted or sheets]
