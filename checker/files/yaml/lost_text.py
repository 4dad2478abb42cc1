"""Text that a person typed and YAML drops or splits without a word: after ``#``, at a comma, or for want of a value.

Every problem here shows the line as typed and what to write instead; none of them may become "unknown".
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from checker.files.wording import in_quotes, quotes_remedy, shown
from checker.files.yaml.source import Source
from checker.values.problems import Problem

_NEXT_COMMENT = re.compile(r"[ \t]#(?=\s|$)")
_END_IN_FLOW = re.compile(r"[,\]}]")
# Words and signs after which something must follow. A comma is not among them (people put one at the end of a line),
# nor a word that can be a whole value.
_NEEDS_MORE = re.compile(r"(?:\s(?:of|and|or|to|at|with|from|per)|[\s\d]x|\bno\.|[×&+=/])$", re.IGNORECASE)
_COMMENT_GLUED = re.compile(r"[ \t]+(#[^\s#].*)")
_DIGITS_BEFORE_COMMA = re.compile(r"(?<!\d)\d{1,3}$")
_THREE_DIGITS = re.compile(r"\d{3}(?!\d)")


@dataclass(frozen=True, slots=True)
class Span:
    """A stretch of the text, from ``start`` to before ``end``."""

    start: int
    end: int


def value_after_hash(source: Source, hash_at: int, in_flow: bool) -> str:
    """What was probably meant as the value that begins with ``#``: up to a real comment, in brackets up to its end."""
    rest = source.typed[hash_at : source.line_end(hash_at)]
    real_comment = _NEXT_COMMENT.search(rest, 1)
    rest = rest[: real_comment.start()] if real_comment else rest
    end = _END_IN_FLOW.search(rest) if in_flow else None
    return (rest[: end.start()] if end else rest).strip()


def emptied_by_hash(source: Source, hash_at: int, key: str | None, in_flow: bool) -> Problem:
    """A value of which nothing is left because it began with ``#``."""
    value = value_after_hash(source, hash_at, in_flow)
    if value[1:2].strip():
        sentence = (
            f"Nothing is left of the value in `{shown(source.line_text(hash_at))}`: from # on it is read as a comment."
        )
        return Problem(sentence, source.at(hash_at), quotes_remedy(value, key))
    sentence = f"{_subject(key)} no value in `{shown(source.line_text(hash_at))}`: from # on it is read as a comment."
    remedy = f"{_missing_remedy(key)} If the text from # on is the value, put it in quotes."
    return Problem(sentence, source.at(hash_at), remedy)


def item_lost_to_hash(source: Source, hash_at: int) -> Problem:
    """Something in brackets that a person can hardly have meant as a comment: ``[#3 Cu,`` or ``, #3 Cu,``."""
    value = value_after_hash(source, hash_at, in_flow=True)
    sentence = f"A value in `{shown(source.line_text(hash_at))}` is lost: from # on it is read as a comment."
    remedy = f"{quotes_remedy(value)}. If it is a comment, write a space before and after #."
    return Problem(sentence, source.at(hash_at), remedy)


def glued_to_close(source: Source, hash_at: int) -> Problem:
    """``#`` that touches a closing quote or bracket."""
    sentence = f"The text from # on in `{shown(source.line_text(hash_at))}` is read as a comment."
    remedy = "If it belongs to the value, put the whole value in quotes; if it is a comment, write a space before #."
    return Problem(sentence, source.at(hash_at), remedy)


def swallowed_by_hash(source: Source, value: Span, key: str | None) -> Problem:
    """A comment inside brackets that hides the closing bracket; ``value`` is what was meant as one value."""
    typed = source.typed[value.start : value.end]
    line = shown(source.line_text(value.end - 1))
    sentence = f"The closing bracket in `{line}` is lost: from # on it is read as a comment."
    return Problem(sentence, source.at(value.start), quotes_remedy(typed, key))


def cut_at_hash(source: Source, value: Span, key: str | None, in_flow: bool) -> Problem | None:
    """A value that breaks off in the middle before `` #``; None where the rest may well be a comment."""
    glued = _COMMENT_GLUED.match(source.typed, value.end)
    if glued is None:
        return None
    text = source.typed[value.start : value.end]
    lost = value_after_hash(source, glued.start(1), in_flow)
    if not (_NEEDS_MORE.search(text) or (text.count("(") > text.count(")") and ")" in lost)):
        return None
    sentence = f"The value in `{shown(source.line_text(value.start))}` is cut: from # on it is read as a comment."
    return Problem(sentence, source.at(value.start), quotes_remedy(f"{text} {lost}", key))


def cut_at_comma(source: Source, value: Span, key: str) -> Problem:
    """A value in braces that was split at its comma, so that the rest became a key."""
    sentence = f"The value in `{shown(source.line_text(value.start))}` is cut at the comma."
    typed = source.typed[value.start : value.end]
    remedy = quotes_remedy(typed, key)
    rest = typed.rpartition(",")[2].strip()
    if rest.isidentifier():
        remedy += f". If {shown(rest)} is a key, write a colon and its value after it."
    return Problem(sentence, source.at(value.start), remedy)


def cut_at_thousands(source: Source, before: Span, value: Span) -> Problem | None:
    """Two items of a list that look like one number with its thousands set off: ``[9,600 A]``; else None."""
    text = source.typed
    touching = text[before.end : value.start] == ","
    if not (touching and _DIGITS_BEFORE_COMMA.search(text, before.start, before.end)):
        return None
    if not _THREE_DIGITS.match(text, value.start, value.end):
        return None
    sentence = f"The value in `{shown(source.line_text(value.start))}` is cut at the comma."
    whole = in_quotes(shown(text[before.start : value.end]))
    return Problem(
        sentence,
        source.at(before.start),
        f"Put the value in quotes: {whole}. If two are meant, write a space after the comma.",
    )


def lone_key(source: Source, key: Span) -> Problem:
    """A text in braces without a colon, where it cannot be the rest of the value before."""
    text = source.typed[key.start : key.end]
    sentence = f"`{shown(text)}` stands in braces without a value."
    name, colon, rest = text.partition(":")
    if colon and name and rest:
        return Problem(sentence, source.at(key.start), f"Write a space after the colon: {shown(f'{name}: {rest}')}")
    return Problem(
        sentence, source.at(key.start), "Write a colon, a space and a value after it, or use [ ] for a list."
    )


def missing_value(source: Source, index: int, key: str | None) -> Problem:
    """A key or a list item after which nothing stands."""
    remedy = _missing_remedy(key)
    if key is not None and _is_followed_at_its_column(source, index):
        remedy = f"{remedy} If the next line belongs to it, indent that line and those below it."
    return Problem(f"{_subject(key)} no value.", source.at(index), remedy)


def _is_followed_at_its_column(source: Source, index: int) -> bool:
    """Whether the line after the key begins in its column, as one does that was moved too far to the left."""
    text, end = source.text, source.line_end(index)
    below = (line for line in text[end:].split("\n")[1:] if line.strip() and not line.lstrip().startswith("#"))
    following, column = next(below, ""), source.at(index).column - 1
    return bool(following) and len(following) - len(following.lstrip(" ")) == column


def _subject(key: str | None) -> str:
    return "This item of a list has" if key is None else f"The key `{shown(key)}` has"


def _missing_remedy(key: str | None) -> str:
    if key is None:
        return "Write the item, or take the line out."
    return "Write the value, leave the key out, or write unknown."
