"""The papers of a job as a list for the terminal, in the order in which a packet is put together."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.findings.finding import Review
from checker.report.packet.sentences import (
    asked_words,
    counted_words,
    declared_words,
    heading,
    lists_beside,
    made_words,
    shown_words,
    state_words,
)
from checker.report.paragraphs import rules_words
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import DISCLAIMER
from checker.tasks.papers.submittal import PaperWanted, Submittal

INDENT = 4


def submittal_text(review: Review, found: Submittal, style: Style = PLAIN) -> str:
    """The whole list, ending in a line feed."""
    blocks = [
        _opening(review, style),
        *(_paper(place, each, review, found, style) for place, each in enumerate(found.wanted, start=1)),
        *(_listed(title, told, style) for title, told in lists_beside(found)),
        wrapped(counted_words(found)),
    ]
    told = ("\n".join(lines) for block in blocks if (lines := list(block)))
    return "\n\n".join(told) + "\n"


def _opening(review: Review, style: Style) -> Iterator[str]:
    yield from (style.underline(line) for line in wrapped(heading(review)))
    for sentence in rules_words(review.in_force):
        yield from wrapped(sentence)
    yield from wrapped(DISCLAIMER)


def _paper(place: int, wanted: PaperWanted, review: Review, found: Submittal, style: Style) -> Iterator[str]:
    head = f"{place:<{INDENT}}{state_words(wanted, told_complete=found.told_complete)}."
    yield from (style.bold(line) for line in wrapped(head))
    for sentence in declared_words(wanted):
        yield from wrapped(sentence, indent=INDENT)
    for asking in wanted.askings:
        for sentence in shown_words(asking, wanted.state):
            yield from wrapped(sentence, indent=INDENT)
        yield from (style.dim(line) for line in wrapped(asked_words(asking, review.stage), indent=INDENT))
    for sentence in made_words(wanted):
        yield from wrapped(sentence, indent=INDENT)


def _listed(title: str, told: Sequence[str], style: Style) -> Iterator[str]:
    if told:
        yield style.underline(title)
        for each in told:
            yield from wrapped(each, indent=2)
