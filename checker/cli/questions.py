"""The command ``questions``: one after the other, each answer written into the site file at once."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

from checker.cli import console
from checker.cli.asking import SKIP, STOP, UNDO, WHY, typed_line
from checker.cli.site_files import site_file
from checker.report.asked import question_text, waiting_words, why_text
from checker.report.exit_status import COULD_NOT_RUN, SETTLED
from checker.report.safe import harmless
from checker.tasks.questions.session import Session
from checker.tasks.reviewing import Library, Overrides
from checker.values.problems import Unreadable

if TYPE_CHECKING:
    from checker.tasks.questions.choosing import Next


def ask_questions(site: Path, overrides: Overrides) -> int:
    """Ask until nothing is left or the person stops: 0, or 2 where the site cannot be read."""
    try:
        path = site_file(site)
        session = Session(path, Library.shipped(), overrides)
        _say(f"{waiting_words(session.waiting, session.later)} Each answer is written into {path.as_posix()} at once.")
        _say(f"Type {UNDO} to take the last answer back, {SKIP}, {WHY} or {STOP}.")
        _ask_all(session)
    except Unreadable as error:
        console.problems(error.problems)
        return COULD_NOT_RUN
    return SETTLED


def _ask_all(session: Session) -> None:
    number = 1
    while (found := session.next()) is not None:
        _say(f"\n{question_text(found, number)}")
        step = _one(session, found)
        if step is None:
            _say(f"\nStopped. {waiting_words(session.waiting, session.later)}")
            return
        number = max(1, number + step)
        _say(waiting_words(session.waiting, session.later))
    _say(_END)


_END = "\nNothing is left to ask; `review` tells what came of it."


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
        elif typed and _answered(session, found, typed):
            return 1


_UNKNOWN = "unknown"


def _undone(session: Session) -> bool:
    try:
        if session.undo():
            return True
    except Unreadable as error:
        _tell(error)
        return False
    _say("There is no answer to take back.")
    return False


def _answered(session: Session, found: Next, typed: str) -> bool:
    """Whether the answer was read and written; what stands in the way is said."""
    try:
        session.answer(found.question, typed)
    except Unreadable as error:
        _tell(error)
        return False
    return True


def _tell(error: Unreadable) -> None:
    for problem in error.problems:
        near = f" Nearest valid name: {problem.near}." if problem.near else ""
        _say(f"{problem.sentence} {problem.remedy}{near}")


def _say(text: str) -> None:
    typer.echo(harmless(text))
