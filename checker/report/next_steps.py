"""What is decided and who is to be asked next, in a few sentences for who is no reader of codes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from checker.findings.finding import Finding, Need, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.words import counted, joined

_PARTIES = {
    "contractor": "the contractor",
    "engineer": "the engineer",
    "utility": "the utility",
    "gas_utility": "the gas supplier",
    "owner": "the owner",
    "ahj": "the AHJ",
}
"""Who acts, in the order in which they are named."""

_GIVEN_BY = {"utility letter": "utility", "gas utility letter": "gas_utility", "owner": "owner"}
"""Papers that somebody else writes, by how they begin, and who that is."""

_WANTED, _WAITS, _DECIDES = "wanted", "waits", "decides"

_KINDS = {
    _WANTED: ("{} correction", "{} corrections"),
    _WAITS: ("what {} finding waits for", "what {} findings wait for"),
    _DECIDES: ("{} decision", "{} decisions"),
}
"""What is asked of somebody, of one finding and of several."""


def next_steps(review: Review) -> Iterator[str]:
    """How many findings meet, and whom to ask for what is due now, with counts."""
    met = review.totals()[Outcome.MET]
    if met:
        yield f"{counted(met, 'finding')} {'meets' if met == 1 else 'meet'} the rules as shown."
    asked = Counter(pair for each in review.findings for pair in _steps(review, each))
    told = [_asked_of(party, asked) for party in _PARTIES if any(asked[party, kind] for kind in _KINDS)]
    if told:
        yield f"Ask next: {'; '.join(told)}."
    elif met:
        yield "Nobody has to be asked for anything that is due now."


def _steps(review: Review, finding: Finding) -> Iterator[tuple[str, str]]:
    """Who has to do what about a finding: to correct, to give what it waits for, or to decide."""
    if finding.outcome is Outcome.CORRECTION:
        yield finding.who_acts, _WANTED
    elif finding.outcome is Outcome.AHJ_TO_DECIDE and finding.is_open_at(review.stage):
        yield "ahj", _DECIDES
    elif finding.is_open_at(review.stage):
        yield _who_gives(review, finding), _WAITS


def _who_gives(review: Review, finding: Finding) -> str:
    """Who writes what is waited for: of several needs one that only somebody outside the job can give, since the
    finding waits for that longest.
    """
    givers = (_giver(review, need) for need in finding.needs if not need.in_place_of)
    return next((each for each in givers if each), finding.who_acts)


def _giver(review: Review, need: Need) -> str:
    source = need.fact.partition(".")[0].rpartition("~")[2]
    if any(each.tag == source and each.kind == "generator" for each in review.one_line.pieces):
        # What a set gives stands on its own sheet.
        return ""
    return next((party for paper, party in _GIVEN_BY.items() if need.paper.startswith(paper)), "")


def _asked_of(party: str, asked: Counter[tuple[str, str]]) -> str:
    parts = [_part(kind, asked[party, kind]) for kind in _KINDS if asked[party, kind]]
    return f"{_PARTIES[party]} for {joined(parts)}"


def _part(kind: str, number: int) -> str:
    one, several = _KINDS[kind]
    return (one if number == 1 else several).format(number)
