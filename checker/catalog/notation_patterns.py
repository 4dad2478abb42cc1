"""Regular expressions for values as people type them: what an editor can check before the program reads the file.

They use only what Python and ECMAScript read alike. They never refuse what the program reads; where notation is subtler
than an expression (a range that runs backwards, a day that does not exist), they let it pass and the program tells it.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.catalog.names import TAG
from checker.values.kinds import Kind, Unit
from checker.values.number_text import DECIMAL, MIXED

_VULGAR = "[½¼¾⅛⅜⅝⅞⅓⅔]"
_NUMBER = rf"[-+\u2212]?\s*(?:{MIXED}|{DECIMAL}(?:\s*{_VULGAR})?|{_VULGAR})"
_DATE = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_WORD = r"[A-Za-z][A-Za-z0-9/.-]*"
_AS_TYPED = {
    "°": "[°º]\\s*",
    "'": "['′’‘]",
    '"': '["″”“]',
    "2": "[2²₂]",
    "3": "[3³]",
    "/": r"(?:\s*/\s*|\s+[pP][eE][rR]\s+)",
    " ": r"[\s.·_-]*",
    "(": r"\(",
    ")": r"\)",
}
_SIGNS = {"°c": "℃", "°f": "℉"}
_TWO_PARTS = frozenset({"length", "duration"})
"""Kinds of quantity that are also given in two units together: 5'-6", 1 h 30 min."""


def word(text: str) -> str:
    """A word whatever its case, with any space inside."""
    return "".join(rf"[{c.lower()}{c.upper()}]" if c.isalpha() else r"\s+" if c == " " else _literal(c) for c in text)


def _literal(char: str) -> str:
    """Editors read expressions strictly: only signs that mean something may be escaped."""
    return f"\\{char}" if char in "^$\\.*+?()[]{}|/" else char


def _any_of(patterns: Iterable[str]) -> str:
    return f"(?:{'|'.join(patterns)})"


_OR = rf",?\s+{word('or')}\s+"
_COMMA = r",\s+"
_TO = rf"(?:\s+{_any_of(map(word, ('through', 'thru', 'to')))}\s+|\s*(?:\.\.|…)\s*|\s+{word('and')}\s+)"
_GIVE_OR_TAKE = rf"\s*{_any_of((r'[+]/-', r'[+]-', r'-/[+]', '±', word('plus or minus')))}\s*"
_SEPARATOR = _any_of((_OR, _COMMA, _TO, _GIVE_OR_TAKE))
_WORDS_AHEAD = (
    *("at least", "not less than", "no less than", "at most", "up to", "not more than", "no more than"),
    *("more than", "less than", "from", "between"),
)
_AHEAD = rf"(?:{_any_of((*(rf'{word(each)}\s+' for each in _WORDS_AHEAD), r'[<>]=?\s*', r'=[<>]\s*', r'[≥≤]\s*'))})?"
_BEHIND = rf"(?:,?\s+{word('or')}\s+{_any_of((word('more'), word('less')))})?"
_PERCENT = rf"{DECIMAL}\s*{_any_of(('%', word('percent'), word('pct')))}"


def quantity(kind: Kind, *, none: bool) -> str:
    """One quantity, or what of it is possible; a number without unit only where another behind it has one.

    ``none``, here and below: whether ``none`` can stand in the place of a value.
    """
    unit = _any_of(_unit_patterns(kind))
    optional = "?" if kind.bare_allowed else ""
    one = rf"{_NUMBER}\s*-?\s*{unit}{optional}"
    if kind.name in _TWO_PARTS:
        one = rf"{one}(?:\s*-?\s*{_NUMBER}\s*-?\s*{unit})?"
    return _possible(rf"{_NUMBER}(?:\s*-?\s*{unit})?", one, none=none, tolerance=rf"(?:{_GIVE_OR_TAKE}{_PERCENT})?")


def _possible(before: str, last: str, *, none: bool, tolerance: str = "") -> str:
    """Any number of values with or, to or give-or-take between them; only the last must be complete."""
    if none:
        before, last = f"(?:none|{before})", f"(?:none|{last})"
    return rf"^\s*{_AHEAD}(?:{before}{_SEPARATOR}{_AHEAD})*{last}{tolerance}{_BEHIND}\s*$"


def _unit_patterns(kind: Kind) -> list[str]:
    spellings = [spelled for spelled in kind.units if spelled and kind.unit(spelled) is not None]
    typed = {_unit_pattern(spelled, kind.units[spelled], kind) for spelled in spellings}
    typed |= {sign for spelled, sign in _SIGNS.items() if spelled in kind.units}
    # The longest first: alternatives are tried in order.
    return sorted(typed, key=lambda pattern: (-len(pattern), pattern))


def _unit_pattern(spelled: str, unit: Unit, kind: Kind) -> str:
    """A spelling as it can be typed: dots behind letters, signs for inches and powers, capitals where they mean the same."""
    return "".join(
        _letter(char, spelled, unit, kind, first=index == 0) if char.isalpha() else _AS_TYPED.get(char, _literal(char))
        for index, char in enumerate(spelled)
    )


def _letter(char: str, spelled: str, unit: Unit, kind: Kind, *, first: bool) -> str:
    lower, upper = char.lower(), char.upper()
    both = len(upper) == 1 and (not first or kind.unit(upper + spelled[1:]) == unit == kind.unit(lower + spelled[1:]))
    return rf"[{lower}{upper}]\.?" if both else rf"{char}\.?"


def count(*, none: bool) -> str:
    """A whole number as text, or what of it is possible."""
    return _possible(r"[0-9,]+", r"[0-9,]+", none=none)


def date(*, none: bool) -> str:
    """A day, or what of it is possible."""
    return _possible(_DATE, _DATE, none=none)


_GAUGE_MARK = _any_of(("#", rf"{word('no')}\.?", rf"{word('num')}\.?", word("number"), rf"{word('awg')}\s*#?"))
_GAUGE_UNIT = rf"\s*-?\s*{_any_of((word('awg'), rf'{word("ga")}\.?', word('gauge')))}"
_AREA_UNIT = rf"\s*-?\s*{_any_of(map(word, ('kcmil', 'mcm', 'kcm')))}"
_SIZE = _any_of(
    (
        rf"{_GAUGE_MARK}\s*(?:[1-4]\s*/\s*0|[0-9]+)(?:{_GAUGE_UNIT})?",
        rf"(?:[1-4]\s*/\s*0|0+)(?:{_GAUGE_UNIT})?",
        rf"[0-9]+{_GAUGE_UNIT}",
        rf"{DECIMAL}{_AREA_UNIT}",
    )
)
_SETS = (
    rf"(?:\(\s*[0-9]+\s*\)\s*|[0-9]+\s*[xX×]\s*|"
    rf"[0-9]+\s*(?:{word('parallel')}\s+)?{_any_of((word('sets'), word('set'), word('runs'), word('run')))}\s+(?:{word('of')}\s+)?)?"
)


def wire_size(*, none: bool) -> str:
    """A size of wire, or what of it is possible."""
    return _possible(rf"(?:{_SIZE}|[0-9]+)", _SIZE, none=none)


def conductor(*, none: bool) -> str:
    """Conductors in one line: sets, size, then words for material and insulation."""
    words = rf"(?:[\s,]+{_WORD})*"
    return _possible(rf"{_SETS}(?:{_SIZE}|[0-9]+){words}", rf"{_SETS}{_SIZE}{words}", none=none)


def voltage_system() -> str:
    """A voltage system in one line; which voltages, phases and wires go together is left to the program."""
    return r"^\s*[0-9.][^\n]*[A-Za-z/ØøφΔδ⌀][^\n]*$"


def one_tag() -> str:
    """One tag."""
    return rf"^\s*(?!{_any_of(('none', 'unknown'))}\s*$){TAG}\s*$"


def tags(*, none: bool) -> str:
    """A tag, or several with or between them."""
    one = TAG if none else rf"(?!none\s*$){TAG}"
    return rf"^\s*{one}(?:(?:{_COMMA}{one})*{_OR}{one})*\s*$"


def words_with_or(choices: Iterable[str]) -> str:
    """Choices with or between them."""
    one = _any_of(sorted(choices, key=lambda choice: (-len(choice), choice)))
    return rf"^\s*{one}(?:(?:{_COMMA}{one})*{_OR}{one})*\s*$"
