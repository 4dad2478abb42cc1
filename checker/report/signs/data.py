"""The label sheet as plain data for other programs, in the shape of ``schemas/labels.schema.json``."""

from __future__ import annotations

from typing import Any

from checker.findings.finding import Review
from checker.report.programs.citations import citation_data
from checker.report.safe import json_text
from checker.report.words import sentence_of
from checker.tasks.papers.label_sheet import Asking, LabelSheet, SignWanted
from checker.version import __version__

Plain = dict[str, Any]


def labels_json(review: Review, sheet: LabelSheet) -> str:
    """The sheet as JSON text: sorted, indented, the same bytes for the same input, ending in a line feed."""
    return json_text(labels_data(review, sheet))


def labels_data(review: Review, sheet: LabelSheet) -> Plain:
    """Every sign, with whose rule asks for it and whether it is there."""
    rules = review.in_force
    return {
        "checker": __version__,
        "site": {"name": review.site_name, "file": review.file, "digest": review.digest},
        "stage": review.stage.value,
        "in_force": {"profile": rules.profile, "title": rules.title, "date": rules.date.isoformat()},
        "signs": [_sign(each) for each in sheet.signs],
    }


def _sign(wanted: SignWanted) -> Plain:
    sign = wanted.sign
    return {
        "name": wanted.name,
        "state": wanted.state.value,
        "subject": wanted.subject,
        "places": list(sign.places),
        "pieces": [{"tag": each.tag, "title": each.title} for each in wanted.pieces],
        "one_of": sign.among or None,
        "words": list(sign.words),
        "meaning": sign.meaning or None,
        "class_word": sign.class_word or None,
        "ground_color": sign.ground or None,
        "letter_color": sign.letters or None,
        "letter_height": sign.letter_height or None,
        "only_if": sign.only_if or None,
        "shown": list(sign.shown),
        "asked_by": [_asking(each) for each in wanted.askings],
    }


def _asking(asking: Asking) -> Plain:
    finding = asking.finding
    return {
        "finding": finding.number,
        "id": finding.id,
        "rule": finding.rule,
        "outcome": finding.outcome.value,
        "state": asking.state.value,
        "authority": finding.authority,
        "cites": [citation_data(each) for each in finding.cites],
        "says": sentence_of(finding),
    }
