"""Something that is to be listed or drawn, asked fact by fact on a terminal."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import typer

from checker.catalog.model import Fact
from checker.cli import asking
from checker.cli.asking import SKIP, STOP, UNDO, WHY
from checker.facts.numbers import cited
from checker.report.asked import answer_lines, choice_text, part_text, part_why_text, plain_text
from checker.report.safe import harmless
from checker.tasks.drafting.yaml_text import quoted
from checker.tasks.questions.answers import answer_words, meant, understood, words_by_typing
from checker.tasks.questions.asked import Question
from checker.tasks.questions.entries import (
    CONTINUOUS,
    NAME,
    Form,
    Part,
    What,
    candidates,
    current_behind,
    current_of,
    part_question,
    power_words,
    rating_words,
)
from checker.tasks.questions.session import Session
from checker.tasks.questions.trade_words import plain
from checker.tasks.questions.writing import yaml_of
from checker.values.problems import Unreadable
from checker.values.refusals import NotationError


class _Left(Exception):
    """The person leaves the entry; nothing of it is kept."""


def entered(session: Session, question: Question, form: Form, why: str = "") -> bool:
    """Ask what is to be listed or drawn and write it; False where it was left, or cannot be written. ``why`` tells what
    waits for it.
    """
    say(f"   Type {SKIP} for what is not known, {WHY}, or {UNDO} to leave this entry.")
    try:
        what = _what(form, why)
        facts = {} if what is None else {name: _yaml(value) for name, value in what.facts.items()}
        for part in form.parts:
            value = _value(session, form, part, what) if part.is_asked(what, facts) else None
            if value is not None:
                facts[part.fact] = value
        tag = session.enter(question, form, facts)
    except _Left:
        say("Left; nothing of it was written.")
        return False
    except Unreadable as error:
        for line in told(error):
            say(line)
        return False
    say(f"Written: {tag}: {{{', '.join(f'{name}: {value}' for name, value in facts.items())}}}")
    return True


def _yaml(word: str) -> str:
    return word if word in ("yes", "no") else quoted(word)


def _what(form: Form, why: str) -> What | None:
    """By which of its words it is called, where the form has such."""
    if not form.whats:
        return None
    titles = {each.word: each.title for each in form.whats}
    also = {each: what.word for what in form.whats for each in what.also}
    say(f"   {form.what_sentence}")
    word = _chosen(titles, also, why) or _not_known(form)
    return next(each for each in form.whats if each.word == word)


def _not_known(form: Form) -> str:
    """The word that says nothing of it, where the form has one. Raises _Left where it has none: nothing is listed of
    what has no name, and the question that led here stays open.
    """
    for what in form.whats:
        if not what.facts:
            say(f"   Taken as: {what.title}.")
            return what.word
    raise _Left


def _chosen(titles: Mapping[str, str], also: Mapping[str, str], why: str) -> str | None:
    """One of several words, each with its title; some with other words for it. None where it is not known."""
    known = words_by_typing(titles, may_count=True) | {plain(each): word for each, word in also.items()}
    say(choice_text(titles))
    while True:
        typed = _typed()
        if typed == WHY:
            say(why or "It settles what the calculations and the rules count it as.")
            continue
        if typed == SKIP:
            return None
        word = meant(typed, known)
        if word is not None:
            return word
        say(f"{typed} is none of the choices. Type a letter, or the words.")
        say(choice_text(titles))


def _value(session: Session, form: Form, part: Part, what: What | None) -> str | None:
    """The YAML of one fact; None where it was left open."""
    catalog, site = session.job.catalog, session.job.site
    found = part_question(form, part, site, catalog)
    if part.among and len(candidates(part, site, catalog)) == 1:
        return quoted(found.choices[0].word)
    fact = catalog.facts[part.fact]
    say(part_text(found))
    while True:
        typed = _typed()
        if typed == WHY:
            say(part_why_text(fact))
            continue
        if typed == SKIP:
            return quoted(what.title.split(",")[0]) if what is not None and part.fact == NAME else None
        try:
            rating = _rating(session, typed, fact, what)
            words = session.readable(found, answer_words(found, rating))
            if taken := understood(found, typed, words):
                say(plain_text(f"   {taken}"))
            return yaml_of(fact, words)
        except (NotationError, Unreadable) as error:
            for line in told(error):
                say(line)
            say("\n".join(answer_lines(found)))


def _rating(session: Session, typed: str, fact: Fact, what: What | None) -> str:
    """A rating as the site file takes it; of what lasts for hours it is asked whether a current is its breaker's."""
    current = current_of(typed, fact) if what is not None and what.lasts else None
    if current is None or current.volts is None:
        return rating_words(typed, fact, what)
    say(f"   Is {current.words} the current of the load itself, or its breaker?")
    whose = _chosen(_WHOSE, _WHOSE_ALSO, _WHOSE_WHY)
    if whose is None:
        raise NotationError(f"{current.words} gives no rating while that is not known.", _NO_RATING)
    if whose == _BREAKER:
        current = current_behind(current, session.job.rules.numbers)
        cites = cited(session.job.rules.numbers, CONTINUOUS)
        say(plain_text(f"   {current.words} is the most that it may draw for hours behind that breaker ({cites})."))
    return power_words(current)


_BREAKER = "breaker"
_WHOSE = {"load": "the load itself, by its nameplate or its setting", _BREAKER: "the breaker of its circuit"}
_WHOSE_ALSO = {"charger": "load", "nameplate": "load", "the load": "load", "circuit": _BREAKER}
_NO_RATING = f"Write the rating of its nameplate, or {SKIP} to leave the rating open."
_WHOSE_WHY = (
    "A load that lasts for hours has a breaker that is larger than what it draws, and the set carries what it draws."
)


def _typed() -> str:
    """What was typed; raises _Left at undo, stop or where nothing more can come."""
    while True:
        typed = asking.typed_line()
        if typed is None or typed.casefold() in (UNDO, STOP):
            raise _Left
        if typed:
            return typed.casefold() if typed.casefold() in (SKIP, WHY) else typed


def told(error: NotationError | Unreadable) -> Iterator[str]:
    """What stands in the way, a line for each problem."""
    problems = (error,) if isinstance(error, NotationError) else error.problems
    for problem in problems:
        near = f" Nearest valid name: {problem.near}." if problem.near else ""
        yield f"{problem.sentence} {problem.remedy}{near}"


def say(text: str) -> None:
    """Lines for a person."""
    typer.echo(harmless(text))
