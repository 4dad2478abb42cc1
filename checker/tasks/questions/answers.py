"""What a person typed as the words of the site file: letters, numbers, titles, beginnings of words, bare numbers."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterable, Mapping
from string import ascii_lowercase

from checker.catalog.model import ValueType
from checker.tasks.questions.asked import NO, NONE, Question
from checker.tasks.questions.trade_words import (
    TradeWords,
    figure_and_place,
    plain,
    rating_and_poles,
    trade_words,
    voltages_first,
    without_cable,
    without_dropped,
)
from checker.values.conductors import is_insulation
from checker.values.dates import read_date_as_typed
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable
from checker.values.refusals import NotationError

_BARE_NUMBER = re.compile(r"[-+]?[0-9][0-9,]*(?:\.[0-9]+)?|\.[0-9]+").fullmatch
_LEAST_LETTERS = 3
"""So many letters of a word are enough where no other choice begins so."""

_ALSO = {"outside": "outdoors", "inside": "indoors", "y": "yes", "n": "no", "none of them": "none"}
"""What people say for a word of the catalog."""

_NOT_THERE = frozenset({"no", "n", "nothing", "there are none", "there is none", "not there"})
"""What people say for none, where no is no choice."""


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
    if fact is not None and fact.name.endswith(_INSULATION):
        _refuse_no_insulation(words)
    return words


_INSULATION = ".insulation"


def _refuse_no_insulation(words: Iterable[str]) -> None:
    for word in words:
        if not is_insulation(word):
            sentence = f"{word} is no type of insulation that is known here."
            raise Unreadable([Problem(sentence, None, "Type the letters of its print, as THWN-2, or skip.")])


def _word(typed: str, question: Question, known: Mapping[str, str]) -> str:
    words = TradeWords() if question.fact is None else trade_words(question.fact.name)
    _refuse_doubtful(plain(typed), words, question)
    if not question.kind_of_answer:
        return meant(typed, known) or _meant_without(typed, words, known) or typed
    exact = known.get(plain(typed)) or known.get(without_dropped(plain(typed), words))
    if exact is not None:
        return exact
    if plain(typed) in _NOT_THERE and NONE in known:
        return NONE
    return _as_it_is_read(typed, words, question)


def _meant_without(typed: str, words: TradeWords, known: Mapping[str, str]) -> str | None:
    """The choice that is meant by an answer with words beside it that change nothing."""
    said = plain(typed)
    if said in _NOT_THERE and NONE in known and NO not in known:
        return NONE
    if words.drop and (word := meant(without_dropped(said, words), known)) is not None:
        return word
    if not words.further:
        return None
    begun = {word for each, word in known.items() if len(each) >= _LEAST_LETTERS and said.startswith(f"{each} ")}
    return begun.pop() if len(begun) == 1 else None


def _refuse_doubtful(said: str, words: TradeWords, question: Question) -> None:
    """Refuse a word that can mean several values, and one that answers something else."""
    several = words.asks.get(said)
    if several is not None:
        titles = {choice.word: choice.title or choice.word.replace("_", " ") for choice in question.choices}
        can = " or ".join(titles[each] for each in several if each in titles)
        raise Unreadable([Problem(f"{said} can be {can}.", None, "Type which of them.")])
    if said in words.no_answer:
        raise Unreadable([Problem(words.no_answer[said], None, "Type a letter, or the words.")])


def _as_it_is_read(typed: str, words: TradeWords, question: Question) -> str:
    """What is no choice, as a site file takes it: a bare number in the unit that the question names, a date in the one
    way in which it can be read, conductors without the name of their cable, a system with its voltages first.
    """
    fact = question.fact
    if fact is not None and fact.type is ValueType.DATE:
        try:
            return read_date_as_typed(typed).isoformat()
        except NotationError:
            return typed
    reads = None if fact is None else fact.reads
    if reads == _CONDUCTOR:
        return without_cable(typed)[0]
    if reads == _SYSTEM:
        return voltages_first(typed)
    if poles_of(question, typed):
        typed = rating_and_poles(typed)[0]
    if place_of(question, typed):
        typed = figure_and_place(typed)[0]
    number = without_dropped(plain(typed), words) if words.drop else typed
    if not _BARE_NUMBER(number):
        return typed
    return f"{number} {question.unit}" if question.unit else number


_CONDUCTOR, _SYSTEM = "conductor", "voltage_system"


def poles_of(question: Question, typed: str) -> str:
    """The number of poles that an answer about a device gives beside its rating; empty where it gives none."""
    fact = question.fact
    if fact is None or fact.short_for is None or POLES not in fact.parts:
        return ""
    return rating_and_poles(typed)[1]


def place_of(question: Question, typed: str) -> str:
    """The place that an answer names behind the figure of a utility, as in 9.8 kA at the meter; empty where none is."""
    fact = question.fact
    if fact is None or GIVEN_AT not in fact.parts or question.leaf.subject.type != _UTILITY_SUPPLY:
        return ""
    return figure_and_place(typed)[1]


GIVEN_AT = "given_at"
"""The part of a fault current of a utility that is often said together with the figure."""
_UTILITY_SUPPLY = "utility_supply"

POLES = "poles"
"""The part of a device that is often said together with its rating."""


def understood(question: Question, typed: str, words: tuple[str, ...]) -> str:
    """What was taken, in a sentence, where it is not what was typed; empty where it is."""
    if plain(", ".join(words)) == plain(typed):
        return ""
    titles = {choice.word: choice.title for choice in question.choices}
    shown = ", ".join((titles.get(each) if each != NONE else "") or each.replace("_", " ") for each in words)
    said = f"Taken as {shown}."
    if poles := poles_of(question, typed):
        return f"Taken as {shown} with {poles} {'pole' if poles == '1' else 'poles'}."
    if place := place_of(question, typed):
        return f"Taken as {shown}, given at the {place.replace('_', ' ')}."
    cable = without_cable(typed)[1] if question.fact is not None and question.fact.reads == _CONDUCTOR else ""
    return f"{said} {cable} names the cable and not the insulation, which stays open." if cable else said


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


def labels(words: Collection[str]) -> tuple[str, ...]:
    """What stands before each choice: a to z, then aa, ab; numbers where a choice is itself a letter."""
    if any(len(word) == 1 and word.isalpha() for word in words):
        return tuple(str(number) for number in range(1, len(words) + 1))
    singles = tuple(ascii_lowercase)
    return (*singles, *(first + second for first in singles for second in singles))[: len(words)]


def known_words(question: Question) -> dict[str, str]:
    """Each word by what may be typed for it: a letter, the word itself, its title, what the trade says for it; its
    number, unless a number is asked for or names a choice.
    """
    words = [choice.word for choice in question.choices]
    may_count = not question.kind_of_answer and not any(word[:1].isdigit() for word in words)
    known = words_by_typing({choice.word: choice.title for choice in question.choices}, may_count)
    if question.fact is None:
        return known
    for word, others in trade_words(question.fact.name).says.items():
        for other in others if word in words or not question.fact.choices else ():
            known.setdefault(plain(other), word)
    return known


def words_by_typing(choices: Mapping[str, str], may_count: bool) -> dict[str, str]:
    """Each word of the choices by what may be typed for it."""
    known: dict[str, str] = {}
    for number, (letter, word) in enumerate(zip(labels(choices), choices, strict=True), start=1):
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
