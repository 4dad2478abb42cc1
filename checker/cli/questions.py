"""The command ``questions``: one after the other, each answer written into the site file at once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from checker.catalog.model import ValueType
from checker.cli import console
from checker.cli.asking import SKIP, STOP, UNDO, WHY, as_date, typed_line
from checker.cli.entering import entered, told
from checker.cli.site_files import site_file
from checker.facts.known import Ask
from checker.report.asked import (
    answer_lines,
    by_hand_text,
    left_out_text,
    papers_words,
    part_text,
    plain_text,
    question_text,
    together_lines,
    together_text,
    waiting_words,
    why_text,
)
from checker.report.exit_status import COULD_NOT_RUN, SETTLED
from checker.report.safe import harmless
from checker.tasks.gathering.library import Library
from checker.tasks.questions.answers import answer_words, known_words, meant, understood
from checker.tasks.questions.asked import ADD, YES, Question
from checker.tasks.questions.entries import Form, form_of
from checker.tasks.questions.session import Session
from checker.tasks.questions.together import Together, assigned
from checker.tasks.reviewing import Overrides
from checker.values.problems import Unreadable
from checker.values.refusals import NotationError

if TYPE_CHECKING:
    from checker.tasks.questions.choosing import Next


def ask_questions(site: Path, overrides: Overrides) -> int:
    """Ask until nothing is left or the person stops: 0, or 2 where the site cannot be read."""
    try:
        path = site_file(site)
        console.at_work(f"Reading the rules and {path.as_posix()}.")
        session = Session(path, Library.shipped(), overrides)
        _say(plain_text(waiting_words(session.waiting, session.later)))
        _say(plain_text(f"Each answer is written into {path.as_posix()} at once."))
        _say(f"Type {UNDO} to take the last answer back, {SKIP}, {WHY} or {STOP}.")
        _ask_all(session)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return SETTLED


def _ask_all(session: Session) -> None:
    number = 1
    papers_told = False
    while (found := session.next()) is not None:
        if not papers_told and session.only_papers(found):
            papers_told = True
            _say(f"\n{plain_text(papers_words(session.papers))}")
        several = session.together(found.question)
        if several is None:
            _say(f"\n{question_text(found, number)}")
            step = _one(session, found)
        else:
            _say(f"\n{together_text(found, several, number)}")
            step = _several(session, found, several)
        if step is None:
            _say(f"\nStopped. {waiting_words(session.waiting, session.later)}")
            break
        number = max(1, number + step)
        _say(waiting_words(session.waiting, session.later))
    else:
        _say(_ASKED_ALL if session.skipped else _END)
    if session.skipped:
        _say(left_out_text(session.skipped))


_END = "\nNothing is left to ask; `review` tells what came of it."
_ASKED_ALL = "\nEverything was asked; `review` tells what came of it."


def _one(session: Session, found: Next) -> int | None:
    """How far the numbers of the questions go on, or None to stop."""
    while True:
        typed = typed_line()
        word = STOP if typed is None else typed.casefold()
        if word == STOP:
            return None
        if word == WHY:
            _say(why_text(found))
        elif word in {SKIP, _UNKNOWN}:
            session.skip(found.question)
            return 1
        elif word == UNDO:
            if _undone(session):
                return -1
        elif typed and _done(session, found.question, typed, why_text(found)):
            return 1


def _several(session: Session, found: Next, asked: Together) -> int | None:
    """As ``_one``, of several things at once: one question, and as many answers as there are."""
    while True:
        typed = typed_line()
        word = STOP if typed is None else typed.casefold()
        if word == STOP:
            return None
        if word == WHY:
            _say(why_text(found))
        elif word in {SKIP, _UNKNOWN}:
            session.answer_together(asked, {})
            return 1
        elif word == UNDO:
            if _undone(session):
                return -1
        elif typed and _assigned(session, asked, typed):
            return 1


def _assigned(session: Session, asked: Together, typed: str) -> bool:
    """Whether the answers were read and written; what stands in the way is said."""
    try:
        answers = assigned(typed, len(asked.each))
        session.answer_together(asked, answers)
    except (NotationError, Unreadable) as error:
        for line in told(error):
            _say(line)
        for line in together_lines(asked.each[0]):
            _say(line)
        return False
    for place in sorted(answers):
        _say(plain_text(f"Written for {asked.each[place].subject}: {answers[place]}."))
    return True


def _done(session: Session, question: Question, typed: str, why: str = "") -> bool:
    """Whether the question is settled by what was typed: answered, or what it found missing drawn."""
    leaf = question.leaf
    words = known_words(question) if leaf.ask is not Ask.FACT else {}
    meant_word = meant(typed, words)
    form = form_of(question)
    is_drawn = leaf.ask is Ask.EXISTS and meant_word == YES and form is not None
    if is_drawn or (leaf.ask is Ask.MORE and meant_word == ADD):
        return _listed(session, question, form, why)
    return _answered(session, question, typed)


def _listed(session: Session, question: Question, form: Form | None, why: str) -> bool:
    """List or draw one thing, and ask the same again: whether there are others."""
    if form is None:
        _say(by_hand_text(question, session.job.catalog))
        session.skip(question)
        return True
    if entered(session, question, form, why):
        verb = "Drawn" if question.leaf.ask is Ask.EXISTS else "Listed"
        _say(plain_text(f"{verb} so far: {', '.join(session.listed(question))}."))
    _say(part_text(question))
    return False


_UNKNOWN = "unknown"


def _undone(session: Session) -> bool:
    try:
        taken_back = session.undo()
    except Unreadable as error:
        _tell(error)
        return False
    if taken_back is not None:
        _say(plain_text(f"Taken back: {taken_back}"))
        return True
    _say("There is no answer to take back: what was answered in an earlier run stands in the file, change it there.")
    return False


def _answered(session: Session, question: Question, typed: str) -> bool:
    """Whether the answer was read and written; what stands in the way is said."""
    if question.fact is not None and question.fact.type is ValueType.DATE:
        typed = as_date(typed)
    try:
        taken = understood(question, typed, answer_words(question, typed))
        also = session.answer(question, typed)
    except Unreadable as error:
        _tell(error)
        for line in answer_lines(question):
            _say(line)
        return False
    if taken:
        _say(plain_text(taken))
    if also:
        _say(f"The same was written for {', '.join(also)}.")
    return True


def _tell(error: Unreadable) -> None:
    for line in told(error):
        _say(line)


def _say(text: str) -> None:
    typer.echo(harmless(text))
