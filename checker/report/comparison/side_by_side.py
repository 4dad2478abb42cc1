"""One job under several profiles or dates, side by side, with the rule of each difference and the reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from checker.findings.finding import Finding, Notice, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.comparison.revised import (
    INDENT,
    TOLD_IN_HEAD,
    Plain,
    notice_lines,
    outcome_words,
    side_data,
    why_words,
)
from checker.report.paragraphs import dated_words, rules_words
from checker.report.safe import harmless, json_text
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import OUTCOME_WORDS, authority_text, counted, joined
from checker.tasks.comparing.revisions import Sides, Why, editions_of, new_notices

NAME_WIDTH, CELL_WIDTH = 44, 16
"""Columns of the table of several sides."""

WHY_HEADING = "Why they differ, by the numbers of the table"

Row = tuple[str, list[Finding | None]]
"""A finding that differs: subject with title, and what it comes to on each side."""


def sides_text(reviews: Sequence[Review], style: Style = PLAIN) -> str:
    """One job under several rules: the findings on which the sides differ, and what each side comes to in all."""
    rows = list(rows_of(reviews))
    blocks = [
        [style.underline(harmless(sides_title(reviews)))],
        *([*_side_head(each)] for each in reviews),
        [*_table(reviews, rows)],
        [*_whys(reviews, rows, style)],
        *([*_side_notices(reviews, each, style)] for each in reviews),
        [closing_words(rows)],
    ]
    return "\n\n".join("\n".join(lines) for lines in blocks if lines) + "\n"


def sides_title(reviews: Sequence[Review]) -> str:
    """The site, and how many sets of rules it is laid under."""
    return f"{reviews[0].site_name} under {counted(len(reviews), 'set')} of rules"


def closing_words(rows: Sequence[Row]) -> str:
    """How many findings differ."""
    return f"{counted(len(rows), 'finding differs', 'findings differ')}; the rest come out alike on all sides."


def _side_head(review: Review) -> Iterator[str]:
    yield from wrapped(f"{dated_words(review.in_force)}:".capitalize())
    for sentence in rules_words(review.in_force):
        yield from wrapped(sentence, indent=INDENT)


def _table(reviews: Sequence[Review], rows: Sequence[Row]) -> Iterator[str]:
    from tabulate import tabulate

    from checker.report.text import cell

    head = ["", *(cell(side_name(each), CELL_WIDTH) for each in reviews)]
    cells = [
        [cell(f"{place}. {name}", NAME_WIDTH), *(cell(outcome_words(each), CELL_WIDTH) for each in found)]
        for place, (name, found) in enumerate(rows, start=1)
    ]
    totals = [["in all", *(cell(totals_words(each), CELL_WIDTH) for each in reviews)]]
    table = tabulate([*cells, *totals], head, tablefmt="plain", disable_numparse=True)
    yield from (line.rstrip() for line in table.splitlines())


def _whys(reviews: Sequence[Review], rows: Sequence[Row], style: Style) -> Iterator[str]:
    """Of each finding that differs the rule with its sections on each side, and why the sides differ."""
    if rows:
        yield style.underline(WHY_HEADING)
    for place, (_, found) in enumerate(rows, start=1):
        first, *more = row_lines(reviews, found)
        yield from wrapped(f"{place}. {first}", indent=2)
        for line in more:
            yield from wrapped(line, indent=INDENT + 1)


def row_lines(reviews: Sequence[Review], found: Sequence[Finding | None]) -> Iterator[str]:
    """The sections on each side with the rule, then why the sides differ."""
    told = next(each for each in found if each is not None)
    texts = dict.fromkeys(authority_text(each) for each in found if each is not None)
    yield f"{' | '.join(texts)}; {told.rule}"
    yield from dict.fromkeys(_row_reasons(reviews, found))


def _row_reasons(reviews: Sequence[Review], found: Sequence[Finding | None]) -> Iterator[str]:
    """Why each side differs from the one before it. A rule is in force on a side or it is not; no side is earlier."""
    for place in range(1, len(found)):
        before, after = found[place - 1], found[place]
        sides = Sides(reviews[place - 1], reviews[place])
        names = _short_name(reviews, place - 1), _short_name(reviews, place)
        for why in sides.why(before, after):
            yield _side_why(why, names, before, after)
        for change in sides.facts(before, after):
            was, now = change.was or "not given", change.now or "not given"
            yield f"{change.fact} is {was} by the rules of {names[0]}, {now} by those of {names[1]}"


def _side_why(why: Why, names: tuple[str, str], before: Finding | None, after: Finding | None) -> str:
    if why in (Why.RULE_ONLY_NOW, Why.RULE_NO_LONGER):
        here, away = (names[1], names[0]) if why is Why.RULE_ONLY_NOW else names
        return f"the rule is in force under the rules of {here}, and not under those of {away}"
    if why is Why.OTHER_EDITION:
        was, now = (joined(editions_of(each)) if each is not None else "" for each in (before, after))
        return f"{was or 'no edition'} by the rules of {names[0]}, {now or 'no edition'} by those of {names[1]}"
    return why_words(why, before, after)


def _side_notices(reviews: Sequence[Review], review: Review, style: Style) -> Iterator[str]:
    yield from notice_lines(notices_heading(review), notices_of(reviews, review), style)


def notices_heading(review: Review) -> str:
    """The heading over the notices about one side."""
    return f"Notices about {side_name(review)}"


def notices_of(reviews: Sequence[Review], review: Review) -> tuple[Notice, ...]:
    """The notices about one side that not every side has."""
    others = [each for each in reviews if each is not review]
    mine = (notice for other in others for notice in new_notices(other, review) if notice.kind != TOLD_IN_HEAD)
    return tuple(dict.fromkeys(mine))


def sides_json(reviews: Sequence[Review]) -> str:
    """The same as JSON."""
    rows = [_row_data(reviews, name, found) for name, found in rows_of(reviews)]
    sides = [{**side_data(each, each.file), "notices": [note.sentence for note in each.notices]} for each in reviews]
    return json_text({"sides": sides, "differ": rows})


def _row_data(reviews: Sequence[Review], name: str, found: Sequence[Finding | None]) -> Plain:
    told = next(each for each in found if each is not None)
    return {
        "finding": name,
        "rule": told.rule,
        "outcomes": [None if each is None else each.outcome.value for each in found],
        "sections": [None if each is None else authority_text(each) for each in found],
        "why": list(dict.fromkeys(_row_reasons(reviews, found))),
    }


def _short_name(reviews: Sequence[Review], place: int) -> str:
    """The place, or the date where all sides are of one place, or both."""
    titles = [each.in_force.title for each in reviews]
    dates = [each.in_force.date for each in reviews]
    if len(set(titles)) == 1:
        return dates[place].isoformat()
    return titles[place] if len(set(dates)) == 1 else side_name(reviews[place])


def side_name(review: Review) -> str:
    """The town and the date of one side."""
    return f"{review.in_force.title}, {review.in_force.date.isoformat()}"


def rows_of(reviews: Sequence[Review]) -> Iterator[Row]:
    """Findings that come out otherwise on one side than on another. What is not asked for says as little as what does
    not apply.
    """
    by_key = [{each.key: each for each in review.findings} for review in reviews]
    for key in dict.fromkeys(key for side in by_key for key in side):
        found = [side.get(key) for side in by_key]
        outcomes = {Outcome.NOT_APPLICABLE if each is None else each.outcome for each in found}
        if len(outcomes) > 1:
            named = next(each for each in found if each is not None)
            yield f"{named.subject.words}: {named.title}", found


def totals_words(review: Review) -> str:
    """What one side comes to, in a few words."""
    totals = review.totals()
    shown = (Outcome.CORRECTION, Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE)
    return joined(counted(totals[each], OUTCOME_WORDS[each], _PLURAL.get(each)) for each in shown)


_PLURAL = {Outcome.NEEDS_INFORMATION: "not shown", Outcome.AHJ_TO_DECIDE: "AHJ to decide"}
