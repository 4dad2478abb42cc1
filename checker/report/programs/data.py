"""A review as plain data for other programs, in the shape of ``schemas/review.schema.json``."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from checker.engineering.worksheet import Worksheet
from checker.findings.finding import (
    BreakEven,
    Check,
    Deleted,
    Figure,
    Finding,
    Need,
    Notice,
    OneLine,
    PieceOfLine,
    Review,
    States,
)
from checker.findings.judging.outcomes import Outcome
from checker.report.programs.citations import citation_data
from checker.report.safe import json_text
from checker.report.words import sentence_of
from checker.values.positions import Position
from checker.version import __version__

Plain = dict[str, Any]


def json_report(review: Review) -> str:
    """The report as JSON text: sorted, indented, the same bytes for the same input, ending in a line feed."""
    return json_text(review_data(review))


def json_reports(reviews: Iterable[Review]) -> str:
    """The reports of several sites as one JSON list, in their order."""
    return json_text([review_data(review) for review in reviews])


def review_data(review: Review) -> Plain:
    """Everything that the review found, as dictionaries, lists, texts and whole numbers."""
    rules = review.in_force
    return {
        "checker": __version__,
        "site": {"name": review.site_name, "file": review.file, "digest": review.digest},
        "stage": review.stage.value,
        "in_force": {
            "profile": rules.profile,
            "title": rules.title,
            "date": rules.date.isoformat(),
            "event": rules.event,
            "elected": list(rules.elected) or None,
            "packs": [{"pack": each.pack, "edition": each.edition, "digest": each.digest} for each in rules.packs],
            "layers": [
                {"layer": each.layer, "authority": each.authority, "digest": each.digest} for each in rules.layers
            ],
        },
        "states": _states(review.states),
        "one_line": _one_line(review.one_line),
        "totals": {outcome.value: number for outcome, number in review.totals().items()},
        "findings": [_finding(finding) for finding in review.findings],
        "notices": [_notice(notice) for notice in review.notices],
        "worksheets": {name: _worksheet(sheet) for name, sheet in review.worksheets.items()},
        "deleted_here": [_deleted(each) for each in review.deleted],
        "cautions": list(review.cautions),
        "not_covered": list(review.not_covered),
    }


def _states(states: States) -> Plain:
    return {
        "walked": [
            {"name": each.name, "feeds": [{"source": source, "pieces": list(tags)} for source, tags in each.feeds]}
            for each in states.walked
        ],
        "not_walked": states.not_walked,
    }


def _one_line(line: OneLine) -> Plain:
    return {
        "pieces": [_piece(each) for each in line.pieces],
        "connections": [
            {"id": each.id, "from": each.source, "to": each.to, "input": each.input} for each in line.connections
        ],
        "bonds": list(line.bonds),
    }


def _piece(piece: PieceOfLine) -> Plain:
    return {
        "tag": piece.tag,
        "kind": piece.kind,
        "title": piece.title,
        "role": piece.role,
        "first_after_meter": piece.first,
    }


def _finding(finding: Finding) -> Plain:
    return {
        "id": finding.id,
        "number": finding.number,
        "rule": finding.rule,
        "title": finding.title,
        "subject": dict(finding.subject.parts),
        "outcome": finding.outcome.value,
        "could_be": [outcome.value for outcome in finding.could_be],
        "without_permission": _outcome(finding.without_permission),
        "due": finding.due.value,
        "force": finding.force.value,
        "basis": finding.basis.value,
        "authority": finding.authority,
        "cites": [citation_data(cite) for cite in finding.cites],
        "checks": [_check(check) for check in finding.checks],
        "exceptions": [
            {
                "id": each.id,
                "holds": each.holds.value,
                "because": each.because,
                "cites": [citation_data(cite) for cite in each.cites],
            }
            for each in finding.exceptions
        ],
        "ways": [
            {"name": way.name, "holds": way.holds.value, "lacks": [_check(check) for check in way.lacks]}
            for way in finding.ways
        ],
        "readings": [
            {"name": each.name, "held_by": each.held_by, "holds": each.holds.value} for each in finding.readings
        ],
        "versions": [
            {"held_by": each.held_by, "could_be": [outcome.value for outcome in each.could_be]}
            for each in finding.versions
        ],
        "history": list(finding.history),
        "interpretations": list(finding.interpretations),
        "permission": finding.permission,
        "break_even": _break_even(finding.break_even),
        "harm": finding.harm.value,
        "follows_from": finding.follows_from,
        "under": finding.under,
        "before": list(finding.before),
        "companions": list(finding.companions),
        "who_acts": finding.who_acts,
        "reasons": list(finding.reasons),
        "needs": [_need(need) for need in finding.needs],
        "assumed": list(finding.assumed),
        "unconfirmed": list(finding.unconfirmed),
        "says": sentence_of(finding),
        "because": finding.because,
        "look": finding.look,
        "why": finding.why,
        "remedy": list(finding.remedy),
        "cautions": list(finding.cautions),
        "covers": list(finding.covers),
    }


def _deleted(deleted: Deleted) -> Plain:
    return {
        "rule": deleted.rule,
        "title": deleted.title,
        "by": deleted.layer,
        "told": deleted.told,
        "cites": [citation_data(cite) for cite in deleted.deleted_by],
    }


def _outcome(outcome: Outcome | None) -> str | None:
    return None if outcome is None else outcome.value


def _check(check: Check) -> Plain:
    return {
        "part": check.part,
        "holds": check.holds.value,
        "relation": check.relation,
        "found": _figure(check.found),
        "wanted": None if check.wanted is None else _figure(check.wanted),
    }


def _figure(figure: Figure) -> Plain:
    return {
        "fact": figure.fact,
        "title": figure.title,
        "text": figure.text,
        "unit": figure.unit,
        "low": figure.low,
        "high": figure.high,
        "at": _position(figure.at),
        "per": figure.per,
        "worksheet": figure.worksheet,
        "state": figure.state,
    }


def _position(at: Position | None) -> str | None:
    return None if at is None else str(at)


def _break_even(turn: BreakEven | None) -> Plain | None:
    if turn is None:
        return None
    return {"fact": turn.fact, "relation": turn.relation, "value": turn.value, "unit": turn.unit, "text": turn.text}


def _need(need: Need) -> Plain:
    return {
        "ask": need.ask,
        "fact": need.fact,
        "title": need.title,
        "paper": need.paper,
        "known_at": need.stage.value,
        "in_place_of": need.in_place_of or None,
    }


def _notice(notice: Notice) -> Plain:
    return {"kind": notice.kind, "sentence": notice.sentence, "at": _position(notice.at), "remedy": notice.remedy}


def _worksheet(sheet: Worksheet) -> Plain:
    return {
        "title": sheet.title,
        "subject": sheet.subject,
        "limits": sheet.limits,
        "assumptions": list(sheet.assumptions),
        "lines": [
            {
                "letter": line.letter,
                "quantity": line.quantity,
                "how": line.how,
                "value": f"{line.value} {line.unit}" if line.unit else line.value,
                "from": line.source,
            }
            for line in sheet.lines
        ],
    }
