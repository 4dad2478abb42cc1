"""What to read at each stop of the walk round a site, and what to look at there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checker.catalog.model import Stage
from checker.findings.assembling.naming import subject_name
from checker.findings.finding import Finding, Review
from checker.findings.judging.outcomes import Outcome
from checker.findings.review import Job, review
from checker.site.model import Subject
from checker.tasks.questions.asked import Question
from checker.tasks.questions.choosing import questions
from checker.tasks.questions.waiting import Open, Waiting, open_of
from checker.tasks.questions.where import Stop, stop_at


@dataclass(frozen=True, slots=True)
class Line:
    """Something to read, with its number on the sheet and the findings that wait for it."""

    number: int
    question: Question
    waits: tuple[Waiting, ...]

    @property
    def corrections(self) -> int:
        """How many of those that wait could be corrections."""
        return sum(1 for each in self.waits if each.may_correct)

    def due_later(self, stage: Stage) -> int:
        """How many of those that wait are due after a stage."""
        return sum(1 for each in self.waits if each.due.order > stage.order)


@dataclass(frozen=True, slots=True)
class StopOfWalk:
    """One stop: what is read there, then what is looked at."""

    stop: Stop
    lines: tuple[Line, ...]
    looks: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class FieldSheet:
    """The sheet of one site; only stops at which there is something to do, in walking order."""

    found: Review
    stops: tuple[StopOfWalk, ...]
    waiting: int


def field_sheet(job: Job) -> FieldSheet:
    """Put the sheet together."""
    state, found = open_of(job), review(job)
    looks = [each for each in found.findings if each.outcome is Outcome.VERIFY_IN_FIELD]
    asked = tuple(each for each in questions(state) if not _is_worked_out(each[0]))
    stops: list[StopOfWalk] = []
    number = 1
    for stop in Stop:
        here = sorted((each for each in asked if each[0].stop is stop), key=lambda each: _order(state, each))
        lines = tuple(Line(place, *each) for place, each in enumerate(here, start=number))
        number += len(lines)
        seen = tuple(each for each in looks if _stop_of(each, job) is stop)
        if lines or seen:
            stops.append(StopOfWalk(stop, lines, seen))
    return FieldSheet(found, tuple(stops), len(state.waiting))


def _is_worked_out(question: Question) -> bool:
    """Whether it is a figure that the program works out of the others: nobody reads that on site."""
    return question.fact is not None and question.leaf.subject.type in question.fact.derived_for


def _stop_of(finding: Finding, job: Job) -> Stop:
    return stop_at(Subject(finding.subject.type, finding.subject.id), job.site, job.catalog)


def _order(state: Open, asked: tuple[Question, Iterable[Waiting]]) -> tuple[object, ...]:
    """Of papers first by the paper; then along the line, then by name."""
    question, _ = asked
    paper = question.paper if question.stop is Stop.PAPERS else ""
    return (paper, _walk(state, question.leaf.subject), question.leaf.order)


def _walk(state: Open, subject: Subject) -> int:
    return subject_name(state.view, subject).walk[0]
