"""One finding in full, and what follows from each role of a disconnect, for the terminal."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

from checker.findings.finding import Check, Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.safe import harmless
from checker.report.text import PLAIN, WIDTH, Style, finding_text, wrapped
from checker.report.words import OUTCOME_WORDS, RELATION_WORDS, counted, range_words
from checker.tasks.comparing.roles_compared import RolesCompared, Way
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
    if check.wanted is not None and check.wanted.text == "none" and check.relation in _NUMBER_RELATIONS:
        wanted = f", and there is no {check.wanted.title} to hold it against"
    elif check.wanted is not None and check.wanted.fact and check.relation in _NUMBER_RELATIONS and _is_open(check):
        wanted = f", wanted {relation} the {check.wanted.title}, which is {check.wanted.text}"
    elif check.wanted is not None and check.wanted.fact and check.relation in _NUMBER_RELATIONS:
        lies = range_words(check.wanted)
        wanted = wanted if lies is None else f", wanted {relation} the {check.wanted.title}, which {lies}"
    return f"{part}{check.found.title} is {check.found.text}{place}{wanted}{state}"


def roles_text(roles: RolesCompared, style: Style = PLAIN) -> str:
    """Each possible role of a piece with the findings that it brings, those that all roles share told once."""
    shared = set.intersection(*(_keys(way.review) for way in roles.ways)) if roles.ways else set()
    lines = [style.underline(f"{roles.piece} could be each of these"), *_side_by_side(roles, shared)]
    for way in roles.ways:
        lines += ["", *_way(way, shared, style)]
    lines += [
        "",
        *wrapped(f"{counted(len(shared), 'finding')} {'is' if len(shared) == 1 else 'are'} the same whichever it is."),
    ]
    return "\n".join(lines) + "\n"


_NUMBER_RELATIONS = ("at_least", "at_most", "more_than", "less_than", "between")

_OPEN = ("at least", "at most", "more than", "less than", "not shown", "not decided")


def _is_open(check: Check) -> bool:
    """Whether what is wanted is no one number."""
    return check.wanted is not None and check.wanted.text.startswith(_OPEN)


ROLE_WIDTH = 12
"""Columns of one role in the table; what differs gets the rest."""

_COUNTED = (Outcome.CORRECTION, Outcome.NEEDS_INFORMATION, Outcome.AHJ_TO_DECIDE)


def _side_by_side(compared: RolesCompared, shared: set[tuple[str, Outcome]]) -> Iterator[str]:
    """A column for each role: how many of each outcome, then every finding in which the roles differ."""
    from tabulate import tabulate

    ways = compared.ways
    width = max(WIDTH - len(ways) * (ROLE_WIDTH + 2), ROLE_WIDTH)
    head = ["", *(_cell(f"{way.title}{' (as drawn)' if way.as_drawn else ''}", ROLE_WIDTH) for way in ways)]
    rows = [[OUTCOME_WORDS[outcome], *(str(way.review.totals()[outcome]) for way in ways)] for outcome in _COUNTED]
    by_way = [{each.id: each for each in way.review.findings} for way in ways]
    differing = [
        each
        for way in ways
        for each in way.review.findings
        if each.outcome in _SHOWN and (each.id, each.outcome) not in shared
    ]
    for identity, finding in {each.id: each for each in differing}.items():
        words = _cell(f"{finding.subject.words}: {finding.title}", width)
        rows.append([words, *(_cell(_came_out(found.get(identity)), ROLE_WIDTH) for found in by_way)])
    yield from (line.rstrip() for line in tabulate(rows, head, tablefmt="plain", disable_numparse=True).splitlines())


def _came_out(finding: Finding | None) -> str:
    return "does not apply" if finding is None else OUTCOME_WORDS[finding.outcome]


def _cell(text: str, width: int) -> str:
    return "\n".join(textwrap.wrap(harmless(text), width, break_on_hyphens=False, break_long_words=False))


def _keys(review: Review) -> set[tuple[str, Outcome]]:
    return {(finding.id, finding.outcome) for finding in review.findings if finding.outcome in _SHOWN}


def _way(way: Way, shared: set[tuple[str, Outcome]], style: Style) -> Iterator[str]:
    drawn = ", as it is drawn" if way.as_drawn else ""
    totals = way.review.totals()
    yield style.bold(f"{way.title}{drawn}")
    yield from wrapped(
        f"{counted(totals[Outcome.CORRECTION], 'correction')}, {totals[Outcome.NEEDS_INFORMATION]} not shown, "
        f"{totals[Outcome.AHJ_TO_DECIDE]} for the AHJ to decide. Of its own:",
        indent=2,
    )
    own = [each for each in way.review.findings if each.outcome in _SHOWN and (each.id, each.outcome) not in shared]
    for finding in own:
        sentence = finding.says if finding.outcome is Outcome.CORRECTION else finding.title
        yield from wrapped(f"{OUTCOME_WORDS[finding.outcome]}: {finding.subject.words}: {sentence}", indent=4)
    if not own:
        yield from wrapped("nothing.", indent=4)
