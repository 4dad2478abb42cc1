"""The command ``explain``: one finding in full."""

from __future__ import annotations

from pathlib import Path

from checker.cli import console
from checker.cli.outputs import terminal
from checker.cli.site_files import site_file
from checker.findings.finding import Finding, Review
from checker.report.explained import explained, roles_text
from checker.tasks.comparing.roles_compared import found, roles_compared
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from checker.values.problems import Problem, Unreadable

SHOWN, COULD_NOT_RUN = 0, 2


def explain_finding(path: Path, wanted: str, overrides: Overrides, *, ways: bool) -> int:
    """Print one finding, or what follows from each role of the disconnect behind it."""
    try:
        site = site_file(path)
        library = Library.shipped()
        review = review_file(site, library, overrides)
        finding = found(review, wanted)
        if finding is None:
            raise Unreadable([_no_such(review, wanted)])
        console.result(explained(finding, terminal()))
        if ways:
            console.result(
                "\n" + roles_text(roles_compared(site, library, overrides, _piece(review, finding)), terminal())
            )
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return SHOWN


def _no_such(review: Review, wanted: str) -> Problem:
    count = len(review.findings)
    return Problem(f"There is no finding {wanted}.", remedy=f"Give a number from 1 to {count}, or the id of a finding.")


def _piece(review: Review, finding: Finding) -> str:
    """The disconnect whose role brought the finding about; otherwise the piece that it speaks of."""
    if finding.follows_from is not None:
        return finding.follows_from.rpartition(".")[0]
    first = next((piece.tag for piece in review.one_line.pieces if piece.first), "")
    named = str(finding.subject.parts.get("piece", ""))
    has_role = {piece.tag for piece in review.one_line.pieces if piece.role}
    return named if named in has_role else first
