"""Questions on a terminal: numbered sentences, choices in words with letters, and the words undo, skip and why."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from string import ascii_lowercase

import typer

from checker.report.safe import harmless
from checker.tasks.questions.answers import meant, words_by_typing
from checker.values.problems import Unreadable
from checker.values.refusals import NotationError

Check = Callable[[str], str]
"""Gives the answer as it is kept; raises NotationError or Unreadable where it cannot be used."""

UNDO, SKIP, WHY, STOP = "undo", "skip", "why", "stop"


def typed_line() -> str | None:
    """One line as a person types it, without spaces round it; None where nothing more can come."""
    try:
        return str(typer.prompt("", prompt_suffix="> ", default="", show_default=False)).strip()
    except typer.Abort:
        return None


class Again(Exception):
    """The last answer was taken back: ask from the beginning, with the answers before it."""


class Asker:
    """Asks, and remembers what was typed, so that an answer can be taken back."""

    def __init__(self) -> None:
        self._typed: list[str] = []
        self._place = 0

    def begin(self) -> None:
        """Start from the first question; what was typed before is not asked again."""
        self._place = 0

    def text(self, question: str, why: str, check: Check = str.strip, *, optional: bool = False) -> str:
        """One answer in words; empty where it was skipped."""
        hint = f" ({SKIP} leaves it out)" if optional else ""
        self._say(f"{self._place + 1}. {question}{hint}")
        return self._until_good(why, check, optional=optional)

    def choice(self, question: str, why: str, choices: Mapping[str, str], *, optional: bool = False) -> str:
        """One of several words, each with what it means."""
        letters = dict(zip(_letters(), choices, strict=False))
        lines = "".join(
            f"\n   {letter}  {word.replace('_', ' ')}{_meaning(word, choices[word])}"
            for letter, word in letters.items()
        )
        hint = f" ({SKIP} leaves it out)" if optional else ""
        self._say(f"{self._place + 1}. {question}{hint}{lines}")

        def check(typed: str) -> str:
            word = meant(typed, words_by_typing(choices, may_count=True))
            if word is None:
                raise NotationError("That is none of the choices.", "Type a letter, or the words.")
            return word

        return self._until_good(why, check, optional=optional)

    def several(self, question: str, why: str, choices: Mapping[str, str]) -> tuple[str, ...]:
        """Some of several words, with commas between; none where it was skipped."""
        letters = dict(zip(_letters(), choices, strict=False))
        lines = "".join(f"\n   {letter}  {choices[word]}" for letter, word in letters.items())
        self._say(f"{self._place + 1}. {question} (letters with commas; {SKIP} leaves it out){lines}")

        def check(typed: str) -> str:
            words = [letters.get(each.strip().lower(), each.strip()) for each in typed.split(",")]
            if not all(word in choices for word in words):
                raise NotationError("One of these is none of the choices.", "Type letters with commas between.")
            return ",".join(words)

        typed = self._until_good(why, check, optional=True)
        return tuple(typed.split(",")) if typed else ()

    def yes(self, question: str, why: str) -> bool:
        """Yes or no."""
        return self.choice(question, why, {"yes": "", "no": ""}) == "yes"

    def tell(self, lines: str) -> None:
        """Something that is no question."""
        self._say(lines)

    def _say(self, text: str) -> None:
        if self._place >= len(self._typed):
            typer.echo(harmless(text))

    def _until_good(self, why: str, check: Check, *, optional: bool) -> str:
        while True:
            typed = self._next()
            if typed == WHY:
                typer.echo(why)
            elif typed == SKIP and optional:
                self._keep(typed)
                return ""
            elif typed == SKIP:
                typer.echo("This one is wanted and cannot be left out.")
            elif typed:
                try:
                    found = check(typed)
                except NotationError as error:
                    typer.echo(f"{error.sentence} {error.remedy}")
                    continue
                except Unreadable as error:
                    for problem in error.problems:
                        typer.echo(harmless(f"{problem.sentence} {problem.remedy}"))
                    continue
                self._keep(typed)
                return found

    def _next(self) -> str:
        if self._place < len(self._typed):
            return self._typed[self._place]
        typed = typed_line()
        if typed is None:
            raise typer.Abort
        if typed == UNDO:
            if self._typed:
                self._typed.pop()
            raise Again
        return typed

    def _keep(self, typed: str) -> None:
        if self._place >= len(self._typed):
            self._typed.append(typed)
        self._place += 1


def _letters() -> Iterator[str]:
    yield from ascii_lowercase
    yield from (f"{first}{second}" for first in ascii_lowercase for second in ascii_lowercase)


def _meaning(word: str, title: str) -> str:
    return f": {title}" if title and title != word.replace("_", " ") else ""
