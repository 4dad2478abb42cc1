"""The label sheet as one HTML page that asks for nothing from outside: a drawing and a paragraph for each sign."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from checker.findings.finding import Review
from checker.report.paragraphs import rules_words
from checker.report.setting import environment
from checker.report.signs.geometry import sign_heading, sign_notes
from checker.report.signs.sentences import NUMBERS_LEAD, SIZE_IS_FREE, cautions, counted_words, heading
from checker.report.signs.svg import sign_svg
from checker.report.words import DISCLAIMER, STAGE_WORDS
from checker.tasks.papers.label_sheet import LabelSheet


@dataclass(frozen=True, slots=True)
class Drawn:
    """A sign with its drawing, and what is told of it."""

    name: str
    heading: str
    drawing: Markup
    told: tuple[str, ...]


def labels_html(review: Review, sheet: LabelSheet) -> str:
    """The whole page, ending in a line feed: the same bytes for the same review."""
    return (
        environment("signs")
        .get_template("labels.html")
        .render(
            title=heading(review),
            rules=" ".join(rules_words(review.in_force)),
            counted=counted_words(sheet),
            told=(DISCLAIMER, SIZE_IS_FREE, NUMBERS_LEAD),
            signs=tuple(
                # Markup: made by the drawing itself, which escapes what it is given.
                Drawn(
                    each.name,
                    sign_heading(each),
                    Markup(sign_svg(each, review.stage)),  # noqa: S704
                    tuple(sign_notes(each, review.stage)),
                )
                for each in sheet.signs
            ),
            cautions=cautions(sheet),
            review=review,
            stage=STAGE_WORDS[review.stage],
        )
    )
