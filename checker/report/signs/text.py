"""The label sheet as a schedule for the terminal: a paragraph for each sign, in the order of a walk along the line."""

from __future__ import annotations

from collections.abc import Iterator

from checker.findings.finding import Review
from checker.report.paragraphs import rules_words
from checker.report.safe import harmless
from checker.report.signs.sentences import (
    NUMBERS_LEAD,
    SIZE_IS_FREE,
    asked_words,
    authority_words,
    cautions,
    counted_words,
    heading,
    look_words,
    only_if_words,
    place_words,
    shown_words,
    state_words,
    text_words,
)
from checker.report.text import PLAIN, TAG_COLUMN, Style, wrapped
from checker.report.words import DISCLAIMER, MARKS
from checker.tasks.papers.label_sheet import LabelSheet, SignWanted


def labels_text(review: Review, sheet: LabelSheet, style: Style = PLAIN) -> str:
    """The whole schedule, ending in a line feed."""
    blocks = [_opening(review, style), *(_sign(each, review, style) for each in sheet.signs)]
    blocks += [_cautions(sheet, style), _closing(sheet)]
    told = ("\n".join(lines) for block in blocks if (lines := list(block)))
    return "\n\n".join(told) + "\n"


def _opening(review: Review, style: Style) -> Iterator[str]:
    yield from (style.underline(line) for line in wrapped(heading(review)))
    for sentence in rules_words(review.in_force):
        yield from wrapped(sentence)
    yield from wrapped(DISCLAIMER)


def _sign(wanted: SignWanted, review: Review, style: Style) -> Iterator[str]:
    mark = f"{MARKS[wanted.askings[0].finding.outcome]} " if style.marks else ""
    yield f"{mark}{wanted.name:<4} {style.bold(harmless(place_words(wanted)))}"
    for line in wanted.sign.words:
        yield " " * TAG_COLUMN + style.bold(harmless(line))
    for sentence in (*text_words(wanted), *look_words(wanted), *only_if_words(wanted)):
        yield from wrapped(sentence, indent=TAG_COLUMN)
    for sentence in (state_words(wanted, review.stage), *shown_words(wanted), *asked_words(wanted)):
        yield from wrapped(sentence, indent=TAG_COLUMN)
    for asking in wanted.askings:
        yield from (style.dim(line) for line in wrapped(authority_words(asking), indent=TAG_COLUMN))


def _cautions(sheet: LabelSheet, style: Style) -> Iterator[str]:
    told = cautions(sheet)
    if told:
        yield style.underline("Cautions")
        for each in told:
            yield from wrapped(each, indent=2)


def _closing(sheet: LabelSheet) -> Iterator[str]:
    yield from wrapped(counted_words(sheet))
    if sheet.signs:
        yield from wrapped(SIZE_IS_FREE)
        yield from wrapped(NUMBERS_LEAD)
    if any(each.is_engraved for each in sheet.signs):
        yield from wrapped(
            "Words in capitals are engraved as they stand; `labels SITE --format svg` draws their plates."
        )
