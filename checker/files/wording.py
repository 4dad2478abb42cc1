"""Pieces of sentences that several messages share."""

from __future__ import annotations

import re

from checker.files.forbidden import harmless

_LONGEST_SHOWN = 100
_LONGEST_READ = 1000
_LINE_BREAK = re.compile(r"\s*\n\s*")


def shown(text: str) -> str:
    """A line or value as a message shows it: on one line, without outer space and hidden characters, cut if long."""
    # A line may be as long as a file.
    text = _LINE_BREAK.sub(" ", harmless(text[:_LONGEST_READ])).strip()
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 3] + "..."


def in_quotes(text: str) -> str:
    """The text as it must be typed to be taken literally: in double quotes, or in single ones where those do not do."""
    if '"' not in text and "\\" not in text:
        return f'"{text}"'
    return "'" + text.replace("'", "''") + "'"


def quotes_remedy(value: str, key: str | None = None) -> str:
    """What to write instead of a value that needs quotes."""
    typed = in_quotes(shown(value))
    return f"Put the value in quotes: {shown(key)}: {typed}" if key else f"Put the value in quotes: {typed}"
