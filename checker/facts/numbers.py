"""Numbers that the documents in force set, as calculations take them."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import wraps
from typing import TypeVar

from checker.engineering.calculation import OutsideLimits
from checker.rules.model.in_force import NumbersInForce
from checker.rules.model.numbers import ParameterValue, Row
from checker.values.dates import CalendarSpan

_Made = TypeVar("_Made")


def number_in_force(numbers: NumbersInForce, name: str) -> Fraction:
    """The number that a parameter has, in the base unit of its kind; OutsideLimits where the documents in force set no
    such number, or none.
    """
    value = _value(numbers, name).value
    if value is None or isinstance(value, CalendarSpan) or value.number is None:
        raise OutsideLimits(f"The {_words(name)} is no one number in the documents in force.")
    return value.number


def words_in_force(numbers: NumbersInForce, name: str) -> frozenset[str]:
    """The choices that a parameter names; none where no document in force sets it."""
    found = numbers.parameters.get(name)
    value = None if found is None else found.value
    if value is None or isinstance(value, CalendarSpan):
        return frozenset()
    return frozenset[str]().union(*(each.surely for each in value.sets))


def cited(numbers: NumbersInForce, name: str) -> str:
    """The section that sets a number or a table, with its edition; "verify" where nobody has confirmed it."""
    value = numbers.tables.get(name) or _value(numbers, name)
    sections = (
        f"{each.document} {each.edition or ''} {each.section}{', verify the citation' if each.verify else ''}"
        for each in value.cites
    )
    return "; ".join(" ".join(each.split()) for each in sections)


def rows_in_force(numbers: NumbersInForce, name: str) -> tuple[Row, ...]:
    """The rows of a table; OutsideLimits where no document in force has it."""
    table = numbers.tables.get(name)
    if table is None:
        raise OutsideLimits(f"No document in force has the table of the {_words(name)}.")
    return table.rows


def word_of_trust(numbers: NumbersInForce, table: str) -> str:
    """What stands behind the name of a table of which nobody is quite sure."""
    return "" if numbers.tables[table].checked.sure == "high" else ", verify the table"


def made_once(make: Callable[[NumbersInForce], _Made]) -> Callable[[NumbersInForce], _Made]:
    """The same, made once for the numbers that were asked for last: a review asks for the same ones all the time."""
    kept: list[tuple[NumbersInForce, _Made]] = []

    @wraps(make)
    def made(numbers: NumbersInForce) -> _Made:
        if not kept or kept[0][0] is not numbers:
            kept[:] = [(numbers, make(numbers))]
        return kept[0][1]

    return made


def _value(numbers: NumbersInForce, name: str) -> ParameterValue:
    value = numbers.parameters.get(name)
    if value is None:
        raise OutsideLimits(f"No document in force sets the {_words(name)}.")
    return value


def _words(name: str) -> str:
    return name.replace("-", " ")
