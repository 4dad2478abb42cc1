"""The papers of a job as one HTML page that asks for nothing from outside, to be ticked off at the counter. It is read
by the office, so that it tells nothing of the site file and of commands.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from checker.findings.finding import Review
from checker.report.packet.sentences import (
    asked_words,
    counted_words,
    declared_words,
    heading,
    lists_beside,
    shown_words,
    state_words,
)
from checker.report.paragraphs import rules_words
from checker.report.setting import environment
from checker.report.words import DISCLAIMER, STAGE_WORDS
from checker.tasks.papers.submittal import PaperWanted, Submittal


@dataclass(frozen=True, slots=True)
class Line:
    """One sentence below a paper; ``quiet`` where it says who asks."""

    text: str
    quiet: bool = False


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper that is asked for, with what is said of it."""

    head: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """A list below the papers."""

    heading: str
    sentences: tuple[str, ...]


def submittal_html(review: Review, found: Submittal) -> str:
    """The whole page, ending in a line feed: the same bytes for the same review."""
    return (
        environment("packet")
        .get_template("submittal.html")
        .render(
            title=heading(review),
            opening=(*rules_words(review.in_force), DISCLAIMER),
            papers=tuple(
                Paper(f"{state_words(each, told_complete=True)}.", tuple(_lines(each, review))) for each in found.wanted
            ),
            parts=tuple(Part(title, told) for title, told in lists_beside(found, drafts=False) if told),
            counted=counted_words(found),
            review=review,
            stage=STAGE_WORDS[review.stage],
        )
    )


def _lines(wanted: PaperWanted, review: Review) -> Iterator[Line]:
    yield from map(Line, declared_words(wanted))
    for asking in wanted.askings:
        yield from map(Line, shown_words(asking, wanted.state))
        yield Line(asked_words(asking, review.stage), quiet=True)
