"""Questions on a terminal: numbered sentences, choices with letters, and the words undo, skip, why and stop."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from datetime import date
from string import ascii_lowercase

import typer

from checker.report.safe import harmless
from checker.tasks.questions.answers import meant, words_by_typing
from checker.tasks.questions.trade_words import TradeWords, plain
from checker.values.notation import nearest
from checker.values.problems import Unreadable
from checker.values.refusals import NotationError

Check = Callable[[str], str]
"""Gives the answer as it is kept; raises NotationError or Unreadable where it cannot be used."""

_MOST_LISTED = 20
"""So many choices are listed again where none was meant; more would push the question off the screen."""

UNDO, SKIP, WHY, STOP = "undo", "skip", "why", "stop"


def typed_line() -> str | None:
    """One line as a person types it, without spaces round it; None where nothing more can come."""
    try:
        return str(typer.prompt("", prompt_suffix="> ", default="", show_default=False)).strip()
    except typer.Abort:
        return None


def on_keyboard() -> bool:
    """Whether somebody types: whether standard input is a terminal."""
    return sys.stdin is not None and sys.stdin.isatty()


def as_date(typed: str) -> str:
    """The date of today where somebody types today; everything else as it is."""
    if typed.strip().casefold() != _TODAY:
        return typed
    return date.today().isoformat()  # noqa: DTZ011, TID251  the person says so; it is written as a date


_TODAY = "today"


class Again(Exception):
    """The last answer was taken back: ask from the beginning, with the answers before it."""


class Stopped(typer.Abort):
    """Somebody typed stop, or nothing more can come."""


class Asker:
    """Asks, and remembers what was typed, so that an answer can be taken back, and so that the questions can go on
    another day: ``typed`` is what was typed before.
    """

    def __init__(self, typed: Iterable[str] = ()) -> None:
        self._typed: list[str] = list(typed)
        self._place = 0

    @property
    def typed(self) -> tuple[str, ...]:
        """What was typed so far and is kept."""
        return tuple(self._typed)

    def begin(self) -> None:
        """Start from the first question; what was typed before is not asked again."""
        self._place = 0

    def text(self, question: str, why: str, check: Check = str.strip, *, optional: bool = False) -> str:
        """One answer in words; empty where it was skipped."""
        hint = f" ({SKIP} leaves it out)" if optional else ""
        self._say(f"{self._place + 1}. {question}{hint}")
        return self._until_good(why, check, optional=optional)

    def choice(
        self,
        question: str,
        why: str,
        choices: Mapping[str, str],
        *,
        optional: bool = False,
        other: Callable[[str], str | None] = lambda _: None,
        said: TradeWords | None = None,
    ) -> str:
        """One of several words, each with what it means. What is typed is a letter, a word, what a word means, what the
        trade says for it, or what ``other`` takes for an answer.
        """
        letters = dict(zip(_letters(), choices, strict=False))
        lines = [
            f"{letter}  {word.replace('_', ' ')}{_meaning(word, choices[word])}" for letter, word in letters.items()
        ]
        hint = f" ({SKIP} leaves it out)" if optional else ""
        self._say(f"{self._place + 1}. {question}{hint}{_below(lines)}")

        def check(typed: str) -> str:
            known = words_by_typing(choices, may_count=True)
            if said is not None:
                if (answers_else := said.no_answer.get(plain(typed))) is not None:
                    raise NotationError(answers_else, f"Type a letter or the words.{_below(lines)}")
                known |= {plain(each): word for word in choices for each in said.says.get(word, ())}
            word = other(typed) or meant(typed, known)
            return word or _meant(typed, letters, choices, lines)

        return self._until_good(why, check, optional=optional)

    def several(self, question: str, why: str, choices: Mapping[str, str], *, left_out: str = "") -> tuple[str, ...]:
        """Some of several words, with commas between; none where it was skipped, which means ``left_out`` if given."""
        letters = dict(zip(_letters(), choices, strict=False))
        lines = [f"{letter}  {choices[word]}" for letter, word in letters.items()]
        skipped = f"means {left_out}" if left_out else "leaves it out"
        hint = f"(letters or words with commas; {SKIP} {skipped})"
        self._say(f"{self._place + 1}. {question} {hint}{_below(lines)}")

        def check(typed: str) -> str:
            return ",".join(dict.fromkeys(_meant(each, letters, choices, lines) for each in typed.split(",")))

        typed = self._until_good(why, check, optional=True)
        return tuple(typed.split(",")) if typed else ()

    def yes(self, question: str, why: str) -> bool:
        """Yes or no."""
        return self.choice(question, why, {"yes": "", "no": ""}) == "yes"

    def tell(self, lines: str) -> None:
        """Something that is no question."""
        self._say(lines)

    def begin_with(self, lines: str) -> None:
        """What is told before the first question, whatever was typed another day."""
        typer.echo(harmless(lines))

    def _say(self, text: str) -> None:
        if self._place >= len(self._typed):
            typer.echo(harmless(text))

    def _until_good(self, why: str, check: Check, *, optional: bool) -> str:
        while True:
            again = self._place < len(self._typed)
            typed = self._next()
            word = typed.casefold()
            if word == WHY:
                typer.echo(why)
            elif word == SKIP and optional:
                self._keep(typed)
                return ""
            elif word == SKIP:
                typer.echo("This one is wanted and cannot be left out.")
            elif typed:
                try:
                    found = check(typed)
                except (NotationError, Unreadable) as error:
                    typer.echo(harmless(_told(error)))
                    if again:  # what was good another day is not any more: ask from here on
                        del self._typed[self._place :]
                        raise Again from None
                    continue
                self._keep(typed)
                return found

    def _next(self) -> str:
        if self._place < len(self._typed):
            return self._typed[self._place]
        typed = typed_line()
        if typed is None or typed.casefold() == STOP:
            raise Stopped
        if typed.casefold() == UNDO:
            if self._typed:
                self._typed.pop()
            raise Again
        return typed

    def _keep(self, typed: str) -> None:
        if self._place >= len(self._typed):
            self._typed.append(typed)
        self._place += 1


def _told(error: NotationError | Unreadable) -> str:
    if isinstance(error, NotationError):
        return f"{error.sentence} {error.remedy}".strip()
    near = [f" Nearest valid name: {each.near}." if each.near else "" for each in error.problems]
    return "\n".join(
        f"{each.sentence} {each.remedy}{more}".strip() for each, more in zip(error.problems, near, strict=True)
    )


def _below(lines: Iterable[str]) -> str:
    return "".join(f"\n   {line}" for line in lines)


def _meant(typed: str, letters: Mapping[str, str], choices: Mapping[str, str], lines: Sequence[str]) -> str:
    """The word that is meant by a letter, by itself or by what it means. Raises NotationError."""
    wanted = _key(typed)
    names = {_key(title): word for word, title in choices.items() if title} | {_key(word): word for word in choices}
    word = letters.get(wanted) or names.get(wanted)
    if word is None:
        near = nearest(wanted, names)
        hint = f" Nearest: {names[near].replace('_', ' ')}." if near else ""
        listed = _below(lines) if len(lines) <= _MOST_LISTED else " They stand above."
        raise NotationError(f"{typed.strip()} is none of the choices.{hint}", f"Type a letter or the words.{listed}")
    return word


def _key(text: str) -> str:
    return " ".join(text.replace("_", " ").replace("-", " ").lower().split())


def _letters() -> Iterator[str]:
    yield from ascii_lowercase
    yield from (f"{first}{second}" for first in ascii_lowercase for second in ascii_lowercase)


def _meaning(word: str, title: str) -> str:
    return f": {title}" if title and title != word.replace("_", " ") else ""
