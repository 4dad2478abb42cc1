"""Values as a pack writes them: in parameters and in the cells of tables."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from checker.values.dates import day_number, read_date
from checker.values.kinds import KINDS
from checker.values.notation import NotationError
from checker.values.number_text import read_whole_number
from checker.values.possible import Possible, Span, exactly, number
from checker.values.quantities import read_quantity
from checker.values.refusals import quoted
from checker.values.wire_sizes import read_wire_size

_FLAGS = {"yes": True, "true": True, "no": False, "false": False}
_WORD = re.compile(r"[A-Za-z0-9][A-Za-z0-9_]*").fullmatch
_BARE_NUMBER = re.compile(r"[0-9][0-9.,/ -]*|\.[0-9]+").fullmatch
_BAND = re.compile(r"(?P<over>over\s+)?(?P<low>.+?)\s+to\s+(?P<high>.+)")
_UP_TO = re.compile(r"up\s+to\s+(?P<high>.+)")
_OVER = re.compile(r"over\s+(?P<low>.+)")


@dataclass(frozen=True, slots=True)
class WrittenValue:
    """A value with its text as shown, and the unit in which it was given."""

    value: Possible
    text: str
    unit: str | None = None


def read_value(text: str, type_name: str, unit: str | None = None) -> WrittenValue:
    """One exact value of a type; a bare number takes the unit of its column. Raises NotationError."""
    whole = f"{text} {unit}" if unit and _BARE_NUMBER(text.strip()) else text.strip()
    if type_name in KINDS:
        quantity = read_quantity(whole, type_name)
        return WrittenValue(number(quantity.number), whole, quantity.unit)
    return WrittenValue(_READERS[type_name](whole), whole)


def _count(text: str) -> Possible:
    return number(read_whole_number(text))


def _wire_size(text: str) -> Possible:
    return number(read_wire_size(text).circular_mils)


def _date(text: str) -> Possible:
    return number(day_number(read_date(text)))


def _flag(text: str) -> Possible:
    if text not in _FLAGS:
        raise NotationError(f"{quoted(text)} is not yes or no.", "Write yes or no.")
    return exactly(_FLAGS[text])


def _choice(text: str) -> Possible:
    if not _WORD(text):
        raise NotationError(
            f"{quoted(text)} is not the name of a choice.", "Write the choice as the fact catalog does."
        )
    return exactly(text)


_READERS: dict[str, Callable[[str], Possible]] = {
    "count": _count,
    "wire_size": _wire_size,
    "date": _date,
    "flag": _flag,
    "choice": _choice,
}


def read_band(text: str, type_name: str, unit: str | None = None) -> WrittenValue:
    """``0 V to 150 V``, ``over 150 V to 600 V``, ``up to 150 V``, ``over 600 V``. Raises NotationError."""
    typed = text.strip()
    up_to, both, over = _UP_TO.fullmatch(typed), _BAND.fullmatch(typed), _OVER.fullmatch(typed)
    if up_to:
        span = Span(None, read_number(up_to["high"], type_name, unit))
    elif both:
        low, high = read_number(both["low"], type_name, unit), read_number(both["high"], type_name, unit)
        if low >= high:
            raise NotationError(f"{quoted(typed)} runs backwards.", "Write the lower end first.")
        span = Span(low, high, low_open=both["over"] is not None)
    elif over:
        span = Span(read_number(over["low"], type_name, unit), None, low_open=True)
    else:
        raise NotationError(
            f"{quoted(typed)} is not a band.", "Write 0 V to 150 V, over 150 V to 600 V, up to 150 V or over 600 V."
        )
    return WrittenValue(Possible(spans=(span,)), typed)


def read_upper_end(text: str, type_name: str, unit: str | None = None) -> WrittenValue:
    """The key of a row that serves what lies up to it; ``over 600 V`` serves what lies above. Raises NotationError."""
    return read_band(text, type_name, unit) if _OVER.match(text.strip()) else read_value(text, type_name, unit)


def read_number(text: str, type_name: str, unit: str | None) -> Fraction:
    """One number in the base unit. Raises NotationError."""
    found = read_value(text.strip(), type_name, unit).value.number
    if found is None:
        raise NotationError(f"{quoted(text)} is not a number.", "Write a number with its unit.")
    return found
