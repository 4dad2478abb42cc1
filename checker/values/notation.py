"""How people write what is possible: one value, this or that, from here to there, at least, give or take."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import NoReturn

from checker.values.number_text import DECIMAL, MIXED, split_number
from checker.values.possible import Atom, Possible, Span, exactly, number, union_of
from checker.values.refusals import NotationError, nearest, quoted, readable

__all__ = ["NotationError", "ReadOne", "nearest", "read_possible"]

ReadOne = Callable[[str], Fraction | Atom]
"""Reads one value: a number on the line of its kind, a word or a flag; raises NotationError."""

_OR = re.compile(r",?\s+or\s+", re.IGNORECASE)
_COMMA = re.compile(r",\s+")
_AND = re.compile(r"\s+and\s+", re.IGNORECASE)
_TO = re.compile(r"\s+(?:to|through|thru)\s+|\s*(?:\.\.|\u2026)\s*", re.IGNORECASE)
_FROM = re.compile(r"(?:from|between)\s+", re.IGNORECASE)
_BETWEEN = re.compile(r"between\s+(?P<low>.+?)\s+and\s+(?P<high>.+)", re.IGNORECASE)
_BOUND = re.compile(
    r"""(?P<at_least>at\s+least|not\s+less\s+than|no\s+less\s+than|>=|=>|≥)
      |(?P<at_most>at\s+most|up\s+to|not\s+more\s+than|no\s+more\s+than|<=|=<|≤)
      |(?P<more_than>more\s+than|>)
      |(?P<less_than>less\s+than|<)""",
    re.IGNORECASE | re.VERBOSE,
)
_OR_MORE = re.compile(r"(?P<value>.+?),?\s+or\s+(?P<way>more|less)", re.IGNORECASE)
_PLUS_OR_MINUS = re.compile(r"\bplus\s+or\s+minus\b", re.IGNORECASE)
_TOLERANCE = re.compile(r"\s*(?:\+/-|\+-|-/\+|±)\s*")
_UNEVEN = re.compile(r"\+\s*[0-9].*-\s*[0-9]")
_PERCENT = re.compile(rf"({DECIMAL})\s*(?:%|percent|pct)", re.IGNORECASE)
_ABOUT = re.compile(r"(?:about|approx(?:imately|\.)?|around|roughly|circa|ca\.|nearly|~|≈)\s*", re.IGNORECASE)
_BARE = re.compile(rf"[-+\u2212]?\s*(?:{MIXED}|{DECIMAL})")
_UNIT_BEHIND = re.compile(rf"[-+\u2212]?\s*(?:{MIXED}|{DECIMAL})(?P<unit>\s*-?\s*[^\s0-9.,/-].*)")
_SECOND_NUMBER = re.compile(r"""(?:\s|['"-])\.?[0-9]""")
_SHIFTED_ZERO = "0 °F"
"""Read as another number than zero by a scale on which a percentage means nothing."""
_UNKNOWN = "unknown"
_UNDECIDED = frozenset({"tbd", "tba", "?", "??", "-", "--", "to be determined", "to be decided", "n/k", "not known"})
_NOT_THERE = frozenset({"n/a", "na", "not applicable", "nil"})


def read_possible(text: str, read_one: ReadOne) -> Possible:
    """What a text leaves possible.

    Raises NotationError. A text that is ``unknown`` means everything of its type, which only the caller knows, and is
    refused here; so is ``unknown`` as one of several. ``none`` is passed to ``read_one`` like any other word.
    """
    typed = readable(text)
    if _ABOUT.match(typed):
        _refuse_about(typed)
    single = _OR_MORE.fullmatch(typed)
    if single is not None:
        words = {"more": "at least", "less": "at most"}
        return _one_way(f"{words[single['way'].casefold()]} {single['value']}", read_one)
    return union_of(_one_way(part, read_one) for part in _alternatives(typed, read_one))


def _alternatives(text: str, read_one: ReadOne) -> list[str]:
    """The ways that ``or`` and, before an ``or``, commas set apart; a bare number takes the unit of the last."""
    parts = _OR.split(_PLUS_OR_MINUS.sub("±", text))
    if len(parts) == 1:
        return parts
    pieces = [piece for part in parts for piece in _at_commas(part, read_one)]
    return [piece if _is_called(piece, read_one) else _with_unit_of(piece, pieces[-1]) for piece in pieces]


def _is_called(text: str, read_one: ReadOne) -> bool:
    """Whether a bare number is a name: an enclosure may be called 1 and takes no unit from a 3R behind it."""
    named = _BARE.fullmatch(text) is not None and _readable(text, read_one)
    return named and not isinstance(read_one(text), Fraction)


def _at_commas(text: str, read_one: ReadOne) -> list[str]:
    """Pieces between commas, but a text that is one value with a comma in it stays whole."""
    pieces = _COMMA.split(text)
    if len(pieces) == 1:
        return pieces
    return [text] if _readable(text, read_one) else pieces


def _with_unit_of(part: str, last: str) -> str:
    """A bare number with the unit that stands behind the number of the last part."""
    return f"{part}{_unit_behind(last) or ''}" if _BARE.fullmatch(part) else part


def _unit_behind(text: str) -> str | None:
    """What stands behind the number of a text; None where that holds a second number (5 ft 6 in, 10 to 12 kA)."""
    match = _UNIT_BEHIND.fullmatch(text)
    return None if match is None or _SECOND_NUMBER.search(match["unit"]) else match["unit"]


def _one_way(text: str, read_one: ReadOne) -> Possible:
    typed = readable(text)
    if typed.casefold() == _UNKNOWN:
        raise NotationError("Unknown stands alone: it cannot be one of several.", "Write unknown, or what is possible.")
    if _ABOUT.match(typed):
        _refuse_about(typed)
    _refuse_stopgap(typed)
    bound = _BOUND.match(typed)
    if bound is not None:
        return _bound(typed, bound, read_one)
    between = _BETWEEN.fullmatch(typed)
    ends = [between["low"], between["high"]] if between else _TO.split(_FROM.sub("", typed, count=1))
    if len(ends) > 1:
        return _range(typed, ends, read_one)
    parts = _TOLERANCE.split(typed)
    if len(parts) > 1:
        return _tolerance(typed, parts, read_one)
    if _UNEVEN.search(typed):
        raise NotationError(
            f"{quoted(typed)} is not read.", "Write the lowest and the highest value, as 8 kA to 12 kA."
        )
    value = read_one(typed)
    return number(value) if isinstance(value, Fraction) else exactly(value)


def _bound(text: str, match: re.Match[str], read_one: ReadOne) -> Possible:
    rest = text[match.end() :].strip()
    if not rest or _BOUND.match(rest) or _TO.search(rest) or _AND.search(rest) or _TOLERANCE.search(rest):
        raise NotationError(
            f"{quoted(text)} is not one bound.", "Write at least 8 kA, at most 12 kA, or 8 kA to 12 kA."
        )
    end = _number(text, rest, read_one)
    match match.lastgroup:
        case "at_least":
            span = Span(end, None)
        case "at_most":
            span = Span(None, end)
        case "more_than":
            span = Span(end, None, low_open=True)
        case _:
            span = Span(None, end, high_open=True)
    return Possible(spans=(span,))


def _range(text: str, ends: list[str], read_one: ReadOne) -> Possible:
    if len(ends) != 2 or not all(end.strip() for end in ends):
        raise NotationError(
            f"{quoted(text)} is not one range.", "Write the lowest and the highest value, as 8 kA to 12 kA."
        )
    low_text, high_text = _with_unit_of(ends[0].strip(), ends[1]), ends[1].strip()
    low, high = _number(text, low_text, read_one), _number(text, high_text, read_one)
    if low > high:
        raise NotationError(f"{quoted(text)} runs backwards.", f"Write {high_text} to {low_text}.")
    return Possible(spans=(Span(low, high),))


def _tolerance(text: str, parts: list[str], read_one: ReadOne) -> Possible:
    if len(parts) != 2 or not all(part.strip() for part in parts):
        raise NotationError(f"{quoted(text)} is not one tolerance.", "Write it as 9 kA +/- 10 % or 9 kA +/- 0.5 kA.")
    middle_text, width_text = parts[0].strip(), parts[1].strip()
    percent = _PERCENT.fullmatch(width_text)
    if percent is None:
        middle = _number(text, _with_unit_of(middle_text, width_text), read_one)
        width = _width(text, width_text, read_one)
    else:
        middle = _number(text, middle_text, read_one)
        _refuse_percent(text, width_text, read_one)
        width = abs(middle) * split_number(percent[1])[0] / 100
    return Possible(spans=(Span(middle - width, middle + width),))


def _width(text: str, width: str, read_one: ReadOne) -> Fraction:
    """How far a tolerance reaches; on a scale whose zero is elsewhere (°F) the distance from its zero."""
    reach = _number(text, width, read_one) - _zero(width, read_one)
    if reach < 0:
        raise NotationError(f"{quoted(text)} has a tolerance below zero.", "Write it as 9 kA +/- 0.5 kA.")
    return reach


def _zero(text: str, read_one: ReadOne) -> Fraction:
    """Where zero of the text's unit lies on the number line; zero for units given in two parts, as feet and inches."""
    unit = _unit_behind(text)
    return Fraction(0) if unit is None else _number(text, f"0{unit}", read_one)


def _refuse_percent(text: str, width: str, read_one: ReadOne) -> None:
    """Refuse a percentage of something that is a percentage itself, or has a zero that means nothing."""
    if _readable(width, read_one):
        raise NotationError(
            f"{quoted(text)} can be meant as a part of the value or as points of it.",
            "Write the lowest and the highest value, as 75 % to 85 %.",
        )
    if _readable(_SHIFTED_ZERO, read_one) and read_one(_SHIFTED_ZERO) != 0:
        raise NotationError(f"{quoted(text)} takes a percentage of a temperature.", "Write the tolerance in degrees.")


def _readable(text: str, read_one: ReadOne) -> bool:
    try:
        read_one(text)
    except NotationError:
        return False
    return True


def _number(text: str, part: str, read_one: ReadOne) -> Fraction:
    value = read_one(part)
    if not isinstance(value, Fraction):
        raise NotationError(f"{quoted(text)} needs numbers at its ends.", "Write choices with or between them.")
    return value


def _refuse_about(text: str) -> NoReturn:
    value = _ABOUT.sub("", text, count=1).strip() or "9 kA"
    raise NotationError(
        f"{quoted(text)} does not say how far off it may be.",
        f"Write {value} +/- 10 %, or {{value: {value}, per: assumed}}.",
    )


def _refuse_stopgap(text: str) -> None:
    """Refuse the words that fill a blank without saying whether the thing is absent or not known."""
    if text.casefold().rstrip(".") in _UNDECIDED:
        raise NotationError(f"{quoted(text)} leaves the value open.", "Write unknown.")
    if text.casefold().rstrip(".") in _NOT_THERE:
        raise NotationError(
            f"{quoted(text)} does not say whether it is not there or not known.",
            "Write none if it is not there, or unknown.",
        )
