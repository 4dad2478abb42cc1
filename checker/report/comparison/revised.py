"""Two revisions of a job, or one job under several profiles and dates, side by side: was, is, because."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Any

from checker.findings.finding import Finding, Notice, Review
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.report.paragraphs import dated_words, heading_of, notice_words, rules_words
from checker.report.safe import json_text
from checker.report.text import PLAIN, Style, wrapped
from checker.report.words import OUTCOME_WORDS, authority_text, joined, sentence_of, turned_words
from checker.tasks.comparing.revisions import FactChange, Revised, Standing, Step, Unfelt, Why, editions_of

INDENT = 4
HEADINGS = {
    Standing.NEW: "New",
    Standing.CHANGED: "Changed",
    Standing.CURED: "Cured",
    Standing.NOT_ASKED: "No longer asked",
    Standing.GONE: "No longer in the description",
    Standing.STILL_OPEN: "Still open",
}

Plain = dict[str, Any]

TOLD_IN_HEAD = "override"
"""The kind of notice that says with which option a side was made."""


def revised_text(found: Revised, style: Style = PLAIN) -> str:
    """What changed from one revision to the next, ending in a line feed."""
    blocks = [list(_opening(found, style)), *(list(_group(found, each, style)) for each in HEADINGS)]
    blocks.append(list(_unfelt_block(found.unfelt, style)))
    blocks += [list(notice_lines(NEW_NOTICES, notices_told(found), style)), [*wrapped(counts_words(found))]]
    return "\n\n".join("\n".join(lines) for lines in blocks if lines) + "\n"


NEW_NOTICES = "Notices that are new"


def notices_told(found: Revised) -> tuple[Notice, ...]:
    """The new notices but those that the head tells."""
    return tuple(each for each in found.notices if each.kind != TOLD_IN_HEAD)


def revised_json(found: Revised) -> str:
    """The same as JSON in the shape of ``schemas/compare-sites.schema.json``, the same bytes for the same input."""
    sides = {
        name: side_data(review, file)
        for name, review, file in zip(("was", "is"), (found.before, found.after), found.files, strict=True)
    }
    notices = [each.sentence for each in found.notices]
    findings = [_step_data(step) for step in found.steps]
    data = {**sides, "findings": findings, "notices": notices, "other_changes": _unfelt_data(found.unfelt)}
    return json_text(data)


def _opening(found: Revised, style: Style) -> Iterator[str]:
    yield style.underline("What changed")
    yield from wrapped(totals_words(found))
    for word, review, file in zip(("Was", "Is"), (found.before, found.after), found.files, strict=True):
        yield from wrapped(f"{word}: {review.site_name}, {file}, {dated_words(review.in_force)}")
        for sentence in rules_words(review.in_force):
            yield from wrapped(sentence, indent=INDENT)


def _group(found: Revised, standing: Standing, style: Style) -> Iterator[str]:
    steps = found.of(standing)
    if not steps:
        return
    yield style.underline(f"{HEADINGS[standing]}: {len(steps)}")
    for step in steps:
        if standing is Standing.STILL_OPEN:
            told = step.told
            yield from wrapped(f"{number_words(step)} {told.subject.words}: {kind_words(told)}: {told.title}", indent=2)
        else:
            yield ""
            yield from _long(step, style)


def number_words(step: Step) -> str:
    """The number as the report prints it that lists the finding: of what is open now the later one, with that of the
    earlier one where it differs; of what is settled the earlier one.
    """
    was = None if step.before is None or step.before.outcome in SETTLED_OUTCOMES else step.before.number
    now = None if step.after is None or step.after.outcome in SETTLED_OUTCOMES else step.after.number
    if now is None:
        return f"(was {was})"
    return str(now) if was in (None, now) else f"{now} (was {was})"


def _long(step: Step, style: Style) -> Iterator[str]:
    told = step.told
    head = f"{number_words(step)}  {told.subject.words}: {told.title}."
    yield from (style.bold(line) for line in wrapped(head))
    yield from wrapped(turned(step), indent=INDENT)
    if told.outcome not in SETTLED_OUTCOMES and step.after is not None:
        yield from wrapped(sentence_of(told), indent=INDENT)
    for reason in reasons(step):
        yield from wrapped(f"because: {reason}", indent=INDENT)
    yield from (style.dim(line) for line in wrapped(f"{authority_text(told)}; {told.rule}", indent=INDENT))


def turned(step: Step) -> str:
    """What the finding was and is, in words."""
    was, now = (None if each is None else each.outcome for each in (step.before, step.after))
    return turned_words(was, now)


def reasons(step: Step) -> Iterator[str]:
    """Why the finding differs: what lies in the rule, the facts that differ, what is written against what else is
    written, and why it does not apply.
    """
    yield from (why_words(each, step.before, step.after) for each in step.why if each is not Why.SUBJECT_GONE)
    yield from map(fact_words, step.facts)
    if step.after is not None:
        yield from (each.rstrip(".") for each in step.after.reasons if each not in _reasons_before(step))
    if step.after is not None and step.after.because:
        yield step.after.because


def _reasons_before(step: Step) -> tuple[str, ...]:
    return () if step.before is None else step.before.reasons


def why_words(why: Why, before: Finding | None, after: Finding | None) -> str:
    """A reason that lies in the rule or in what it speaks of."""
    told = after or before
    assert told is not None
    subject = told.subject.words
    match why:
        case Why.RULE_ONLY_NOW:
            return "the rule is in force only now"
        case Why.RULE_NO_LONGER:
            return "the rule is no longer in force"
        case Why.SUBJECT_ADDED:
            return f"{subject} was added to the description"
        case Why.SUBJECT_GONE:
            return f"{subject} is no longer in the description"
        case Why.OF_ITS_KIND_NOW:
            return f"{subject} was there, and is only now what the rule speaks of"
        case Why.NO_LONGER_OF_ITS_KIND:
            return f"{subject} is still there, and no longer what the rule speaks of"
        case Why.OTHER_EDITION:
            was, now = (joined(editions_of(each)) if each is not None else "" for each in (before, after))
            return f"{now or 'no edition'} is in force where {was or 'no edition'} was"
        case Why.OTHER_LOCAL_CHANGES:
            return "what local authorities change of the rule is not the same"


def fact_words(change: FactChange) -> str:
    """How a fact reads before and after, in a sentence without its stop."""
    if change.whole:
        return f"{change.fact} {'was added' if change.now else 'is no longer there'}"
    if not change.was:
        return f"{change.fact} is {change.now}, and was not given"
    if not change.now:
        return f"{change.fact} was {change.was}, and is not given now"
    return f"{change.fact} was {change.was}, is {change.now}"


UNFELT = "Also changed in the description, and named by no finding above as its reason"


def _unfelt_block(unfelt: Unfelt, style: Style) -> Iterator[str]:
    if not unfelt:
        return
    yield style.underline(f"{UNFELT}: {len(unfelt)}")
    for each in (*map(fact_words, unfelt.facts), *in_one_only(unfelt)):
        yield from wrapped(each, indent=2)


def in_one_only(unfelt: Unfelt) -> Iterator[str]:
    """What only one of the two descriptions has."""
    yield from (f"{each} was added" for each in unfelt.added)
    yield from (f"{each} is no longer there" for each in unfelt.gone)


def outcome_words(finding: Finding | None) -> str:
    """What a finding comes to, in words; that there is none."""
    return "not asked" if finding is None else OUTCOME_WORDS[finding.outcome]


def notice_lines(heading: str, notices: Sequence[Notice], style: Style) -> Iterator[str]:
    """Notices under a heading; nothing where there are none."""
    if notices:
        yield style.underline(heading)
        for notice in notices:
            yield from wrapped(notice_words(notice), indent=2)


def counts_words(found: Revised) -> str:
    """How many findings stand how, in one sentence."""
    counts = (f"{len(found.of(standing))} {standing.value}" for standing in Standing)
    return f"{', '.join(counts)}."


_TO_SEE = "To be looked at"
_LATER = "To be shown later"
_COUNTED = (
    *(heading_of(each) for each in (Outcome.RULE_ERROR, Outcome.CORRECTION, Outcome.RECOMMENDATION, Outcome.NOTE)),
    heading_of(Outcome.NEEDS_INFORMATION),
    *(heading_of(each) for each in (Outcome.AHJ_TO_DECIDE, Outcome.SPECIAL_PERMISSION)),
    _TO_SEE,
    _LATER,
)
"""What is counted on both sides, in the order in which it is told."""


def totals_words(found: Revised) -> str:
    """How many findings of each kind there were and how many there are, as the two reports count them."""
    was, now = (Counter(_counted_as(each, side) for each in side.findings) for side in (found.before, found.after))
    told = (f"{each}: {was[each]}, now {now[each]}." for each in _COUNTED if was[each] or now[each])
    return " ".join(told)


def _counted_as(finding: Finding, review: Review) -> str:
    if finding.outcome is Outcome.NEEDS_INFORMATION and finding.due.order > review.stage.order:
        return _LATER
    return _TO_SEE if finding.outcome is Outcome.VERIFY_IN_FIELD else heading_of(finding.outcome)


def kind_words(finding: Finding) -> str:
    """What a finding is, in a word before its title."""
    words = OUTCOME_WORDS[finding.outcome]
    return _TO_SEE if finding.outcome is Outcome.VERIFY_IN_FIELD else f"{words[0].upper()}{words[1:]}"


def side_data(review: Review, file: str) -> Plain:
    """One side as plain data, under the name of its file."""
    rules = review.in_force
    return {
        "site": {"name": review.site_name, "file": file, "digest": review.digest},
        "profile": rules.profile,
        "date": rules.date.isoformat(),
        "rules": list(rules_words(rules)),
    }


def _unfelt_data(unfelt: Unfelt) -> Plain:
    return {
        "facts": [_fact_data(each) for each in unfelt.facts],
        "added": list(unfelt.added),
        "gone": list(unfelt.gone),
    }


def _fact_data(change: FactChange) -> Plain:
    return {"fact": change.fact, "was": change.was, "is": change.now}


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
        "facts": [_fact_data(each) for each in step.facts],
        "why": [each.value for each in step.why],
    }
