"""What a person is told of hidden characters and tabs."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice

from checker.files.forbidden import FORBIDDEN, FORBIDDEN_IN_BLOCK, FORBIDDEN_IN_LINE
from checker.files.yaml.refused import more_problems
from checker.files.yaml.source import Source
from checker.values.positions import Position
from checker.values.problems import Problem

_LEADING_TAB = re.compile(r"^(?: |-(?=[ \t]))*\t", re.MULTILINE)
_NAMES = {
    "\t": "a tab",
    "\n": "a line break",
    "\r": "a bare carriage return (U+000D)",
    "\x85": "an invisible line break (U+0085)",
    "\u2028": "an invisible line separator (U+2028)",
    "\u2029": "an invisible paragraph separator (U+2029)",
    "\ufeff": "an invisible byte order mark (U+FEFF)",
}
_DIRECTION_MARKS = re.compile("[\u202a-\u202e\u2066-\u2069]")


def leading_tabs(source: Source) -> Problem | None:
    """Lines indented with tabs, told once: such a file usually has many."""
    tabs = [match.end() - 1 for match in _LEADING_TAB.finditer(source.text)]
    if not tabs:
        return None
    more = len(tabs) - 1
    subject = "This line is" if not more else f"This line and {more} more are"
    remedy = "Indent with spaces; most editors can convert tabs to spaces."
    return Problem(f"{subject} indented with a tab.", source.at(tabs[0]), remedy)


def hidden_characters(source: Source, most: int) -> list[Problem]:
    """Forbidden characters in the file itself, comments included; after ``most`` of them only that there are more."""
    places = [match.start() for match in islice(FORBIDDEN.finditer(source.text), most + 1)]
    more = [more_problems(source.at(index)) for index in places[most:]]
    return [_hidden(source, index) for index in places[:most]] + more


def hidden_in_text(text: str, at: Position, block: bool) -> Iterator[Problem]:
    """Forbidden characters in a text that was read, each kind once: written as an escape, or a tab, or a line break."""
    pattern = FORBIDDEN_IN_BLOCK if block else FORBIDDEN_IN_LINE
    for char in dict.fromkeys(pattern.findall(text)):
        remedy = "Write the text on one line, or as a block of text below |." if char == "\n" else "Take it out."
        yield Problem(f"This text holds {_name(char)}.", at, remedy)


def tab_in_text(at: Position) -> Problem:
    """A tab typed inside a text."""
    return Problem("This text holds a tab.", at, "Write a space instead.")


def _hidden(source: Source, index: int) -> Problem:
    remedy = "Delete it and type the line again; such characters come with text copied from elsewhere."
    return Problem(f"Here stands {_name(source.text[index])}.", source.at(index), remedy)


def _name(char: str) -> str:
    if char in _NAMES:
        return _NAMES[char]
    kind = "an invisible mark for the direction of writing" if _DIRECTION_MARKS.match(char) else "a control character"
    return f"{kind} (U+{ord(char):04X})"
