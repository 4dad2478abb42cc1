"""Two revisions of a job, or one job under several profiles and dates, side by side: was, is, because."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from checker.findings.finding import Finding, Review
from checker.findings.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report.safe import harmless, json_text
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import OUTCOME_WORDS, authority_text, counted, joined, sentence_of
from checker.tasks.revisions import FactChange, Revised, Standing, Step

_INDENT = 4
_HEADINGS = {
    Standing.NEW: "New",
    Standing.CHANGED: "Changed",
    Standing.CURED: "Cured",
    Standing.STILL_OPEN: "Still open",
}

Plain = dict[str, Any]


def revised_text(found: Revised, style: Style = PLAIN) -> str:
    """What changed from one revision to the next, ending in a line feed."""
    blocks = [list(_opening(found, style)), *(list(_group(found, each, style)) for each in _HEADINGS)]
    blocks.append([_counts(found)])
    return "\n\n".join("\n".join(lines) for lines in blocks if lines) + "\n"


def revised_json(found: Revised) -> str:
    """The same as JSON in the shape of ``schemas/compare-sites.schema.json``, the same bytes for the same input."""
    sides = {"was": _side_data(found.before), "is": _side_data(found.after)}
    data = {**sides, "findings": [_step_data(step) for step in found.steps]}
    return json_text(data)


def _opening(found: Revised, style: Style) -> Iterator[str]:
    yield style.underline("What changed")
    for word, review in (("Was", found.before), ("Is", found.after)):
        rules = review.in_force
        told = f"{word}: {review.site_name}, {review.file}, {rules.title}, {rules.date.isoformat()}"
        yield from wrapped(told)


def _group(found: Revised, standing: Standing, style: Style) -> Iterator[str]:
    steps = found.of(standing)
    if not steps:
        return
    yield style.underline(f"{_HEADINGS[standing]}: {len(steps)}")
    for step in steps:
        if standing is Standing.STILL_OPEN:
            yield from wrapped(f"{_number(step)} {step.told.subject.words}: {step.told.title}", indent=2)
        else:
            yield ""
            yield from _long(step, style)


def _number(step: Step) -> str:
    """The number in the later review, with that of the earlier one where it differs."""
    assert step.after is not None
    assert step.before is not None
    was = "" if step.before.number == step.after.number else f" (was {step.before.number})"
    return f"{step.after.number}{was}"


def _long(step: Step, style: Style) -> Iterator[str]:
    told = step.told
    number = f"{told.number}  " if step.after is not None else ""
    yield from (style.bold(line) for line in wrapped(f"{number}{told.subject.words}: {told.title}."))
    yield from wrapped(f"was {_outcome(step.before)}, is {_outcome(step.after)}", indent=_INDENT)
    if told.outcome not in SETTLED_OUTCOMES:
        yield from wrapped(sentence_of(told), indent=_INDENT)
    for change in step.facts:
        yield from wrapped(_fact(change), indent=_INDENT)
    if step.after is not None and step.after.because:
        yield from wrapped(f"because: {step.after.because}", indent=_INDENT)
    yield from (style.dim(line) for line in wrapped(f"{authority_text(told)}; {told.rule}", indent=_INDENT))


def _fact(change: FactChange) -> str:
    if not change.was:
        return f"because: {change.fact} is {change.now}"
    if not change.now:
        return f"because: {change.fact} was {change.was}"
    return f"because: {change.fact} was {change.was}, is {change.now}"


def _outcome(finding: Finding | None) -> str:
    return "not asked" if finding is None else OUTCOME_WORDS[finding.outcome]


def _counts(found: Revised) -> str:
    counts = (f"{len(found.of(standing))} {standing.value}" for standing in Standing)
    return f"{', '.join(counts)}."


def _side_data(review: Review) -> Plain:
    rules = review.in_force
    return {
        "site": {"name": review.site_name, "file": review.file, "digest": review.digest},
        "profile": rules.profile,
        "date": rules.date.isoformat(),
    }


def _step_data(step: Step) -> Plain:
    told = step.told
    return {
        "id": told.id,
        "standing": step.standing.name.lower(),
        "title": told.title,
        "subject": dict(told.subject.parts),
        "was": None if step.before is None else step.before.outcome.value,
        "is": None if step.after is None else step.after.outcome.value,
        "number": {
            "was": None if step.before is None else step.before.number,
            "is": None if step.after is None else step.after.number,
        },
        "facts": [{"fact": each.fact, "was": each.was, "is": each.now} for each in step.facts],
    }


# --- several sides ---------------------------------------------------------------------------------------------------

NAME_WIDTH, CELL_WIDTH = 44, 16
"""Columns of the table of several sides."""


def sides_text(reviews: Sequence[Review], style: Style = PLAIN) -> str:
    """One job under several rules: the findings on which the sides differ, and what each side comes to in all."""
    from tabulate import tabulate

    from checker.report.text import cell

    head = ["", *(cell(_side_name(each), CELL_WIDTH) for each in reviews)]
    rows = [
        [cell(name, NAME_WIDTH), *(cell(_outcome(each), CELL_WIDTH) for each in found)]
        for name, found in _rows(reviews)
    ]
    totals = [["in all", *(cell(_totals(each), CELL_WIDTH) for each in reviews)]]
    table = tabulate([*rows, *totals], head, tablefmt="plain", disable_numparse=True)
    lines = [
        style.underline(f"{harmless(reviews[0].site_name)} under {counted(len(reviews), 'set')} of rules"),
        *(line.rstrip() for line in table.splitlines()),
        "",
        f"{counted(len(rows), 'finding differs', 'findings differ')}; the rest come out alike on all sides.",
    ]
    return "\n".join(lines) + "\n"


def sides_json(reviews: Sequence[Review]) -> str:
    """The same as JSON."""
    rows = [
        {"finding": name, "outcomes": [None if each is None else each.outcome.value for each in found]}
        for name, found in _rows(reviews)
    ]
    data = {"sides": [_side_data(each) for each in reviews], "differ": rows}
    return json_text(data)


def _side_name(review: Review) -> str:
    return f"{review.in_force.title}, {review.in_force.date.isoformat()}"


def _rows(reviews: Sequence[Review]) -> Iterator[tuple[str, list[Finding | None]]]:
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


def _totals(review: Review) -> str:
    totals = review.totals()
    shown = (Outcome.CORRECTION, Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE)
    return joined(counted(totals[each], OUTCOME_WORDS[each], _PLURAL.get(each)) for each in shown)


_PLURAL = {Outcome.NEEDS_INFORMATION: "not shown", Outcome.AHJ_TO_DECIDE: "AHJ to decide"}
