"""One finding in full, and what follows from each role of a disconnect, for the terminal."""

from __future__ import annotations

from collections.abc import Iterator

from checker.report.text import PLAIN, Style, finding_text, wrapped
from checker.report.words import OUTCOME_WORDS, RELATION_WORDS
from checker.review.finding import Check, Finding, Review
from checker.review.outcomes import Outcome
from checker.tasks.roles_compared import RolesCompared, Way
from checker.values.truth import Truth

ANSWER = {Truth.YES: "yes", Truth.NO: "no", Truth.UNKNOWN: "not known"}
_SHOWN = (Outcome.RULE_ERROR, Outcome.CORRECTION, Outcome.AHJ_TO_DECIDE, Outcome.NEEDS_INFORMATION)


def explained(finding: Finding, style: Style = PLAIN) -> str:
    """The finding as in the report, then every comparison that was made, in the order in which it was judged."""
    return "\n".join([*finding_text(finding, style), "", *_comparisons(finding, style)]) + "\n"


def _comparisons(finding: Finding, style: Style) -> Iterator[str]:
    yield style.underline("What was compared")
    for check in finding.checks:
        yield from wrapped(f"{ANSWER[check.holds]}: {compared(check)}", indent=2)


def compared(check: Check) -> str:
    """One comparison in words: what was found, where, and what is wanted."""
    part = f"{check.part.replace('_', ' ').replace('-', ' ')}: " if check.part else ""
    place = f" ({check.found.at})" if check.found.at is not None else ""
    state = f", in the state: {check.found.state}" if check.found.state else ""
    relation = RELATION_WORDS.get(check.relation, check.relation.replace("_", " "))
    wanted = f", wanted {f'{relation} {check.wanted.text}'.strip()}" if check.wanted is not None else ""
    return f"{part}{check.found.title} is {check.found.text}{place}{wanted}{state}"


def roles_text(roles: RolesCompared, style: Style = PLAIN) -> str:
    """Each possible role of a piece with the findings that it brings, those that all roles share told once."""
    shared = set.intersection(*(_keys(way.review) for way in roles.ways)) if roles.ways else set()
    lines = [style.underline(f"{roles.piece} could be each of these")]
    for way in roles.ways:
        lines += ["", *_way(way, shared, style)]
    lines += ["", *wrapped(f"{len(shared)} findings are the same whichever it is.")]
    return "\n".join(lines) + "\n"


def _keys(review: Review) -> set[tuple[str, Outcome]]:
    return {(finding.id, finding.outcome) for finding in review.findings if finding.outcome in _SHOWN}


def _way(way: Way, shared: set[tuple[str, Outcome]], style: Style) -> Iterator[str]:
    drawn = ", as it is drawn" if way.as_drawn else ""
    totals = way.review.totals()
    yield style.bold(f"{way.title}{drawn}")
    yield from wrapped(
        f"{totals[Outcome.CORRECTION]} corrections, {totals[Outcome.NEEDS_INFORMATION]} not shown, "
        f"{totals[Outcome.AHJ_TO_DECIDE]} for the AHJ to decide. Of its own:",
        indent=2,
    )
    own = [each for each in way.review.findings if each.outcome in _SHOWN and (each.id, each.outcome) not in shared]
    for finding in own:
        sentence = finding.says if finding.outcome is Outcome.CORRECTION else finding.title
        yield from wrapped(f"{OUTCOME_WORDS[finding.outcome]}: {finding.subject.words}: {sentence}", indent=4)
    if not own:
        yield from wrapped("nothing.", indent=4)
