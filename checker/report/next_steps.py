"""What is decided and who is to be asked next, in a few sentences for who is no reader of codes. A number of a finding
is a part of its own, so that a page can lead to it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from checker.findings.finding import Finding, Need, Review
from checker.findings.judging.outcomes import Outcome
from checker.report.words import counted

Sentence = tuple[str | int, ...]
"""A sentence in its parts: words, and numbers of findings, which lead to them."""

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


def next_steps(review: Review) -> Iterator[Sentence]:
    """How many findings meet, and whom to ask for what is due now, with counts and numbers."""
    met = review.totals()[Outcome.MET]
    if met:
        yield (f"{counted(met, 'finding')} {'meets' if met == 1 else 'meet'} the rules as shown.",)
    asked: dict[tuple[str, str], list[int]] = {}
    for each in review.findings:
        for step in _steps(review, each):
            asked.setdefault(step, []).append(each.number)
    told = [_asked_of(party, asked) for party in _PARTIES if any((party, kind) in asked for kind in _KINDS)]
    if told:
        yield ("Ask next: ", *_between(told, "; "), ".")
    elif met:
        yield ("Nobody has to be asked for anything that is due now.",)


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


def _asked_of(party: str, asked: Mapping[tuple[str, str], Sequence[int]]) -> Sentence:
    parts = [_part(kind, asked[party, kind]) for kind in _KINDS if (party, kind) in asked]
    return (f"{_PARTIES[party]} for ", *_listed(parts))


def _part(kind: str, numbers: Sequence[int]) -> Sentence:
    one, several = _KINDS[kind]
    told = (one if len(numbers) == 1 else several).format(len(numbers))
    return (f"{told} (", *_between(_runs(numbers), ", "), ")")


_RUN = 3
"""So many numbers that follow on each other are told by the first and the last."""


def _runs(numbers: Sequence[int]) -> Iterator[Sentence]:
    """The numbers in their order, those that follow on each other as ``1 to 13``."""
    ordered = sorted(numbers)
    for _, group in groupby(enumerate(ordered), key=lambda each: each[1] - each[0]):
        run = [number for _, number in group]
        if len(run) < _RUN:
            yield from ((number,) for number in run)
        else:
            yield (run[0], " to ", run[-1])


def _listed(parts: Sequence[Sentence]) -> Sentence:
    """One part, one and two, or one, two and three."""
    *most, last = parts
    return (*_between(most, ", "), " and ", *last) if most else last


def _between(parts: Iterable[Sentence], mark: str) -> Sentence:
    """The parts one after the other, with a mark between them."""
    listed: list[str | int] = []
    for each in parts:
        listed += [mark, *each] if listed else each
    return tuple(listed)
