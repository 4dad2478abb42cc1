"""The papers of a job as plain data for other programs, in the shape of ``schemas/submittal.schema.json``."""

from __future__ import annotations

from typing import Any

from checker.findings.finding import Review
from checker.report.programs.citations import citation_data
from checker.report.safe import json_text
from checker.rules.model.profile import OwnPaper
from checker.tasks.papers.submittal import Asking, PaperAnswering, PaperBeside, PaperCommon, PaperWanted, Submittal
from checker.version import __version__

Plain = dict[str, Any]


def submittal_json(review: Review, found: Submittal) -> str:
    """The list as JSON text: sorted, indented, the same bytes for the same input, ending in a line feed."""
    return json_text(submittal_data(review, found))


def submittal_data(review: Review, found: Submittal) -> Plain:
    """Every paper, with who asks for it and what it has to show."""
    rules = review.in_force
    return {
        "checker": __version__,
        "site": {"name": review.site_name, "file": review.file, "digest": review.digest},
        "stage": review.stage.value,
        "in_force": {"profile": rules.profile, "title": rules.title, "date": rules.date.isoformat()},
        "list_complete": found.told_complete,
        "papers": [_paper(each) for each in found.wanted],
        "answering": [_answering(each) for each in found.answering],
        "beside": [_beside(each) for each in found.beside],
        "common": [_common(each) for each in found.common],
    }


def _paper(wanted: PaperWanted) -> Plain:
    return {
        "papers": list(wanted.names),
        "title": wanted.title,
        "state": wanted.state.value,
        "made_by": wanted.made_by or None,
        "declared": [_declared(each) for each in wanted.declared],
        "asked_by": [_asking(each) for each in wanted.askings],
    }


def _declared(paper: OwnPaper) -> Plain:
    return {
        "paper": paper.name,
        "means": paper.means,
        "due": paper.due.value,
        "cites": [citation_data(each) for each in paper.cites],
    }


def _asking(asking: Asking) -> Plain:
    finding = asking.finding
    return {
        "finding": finding.number,
        "id": finding.id,
        "rule": finding.rule,
        "outcome": finding.outcome.value,
        "due": finding.due.value,
        "state": asking.state.value,
        "authority": finding.authority,
        "cites": [citation_data(each) for each in finding.cites],
        "shows": [{"what": each.words, "shown": each.truth.value} for each in asking.shows],
    }


def _answering(answering: PaperAnswering) -> Plain:
    return {
        "title": answering.title,
        "in_packet": answering.in_packet,
        "findings": [each.number for each in answering.findings],
        "facts": list(answering.facts),
    }


def _common(common: PaperCommon) -> Plain:
    return {
        "paper": common.name,
        "title": common.title,
        "what": common.what,
        "in_packet": common.in_packet,
        "made_by": common.made_by or None,
    }


def _beside(beside: PaperBeside) -> Plain:
    return {"title": beside.title, "shows": list(beside.shows)}
