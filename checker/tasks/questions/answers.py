"""What a person typed as the words of the site file: letters, numbers, titles, beginnings of words, bare numbers."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from string import ascii_lowercase

from checker.catalog.model import ValueType
from checker.tasks.questions.asked import Question
from checker.values.dates import read_date_as_typed
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable
from checker.values.refusals import NotationError

_BARE_NUMBER = re.compile(r"[-+]?[0-9][0-9,]*(?:\.[0-9]+)?|\.[0-9]+").fullmatch
_LEAST_LETTERS = 3
"""So many letters of a word are enough where no other choice begins so."""

_ALSO = {"outside": "outdoors", "inside": "indoors", "y": "yes", "n": "no", "none of them": "none"}
"""What people say for a word of the catalog."""


def answer_words(question: Question, typed: str) -> tuple[str, ...]:
    """The words that an answer stands for: letters and titles of choices become their words, a bare number gets the
    unit that was asked for. Raises Unreadable.
    """
    known, fact = known_words(question), question.fact
    if fact is not None and fact.several:
        parts = [each.strip() for each in typed.split(",") if each.strip()]
    else:
        parts = [typed.strip()]
    words = tuple(_each_alternative(part, lambda one: _word(one, question, known)) for part in parts)
    if not words or any(not word for word in words):
        raise Unreadable([Problem("Nothing was typed.", None, "Type an answer, or skip.")])
    if fact is None or (question.choices and not question.kind_of_answer):
        _refuse_others(words, question, known)
    return words


def _word(typed: str, question: Question, known: Mapping[str, str]) -> str:
    if not question.kind_of_answer:
        return meant(typed, known) or typed
    exact = known.get(plain(typed))
    return exact if exact is not None else _with_unit(typed, question)


def _with_unit(typed: str, question: Question) -> str:
    """A bare number in the unit that the question names; a date in the one way in which it can be read."""
    if question.fact is not None and question.fact.type is ValueType.DATE:
        try:
            return read_date_as_typed(typed).isoformat()
        except NotationError:
            return typed
    return f"{typed} {question.unit}" if question.unit and _BARE_NUMBER(typed) else typed


def meant(typed: str, known: Mapping[str, str]) -> str | None:
    """The one choice that is meant: by its letter or number, its words, or the beginning of them; None where none is,
    or more than one.
    """
    said = plain(typed)
    if said in known:
        return known[said]
    also = _ALSO.get(said)
    if also is not None and also in known:
        return known[also]
    bare = _letters_only(said)
    same = {word for each, word in known.items() if _letters_only(each) == bare}
    if len(same) == 1:
        return same.pop()
    begun = {word for each, word in known.items() if len(said) >= _LEAST_LETTERS and _begins(each, said)}
    return begun.pop() if len(begun) == 1 else None


def _begins(words: str, said: str) -> bool:
    """Whether the words begin so; within a word only where it is one word."""
    return words.startswith(said) and (" " not in words or words[len(said)] == " ")


def _letters_only(text: str) -> str:
    return "".join(char for char in text if char.isalnum())


def _refuse_others(words: tuple[str, ...], question: Question, known: Mapping[str, str]) -> None:
    valid = {choice.word for choice in question.choices}
    for word in words:
        for one in word.split(" or "):
            if one.strip() not in valid:
                near = nearest(one, known)
                sentence = f"{one} is none of the choices."
                raise Unreadable([Problem(sentence, None, "Type a letter, or the words.", near)])


def letters(count: int) -> tuple[str, ...]:
    """So many letters for choices: a to z, then aa, ab."""
    singles = tuple(ascii_lowercase)
    return (*singles, *(first + second for first in singles for second in singles))[:count]


def known_words(question: Question) -> dict[str, str]:
    """Each word by what may be typed for it: a letter, the word itself, its title; its number, unless one is asked."""
    return words_by_typing({choice.word: choice.title for choice in question.choices}, not question.kind_of_answer)


def words_by_typing(choices: Mapping[str, str], may_count: bool) -> dict[str, str]:
    """Each word of the choices by what may be typed for it."""
    known: dict[str, str] = {}
    for number, (letter, word) in enumerate(zip(letters(len(choices)), choices, strict=True), start=1):
        known[letter] = word
        if may_count:
            known[str(number)] = word
    for word, title in choices.items():
        known.setdefault(plain(title), word)
    for word in choices:
        known[plain(word)] = word
    known.pop("", None)
    return known


def _each_alternative(typed: str, change: Callable[[str], str]) -> str:
    return " or ".join(change(each.strip()) for each in typed.split(" or "))


def plain(word: str) -> str:
    """Small letters, single spaces."""
    return " ".join(word.replace("_", " ").casefold().split())
