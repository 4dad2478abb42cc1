"""Questions about one site, each answer written into its file at once."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from string import ascii_lowercase

from checker.facts.known import Ask, Leaf
from checker.files.editing import CannotEdit
from checker.files.strict_yaml import read_bytes
from checker.files.written import put_in_place
from checker.findings.review import Job
from checker.tasks.questions.asked import NO, YES, Question
from checker.tasks.questions.choosing import Next, next_question
from checker.tasks.questions.waiting import Open, open_of
from checker.tasks.questions.writing import with_closed, with_fact, yaml_of
from checker.tasks.reviewing import Library, Overrides, job_of
from checker.values.notation import nearest
from checker.values.problems import Problem, Unreadable


@dataclass(frozen=True, slots=True)
class _Step:
    """An answer, with the file before and after it; a question that was left out has neither."""

    leaf: Leaf
    before: bytes | None = None
    after: bytes | None = None


class Session:
    """The questions of one site file; holds what was answered, so that it can be taken back."""

    def __init__(self, path: Path, library: Library, overrides: Overrides) -> None:
        self._path, self._library, self._overrides = path, library, overrides
        self._steps: list[_Step] = []
        self._tried: dict[Leaf, Next] = {}
        self._job = self._read()
        self._open: Open | None = None

    @property
    def waiting(self) -> int:
        """How many findings that are due still wait."""
        return len(self.state.due())

    @property
    def later(self) -> int:
        """How many wait that are due at a later stage."""
        return len(self.state.waiting) - self.waiting

    @property
    def state(self) -> Open:
        """What is open as the site file stands, judged when it is asked for."""
        if self._open is None:
            self._open = open_of(self._job)
        return self._open

    def next(self) -> Next | None:
        """The question to ask now; None where nothing is left."""
        return next_question(self.state, frozenset(step.leaf for step in self._steps), self._tried)

    def answer(self, question: Question, typed: str) -> None:
        """Write an answer. Raises Unreadable where it cannot be read or written; the file is then as it was."""
        before = read_bytes(self._path, self._path.name)
        after = self._with_answer(before, question, typed)
        if after != before:
            put_in_place(self._path, after, self._check)
        self._steps.append(_Step(question.leaf, before, after))
        self._read_again()

    def skip(self, question: Question) -> None:
        """Leave a question out."""
        self._steps.append(_Step(question.leaf))

    def undo(self) -> bool:
        """Take the last answer, or the last question left out, back; False where there is none. Raises Unreadable where
        somebody else has changed the file since.
        """
        if not self._steps:
            return False
        step = self._steps[-1]
        if step.before is not None and step.before != step.after:
            if read_bytes(self._path, self._path.name) != step.after:
                sentence = f"{self._path.name} was changed by other hands since, so the answer stays in it."
                raise Unreadable([Problem(sentence, None, "Change it in the file itself.")])
            put_in_place(self._path, step.before, self._check)
        self._steps.pop()
        self._read_again()
        return True

    def _read(self) -> Job:
        return job_of(self._path, self._library, self._overrides)

    def _read_again(self) -> None:
        self._job, self._open = self._read(), None
        self._tried.clear()

    def _check(self, half: Path) -> None:
        """Read what is to take the place of the file, from where the file itself is read: its sheets lie in reach."""
        here = Path.cwd()
        is_below = not self._path.is_absolute() and ".." not in self._path.parts and half.is_relative_to(here)
        job_of(half.relative_to(here) if is_below else half, self._library, self._overrides)

    def _with_answer(self, before: bytes, question: Question, typed: str) -> bytes:
        words, site, leaf = answer_words(question, typed), self._job.site, question.leaf
        try:
            if leaf.ask is Ask.FACT:
                assert question.fact is not None
                return with_fact(before, site, self._job.catalog, leaf, yaml_of(question.fact, words))
            if words == (YES if leaf.ask is Ask.MORE else NO,):
                return with_closed(before, leaf)
        except (CannotEdit, ValueError):
            sentence = f"{leaf} cannot be written into {self._path.name} without other lines being changed."
            raise Unreadable([Problem(sentence, None, "Write it there yourself, or skip it.")]) from None
        else:
            return before


def answer_words(question: Question, typed: str) -> tuple[str, ...]:
    """The words that an answer stands for: letters and titles of choices become their words. Raises Unreadable."""
    known = _known_words(question)
    fact = question.fact
    if fact is not None and fact.several:
        parts = [each.strip() for each in typed.split(",") if each.strip()]
    else:
        parts = [typed.strip()]
    words = tuple(_each_alternative(part, lambda one: known.get(_plain(one), one)) for part in parts)
    if not words or any(not word for word in words):
        raise Unreadable([Problem("Nothing was typed.", None, "Type an answer, or skip.")])
    if fact is None or (question.choices and not question.kind_of_answer):
        _refuse_others(words, question, known)
    return words


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


def _known_words(question: Question) -> dict[str, str]:
    """Each word by what may be typed for it: a letter, the word itself, its title."""
    known: dict[str, str] = {}
    for letter, choice in zip(letters(len(question.choices)), question.choices, strict=True):
        known[letter] = choice.word
    for choice in question.choices:
        known.setdefault(_plain(choice.title), choice.word)
        known[_plain(choice.word)] = choice.word
    known.pop("", None)
    return known


def _each_alternative(typed: str, change: Callable[[str], str]) -> str:
    return " or ".join(change(each.strip()) for each in typed.split(" or "))


def _plain(word: str) -> str:
    return " ".join(word.replace("_", " ").casefold().split())
