"""Regular expressions for values as people type them: what an editor can check before the program reads the file.

They use only what Python and ECMAScript read alike. They never refuse what the program reads; where notation is subtler
than an expression (a range that runs backwards, a day that does not exist), they let it pass and the program tells it.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate

from checker.catalog.names import TAG, WAY
from checker.values.kinds import Kind, spelling_of
from checker.values.number_text import DECIMAL, MIXED
from checker.values.refusals import LONGEST_TEXT

_VULGAR = "[½¼¾⅛⅜⅝⅞⅓⅔]"
_SIGN = r"[-+\u2212]?\s*"
_WITH_FRACTION = rf"{_SIGN}(?:{MIXED}|{DECIMAL}(?:\s*{_VULGAR})?|{_VULGAR})"
_COUNT = r"[-+]?[0-9,]+(?:\.0*)?"
_DATE = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
_GAP = r"[\s.·_-]*"
_AS_TYPED = {
    "°": "[°º]\\s*",
    "'": "['\u2032\u2019\u2018]",
    '"': '["\u2033\u201d\u201c]',
    "2": "[2²₂]",
    "3": "[3³]",
    "/": r"(?:\s*/\s*|\s+[pP][eE][rR]\s+)",
    "ω": r"[ωΩ\u2126]",
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


def _words(*phrases: str, behind: str = "") -> str:
    return _any_of(word(phrase) + behind for phrase in phrases)


_SPACE = r"\s+"
_START = rf"^(?=[\s\S]{{1,{LONGEST_TEXT}}}$)\s*"
_OR = rf",?\s+{word('or')}\s+"
_COMMA = r",\s+"
_TO = rf"(?:\s+{_words('through', 'thru', 'to', 'and')}\s+|\s*(?:\.\.|…)\s*)"
_GIVE_OR_TAKE = rf"\s*(?:[+]/-|[+]-|-/[+]|±|{word('plus or minus')})\s*"
_SEPARATOR = _any_of((_OR, _COMMA, _TO, _GIVE_OR_TAKE))
_SIGNS_AHEAD = (r"[<>]=?\s*", r"=[<>]\s*", r"[≥≤]\s*")
_LEAST_OR_MOST = ("at least", "not less than", "no less than", "at most", "up to", "not more than", "no more than")
_WORDS_AHEAD = (*_LEAST_OR_MOST, "more than", "less than", "from", "between")
_AHEAD = rf"{_any_of((_words(*_WORDS_AHEAD, behind=_SPACE), *_SIGNS_AHEAD))}?"
_BEHIND = rf"(?:,?\s+{word('or')}\s+{_words('more', 'less')})?"
_PERCENT = rf"{DECIMAL}\s*(?:%|{_words('percent', 'pct')})"


def quantity(kind: Kind, *, none: bool) -> str:
    """One quantity, or what of it is possible; a number without unit only where another behind it has one.

    ``none``, here and below: whether ``none`` can stand in the place of a value.
    """
    number = _WITH_FRACTION if kind.fractions else f"{_SIGN}{DECIMAL}"
    units = _unit_patterns(kind)
    if not units:
        return _possible(rf"{number}\s*", rf"{number}\s*", none=none, tolerance=rf"(?:{_GIVE_OR_TAKE}{_PERCENT})?")
    unit = f"{_any_of(units)}{_GAP}"
    one = rf"{number}{_GAP}(?:{unit})?" if kind.bare_allowed else rf"{number}{_GAP}{unit}"
    if kind.name in _TWO_PARTS:
        one = rf"{one}(?:\s*-?\s*{number}{_GAP}{unit})?"
    return _possible(rf"{number}(?:{_GAP}{unit})?", one, none=none, tolerance=rf"(?:{_GIVE_OR_TAKE}{_PERCENT})?")


def _possible(before: str, last: str, *, none: bool, tolerance: str = "") -> str:
    """Any number of values with or, to or give-or-take between them; only the last must be complete."""
    if none:
        before, last = f"(?:none|{before})", f"(?:none|{last})"
    return rf"{_START}{_AHEAD}(?:{before}{_SEPARATOR}{_AHEAD})*{last}{tolerance}{_BEHIND}\s*$"


def _unit_patterns(kind: Kind) -> list[str]:
    typed = {_unit_pattern(letters, gaps, kind) for letters, gaps in _spellings(kind).items()}
    typed |= {sign for spelled, sign in _SIGNS.items() if spelled in kind.units}
    # The longest first: alternatives are tried in order.
    return sorted(typed, key=lambda pattern: (-len(pattern), pattern))


def _spellings(kind: Kind) -> dict[str, set[int]]:
    """Every spelling without its spaces, and before which of its letters a space can stand.

    Each is written once: two alternatives that take the same text would be tried in every combination.
    """
    found: dict[str, set[int]] = {}
    for spelled in kind.units:
        if spelled and spelling_of(spelled) == spelled:
            words = spelled.split(" ")
            ends = accumulate(map(len, words[:-1]))
            found.setdefault("".join(words), set()).update(ends)
    return found


def _unit_pattern(letters: str, gaps: set[int], kind: Kind) -> str:
    """A unit as it can be typed: dots behind letters, signs for inches, capitals where they mean the same."""
    return "".join(
        (_GAP if index in gaps else "") + (_AS_TYPED.get(char) or _letter(char, letters, kind, first=index == 0))
        for index, char in enumerate(letters)
    )


def _letter(char: str, letters: str, kind: Kind, *, first: bool) -> str:
    if not char.isalpha():
        return _literal(char)
    lower, upper = char.lower(), char.upper()
    both = not first or kind.unit(upper + letters[1:]) == kind.unit(lower + letters[1:])
    return rf"[{lower}{upper}]\.?" if both else rf"{char}\.?"


def count(*, none: bool) -> str:
    """A whole number as text, or what of it is possible."""
    return _possible(_COUNT, _COUNT, none=none)


def date(*, none: bool) -> str:
    """A day, or what of it is possible."""
    return _possible(_DATE, _DATE, none=none)


_GAUGE_MARK = rf"(?:#|{word('no')}\.?|{word('num')}\.?|{word('number')}|{word('awg')}\s*#?)"
_GAUGE_UNIT = rf"\s*-?\s*(?:{_words('awg', 'gauge')}|{word('ga')}\.?)"
_AREA_UNIT = rf"\s*-?\s*{_words('kcmil', 'mcm', 'kcm')}"
_SIZE = _any_of(
    (
        rf"{_GAUGE_MARK}\s*(?:[1-4]\s*/\s*0|[0-9]+)(?:{_GAUGE_UNIT})?",
        rf"[1-4]\s*/\s*0(?:{_GAUGE_UNIT})?",
        rf"[0-9]+{_GAUGE_UNIT}",
        rf"{DECIMAL}{_AREA_UNIT}",
    )
)


def wire_size(*, none: bool) -> str:
    """A size of wire, or what of it is possible."""
    return _possible(rf"(?:{_SIZE}|[0-9]+)", _SIZE, none=none)


def conductor() -> str:
    """Conductors in one line: a size, and anything around it; the words for material and insulation are left to the
    program.
    """
    return rf"{_START}(?:.*[\s,)xX×])?{_SIZE}(?:[\s,].*)?$"


def voltage_system() -> str:
    """A voltage system in one line; which voltages, phases and wires go together is left to the program."""
    return rf"{_START}[0-9.].*[A-Za-z/ØøφΔδ⌀].*$"


def one_tag() -> str:
    """One tag."""
    return rf"{_START}{_tag_but('none', 'unknown')}\s*$"


def tags(*, none: bool) -> str:
    """A tag, or several with or between them."""
    return _this_or_that(_tag_but("unknown") if none else _tag_but("none", "unknown"))


def one_way() -> str:
    """A piece and one of its ways."""
    return rf"{_START}{_ONE_WAY}\s*$"


def ways(*, none: bool) -> str:
    """A piece and one of its ways, or several with or between them."""
    return _this_or_that(rf"(?:none|{_ONE_WAY})" if none else _ONE_WAY)


_ONE_WAY = rf"{TAG}/{WAY}"


def _tag_but(*words: str) -> str:
    return rf"(?!{_any_of(words)}(?![A-Za-z0-9_-])){TAG}"


def words_with_or(choices: Iterable[str]) -> str:
    """A choice, or several with or between them."""
    return _this_or_that(_any_of(sorted(choices, key=lambda choice: (-len(choice), choice))))


def _this_or_that(one: str) -> str:
    return rf"{_START}(?:{one}|(?=.*\s{word('or')}\s){one}(?:(?:{_OR}|{_COMMA}){one})+)\s*$"
