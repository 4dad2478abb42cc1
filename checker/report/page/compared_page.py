"""What changed from one revision to the next, and one job under several sets of rules, as HTML pages in the manner of
the report: whole in themselves, no script, no outside request.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from checker.findings.finding import Finding, Notice, Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES
from checker.report.comparison.revised import (
    HEADINGS,
    NEW_NOTICES,
    UNFELT,
    counts_words,
    in_one_only,
    kind_words,
    notices_told,
    number_words,
    outcome_words,
    reasons,
    totals_words,
    turned,
)
from checker.report.comparison.side_by_side import (
    WHY_HEADING,
    closing_words,
    notices_heading,
    notices_of,
    row_lines,
    rows_of,
    side_name,
    sides_title,
)
from checker.report.comparison.side_by_side import totals_words as totals_of_side
from checker.report.paragraphs import dated_words, notice_words, rules_words
from checker.report.setting import environment
from checker.report.words import DISCLAIMER, authority_text, sentence_of
from checker.tasks.comparing.revisions import Revised, Standing, Step
from checker.version import __version__


@dataclass(frozen=True, slots=True)
class Side:
    """One of the reviews that are compared: what it is called here, its file, and whose rules are in force."""

    name: str
    told: str
    rules: tuple[str, ...]
    file: str
    digest: str


@dataclass(frozen=True, slots=True)
class Entry:
    """A finding from one revision to the next as the page sets it."""

    id: str
    number: str
    mark: str
    kind: str
    subject: str
    title: str
    turned: str
    sentence: str
    because: tuple[str, ...]
    authority: str
    rule: str


@dataclass(frozen=True, slots=True)
class Group:
    """The findings of one standing; of what is still open only the titles are set."""

    id: str
    heading: str
    entries: tuple[Entry, ...]
    in_short: bool


@dataclass(frozen=True, slots=True)
class Row:
    """A finding on which sides differ: what it comes to on each, its sections, and why."""

    name: str
    outcomes: tuple[tuple[str, str], ...]
    authority: str
    because: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Told:
    """Notices under a heading."""

    heading: str
    sentences: tuple[str, ...]


def revised_page(found: Revised) -> str:
    """The page of two revisions, ending in a line feed: the same bytes for the same reviews."""
    named = zip(("Was", "Is"), (found.before, found.after), found.files, strict=True)
    return (
        environment("page")
        .get_template("revised.html")
        .render(
            title=f"What changed: {found.after.site_name}",
            disclaimer=DISCLAIMER,
            counts=counts_words(found),
            totals=totals_words(found),
            sides=tuple(_side(name, review, file, review.site_name) for name, review, file in named),
            groups=tuple(_groups(found)),
            unfelt=found.unfelt,
            unfelt_heading=UNFELT,
            in_one_only=tuple(in_one_only(found.unfelt)),
            notices=_told(NEW_NOTICES, notices_told(found)),
            version=__version__,
        )
    )


def sides_page(reviews: Sequence[Review]) -> str:
    """The page of one job under several sets of rules, ending in a line feed: the same bytes for the same reviews."""
    rows = tuple(rows_of(reviews))
    told = (_told(notices_heading(each), notices_of(reviews, each)) for each in reviews)
    return (
        environment("page")
        .get_template("sides.html")
        .render(
            title=sides_title(reviews),
            disclaimer=DISCLAIMER,
            closing=closing_words(rows),
            sides=tuple(_side(side_name(each), each, each.file) for each in reviews),
            rows=tuple(_row(reviews, name, found) for name, found in rows),
            totals=tuple(map(totals_of_side, reviews)),
            why_heading=WHY_HEADING,
            notices=tuple(each for each in told if each.sentences),
            version=__version__,
        )
    )


def _side(name: str, review: Review, file: str, site_name: str = "") -> Side:
    told = ", ".join(part for part in (site_name, dated_words(review.in_force)) if part)
    return Side(name, told, tuple(rules_words(review.in_force)), file, review.digest)


def _told(heading: str, notices: Sequence[Notice]) -> Told:
    return Told(heading, tuple(map(notice_words, notices)))


def _groups(found: Revised) -> Iterator[Group]:
    place = 0
    for standing, heading in HEADINGS.items():
        steps = found.of(standing)
        entries = tuple(_entry(step, f"step-{place + each}") for each, step in enumerate(steps))
        place += len(steps)
        name = standing.name.lower().replace("_", "-")
        if entries:
            yield Group(name, f"{heading}: {len(entries)}", entries, standing is Standing.STILL_OPEN)


def _entry(step: Step, name: str) -> Entry:
    told = step.told
    is_wanted = step.after is not None and told.outcome not in SETTLED_OUTCOMES
    return Entry(
        name,
        number_words(step),
        told.outcome.value,
        kind_words(told),
        told.subject.words,
        f"{told.title}.",
        f"{turned(step)}.",
        sentence_of(told) if is_wanted else "",
        tuple(reasons(step)),
        authority_text(told),
        told.rule,
    )


def _row(reviews: Sequence[Review], name: str, found: Sequence[Finding | None]) -> Row:
    authority, *because = row_lines(reviews, found)
    outcomes = tuple(("" if each is None else each.outcome.value, outcome_words(each)) for each in found)
    return Row(name, outcomes, authority, tuple(because))
