"""The commands ``labels`` and ``submittal``: what is made for one job from its review."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from checker.cli import console
from checker.cli.label_format import LabelFormat, PaperFormat
from checker.cli.outputs import terminal
from checker.cli.site_files import site_file
from checker.findings.finding import Review
from checker.tasks.gathering.library import Library
from checker.tasks.reviewing import Overrides, review_file
from checker.values.problems import Unreadable

if TYPE_CHECKING:
    from checker.tasks.papers.submittal import Submittal

MADE, COULD_NOT_RUN = 0, 2


def print_labels(path: Path, form: LabelFormat, overrides: Overrides) -> int:
    """Print the label sheet of a site."""
    review = _reviewed(path, overrides)
    if review is None:
        return COULD_NOT_RUN
    console.result(_labels(review, form))
    return MADE


def _labels(review: Review, form: LabelFormat) -> str:
    from checker.tasks.papers.label_sheet import label_sheet

    sheet = label_sheet(review)
    match form:
        case LabelFormat.TEXT:
            from checker.report.signs.text import labels_text

            return labels_text(review, sheet, terminal())
        case LabelFormat.JSON:
            from checker.report.signs.data import labels_json

            return labels_json(review, sheet)
        case LabelFormat.SVG:
            from checker.report.signs.svg import labels_svg

            return labels_svg(review, sheet)
        case LabelFormat.HTML:
            from checker.report.signs.page import labels_html

            return labels_html(review, sheet)


def print_submittal(path: Path, form: PaperFormat, overrides: Overrides) -> int:
    """Print the papers of a site."""
    review = _reviewed(path, overrides)
    if review is None:
        return COULD_NOT_RUN
    from checker.tasks.papers.submittal import submittal

    console.result(_papers(review, submittal(review), form))
    return MADE


def _papers(review: Review, found: Submittal, form: PaperFormat) -> str:
    match form:
        case PaperFormat.TEXT:
            from checker.report.packet.text import submittal_text

            return submittal_text(review, found, terminal())
        case PaperFormat.JSON:
            from checker.report.packet.data import submittal_json

            return submittal_json(review, found)
        case PaperFormat.HTML:
            from checker.report.packet.page import submittal_html

            return submittal_html(review, found)


def _reviewed(path: Path, overrides: Overrides) -> Review | None:
    """The review of the one site file; None where it cannot be read, which is told."""
    try:
        return review_file(site_file(path), Library.shipped(), overrides)
    except Unreadable as error:
        console.problems(error.problems)
        return None
