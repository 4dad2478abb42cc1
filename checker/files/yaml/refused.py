"""What YAML allows and this reader refuses, each in one sentence with what to write instead."""

from __future__ import annotations

import re

from checker.files.wording import in_quotes, shown
from checker.files.yaml.source import Source
from checker.values.positions import Position
from checker.values.problems import Problem

_WORD = re.compile(r"\S+")


def duplicate_key(key: str, first: Position, at: Position) -> Problem:
    """A key that stands twice in one mapping."""
    sentence = f"The key `{shown(key)}` stands twice here, on line {first.line} and on line {at.line}."
    return Problem(sentence, at, "Keep one of the two.")


def missing_key(at: Position) -> Problem:
    """A colon or question mark with nothing that names the value."""
    return Problem("A key is missing here.", at, "Write the key before the colon.")


def complex_key(at: Position) -> Problem:
    """A list or mapping as key."""
    return Problem("This key is a list or braces.", at, "A key is one text; put brackets that belong to it in quotes.")


def merge_key(at: Position) -> Problem:
    """``<<``, which copies the content of another mapping."""
    return Problem("<< (take over from another place) is not read here.", at, "Write the lines out.")


def question_mark(source: Source, index: int) -> Problem:
    """``? x``: a key in its long form, or a value that begins with a question mark."""
    return begins_with(source, index, source.line_end(index))


def anchor(source: Source, index: int) -> Problem:
    """``&name``."""
    name = _word(source, index)
    remedy = f"If {in_quotes(name)} belongs to a text, put the whole text in quotes; otherwise take it out."
    return Problem(f"{name} (a name to refer to) is not read here.", source.at(index), remedy)


def alias(source: Source, index: int) -> Problem:
    """``*name``."""
    name = _word(source, index)
    remedy = f"Write the lines out; if {in_quotes(name)} is a text, put it in quotes."
    return Problem(f"{name} (a reference to another place) is not read here.", source.at(index), remedy)


def tag(source: Source, index: int) -> Problem:
    """``!name``, or a lone exclamation mark before a text."""
    name = _word(source, index)
    if name == "!":
        return begins_with(source, index, source.line_end(index))
    remedy = f"If {in_quotes(name)} belongs to a text, put the whole text in quotes; otherwise take it out."
    return Problem(f"{name} (a YAML type) is not read here.", source.at(index), remedy)


def directive(source: Source, index: int) -> Problem:
    """A line that begins with ``%``."""
    sentence = f"A line cannot begin with %: `{shown(source.line_text(index))}`."
    return Problem(sentence, source.at(index), "Take the line out, or put the text in quotes.")


def begins_with(source: Source, start: int, end: int) -> Problem:
    """A text that begins with a sign that has a meaning of its own; it ends before ``end``."""
    text = source.typed[start:end].strip()
    sentence = f"A text cannot begin with {text[0]} here: `{shown(text)}`."
    return Problem(sentence, source.at(start), f"Put it in quotes: {in_quotes(shown(text))}")


def second_document(at: Position) -> Problem:
    """``---`` in a file that holds one description."""
    sentence = "A second document begins here (---), and this file may hold only one."
    return Problem(sentence, at, "Take the line out, or move what follows into a file of its own.")


def empty_document(at: Position) -> Problem:
    """``---`` with nothing, or only comments, after it."""
    return Problem("Nothing but comments follows this line.", at, "Write the content below it, or take the line out.")


def empty_file(file: str, has_comments: bool) -> Problem:
    """A file without any content."""
    sentence = "This file holds nothing but comments." if has_comments else "This file is empty."
    return Problem(sentence, Position(file, 1, 1), "Write the content, or name another file.")


def too_deep(at: Position, depth: int) -> Problem:
    """More levels inside one another than the limit."""
    return Problem(f"This file is nested more than {depth} levels deep.", at, "Check the brackets and the indentation.")


def too_many(at: Position, nodes: int) -> Problem:
    """More values than the limit."""
    return Problem(f"This file holds more than {nodes:,} values.", at, "Split it into several files.")


def long_text(at: Position, length: int) -> Problem:
    """A single text longer than the limit."""
    return Problem(
        f"This text is longer than {length:,} characters.",
        at,
        "Shorten it; a missing closing quote has this effect too.",
    )


def long_key(at: Position, length: int) -> Problem:
    """A key longer than YAML reads."""
    return Problem(f"The key that begins here is longer than {length:,} characters.", at, "Shorten it.")


def more_problems(at: Position) -> Problem:
    """The file has more problems than are worth telling at once; the next stands at ``at``."""
    return Problem("There are more problems than these.", at, "Mend these first and check again.")


def _word(source: Source, index: int) -> str:
    found = _WORD.match(source.typed, index)
    return shown(found.group().rstrip(",]}")) if found else source.typed[index]
