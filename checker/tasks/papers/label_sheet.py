"""The label sheet of a review: every sign that the rules in force want, where it stands, and whether it is there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from enum import Enum

from checker.findings.finding import Finding, PieceOfLine, Review, Sign
from checker.findings.judging.outcomes import Outcome
from checker.values.truth import Truth


class SignState(Enum):
    """Whether a sign is there."""

    THERE = "there"
    MISSING = "missing"
    LOOK = "to_be_looked_at"
    OPEN = "not_told"
    AHJ = "ahj_to_decide"
    PERMITTED = "by_special_permission"


@dataclass(frozen=True, slots=True)
class Asking:
    """A finding that asks for a sign."""

    finding: Finding
    state: SignState


@dataclass(frozen=True, slots=True)
class SignWanted:
    """One sign of the sheet. ``name`` is the number of its finding, with a letter where that wants several. ``pieces``
    are those of its places that stand on the one-line. Several findings that ask for the same are told together, the
    one that is worst first. ``metric`` says whether the site is described in metric units, which then lead.
    """

    name: str
    sign: Sign
    subject: str
    pieces: tuple[PieceOfLine, ...]
    askings: tuple[Asking, ...]
    metric: bool = False

    @property
    def state(self) -> SignState:
        """Whether it is there, by the finding that is worst."""
        return self.askings[0].state

    @property
    def is_engraved(self) -> bool:
        """Whether its words are prescribed, so that it can be drawn."""
        return bool(self.sign.words)


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """Every sign, in the order in which somebody walks along the line."""

    signs: tuple[SignWanted, ...]

    def of_state(self, state: SignState) -> tuple[SignWanted, ...]:
        """Those of which this is told."""
        return tuple(each for each in self.signs if each.state is state)


def label_sheet(review: Review) -> LabelSheet:
    """The signs that the rules in force want at this site."""
    walk = {piece.tag: place for place, piece in enumerate(review.one_line.pieces)}
    pieces = {piece.tag: piece for piece in review.one_line.pieces}
    wanted = _joined([each for finding in review.findings for each in _of_finding(finding, pieces)])
    metric = is_metric(review.described.stated.values())
    told = (replace(each, metric=metric) for each in sorted(wanted, key=lambda each: _place(each, walk)))
    return LabelSheet(tuple(told))


_METRIC = re.compile(r"\d\s*(?:mm|cm|m|km)\b")
_FEET_AND_INCHES = re.compile(r"\d\s*(?:ft\b|in\b|['\"])")


def is_metric(stated: Iterable[str]) -> bool:
    """Whether more lengths of a description are written in metric units than in feet and inches."""
    texts = tuple(stated)
    metric, other = (sum(bool(unit.search(each)) for each in texts) for unit in (_METRIC, _FEET_AND_INCHES))
    return metric > other


def _of_finding(finding: Finding, pieces: dict[str, PieceOfLine]) -> Iterator[SignWanted]:
    if finding.outcome is Outcome.NOT_APPLICABLE:
        return
    for place, sign in enumerate(finding.signs):
        letter = chr(ord("a") + place) if len(finding.signs) > 1 else ""
        on_line = tuple(pieces[tag] for tag in sign.places if tag in pieces)
        asking = Asking(finding, _state(finding, sign))
        yield SignWanted(f"{finding.number}{letter}", sign, finding.subject.words, on_line, (asking,))


_BY_OUTCOME = {
    Outcome.MET: SignState.THERE,
    Outcome.CORRECTION: SignState.MISSING,
    Outcome.RECOMMENDATION: SignState.MISSING,
    Outcome.NOTE: SignState.MISSING,
    Outcome.VERIFY_IN_FIELD: SignState.LOOK,
    Outcome.AHJ_TO_DECIDE: SignState.AHJ,
    Outcome.SPECIAL_PERMISSION: SignState.PERMITTED,
    Outcome.NEEDS_INFORMATION: SignState.OPEN,
    Outcome.RULE_ERROR: SignState.OPEN,
}


def _state(finding: Finding, sign: Sign) -> SignState:
    """What is told of a sign: of a rule that asks for more by its own part, otherwise by the finding as a whole. What
    may not be wanted at all is not missing, and what rests on an assumption is not there.
    """
    by_finding = _BY_OUTCOME[finding.outcome]
    if finding.assumed and by_finding is SignState.THERE:
        return SignState.OPEN
    applies = Outcome.NOT_APPLICABLE not in finding.could_be
    if sign.holds is None or not applies or by_finding in (SignState.AHJ, SignState.PERMITTED):
        return by_finding
    return {Truth.YES: SignState.THERE, Truth.NO: SignState.MISSING, Truth.UNKNOWN: SignState.OPEN}[sign.holds]


_WORST_FIRST = (
    SignState.MISSING,
    SignState.AHJ,
    SignState.OPEN,
    SignState.LOOK,
    SignState.PERMITTED,
    SignState.THERE,
)


def _joined(wanted: list[SignWanted]) -> list[SignWanted]:
    """One sign for all findings that ask for the same at the same place."""
    found: dict[object, SignWanted] = {}
    for each in wanted:
        sign = each.sign
        same = (sign.words, sign.meaning, sign.class_word, sign.places or each.subject, sign.among, _looks(sign))
        first = found.get(same)
        found[same] = each if first is None else _together(first, each)
    return list(found.values())


def _looks(sign: Sign) -> tuple[str, ...]:
    return (sign.ground, sign.letters, sign.letter_height, sign.only_if)


def _together(one: SignWanted, other: SignWanted) -> SignWanted:
    askings = sorted((*one.askings, *other.askings), key=lambda each: _WORST_FIRST.index(each.state))
    return replace(one, askings=tuple(askings))


_AFTER_ALL = 10**6


def _place(wanted: SignWanted, walk: dict[str, int]) -> tuple[int, int, str]:
    """Its place on the walk: that of its piece, otherwise of what its finding is about."""
    first = wanted.askings[0].finding
    tags = [walk[piece.tag] for piece in wanted.pieces] or [walk.get(first.subject.walk[1], _AFTER_ALL)]
    return min(tags), first.number, wanted.name
