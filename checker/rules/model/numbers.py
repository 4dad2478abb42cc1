"""Parameters and tables: the numbers that a document sets, by edition."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from checker.rules.model.citing import Checked, Citation
from checker.values.dates import CalendarSpan
from checker.values.positions import Position
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class ParameterValue:
    """The value of a parameter in one edition: a set of possibilities with one member, a calendar span, or no limit."""

    text: str
    value: Possible | CalendarSpan | None
    unit: str | None
    cites: tuple[Citation, ...]
    checked: Checked

    @property
    def no_limit(self) -> bool:
        """Whether any comparison with it holds."""
        return self.value is None


@dataclass(frozen=True, slots=True)
class Parameter:
    """A number, date, length of time or list of choices that a document sets, by edition. ``stricter`` is higher or
    lower.
    """

    name: str
    title: str
    type: str
    stricter: str | None
    values: Mapping[str, ParameterValue]
    at: Position


@dataclass(frozen=True, slots=True)
class TableKey:
    """One key of a table. ``match`` is exact, at_or_above (the first row whose key is not below) or band."""

    name: str
    match: str
    type: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row: for each key the possibilities that it stands for (a word, a number, or a band), and its value."""

    keys: Mapping[str, Possible]
    value: Possible
    text: str


@dataclass(frozen=True, slots=True)
class TableValues:
    """The rows of a table in one edition, as in the book; ``beyond`` is the reason given past the last row."""

    rows: tuple[Row, ...]
    beyond: str
    cites: tuple[Citation, ...]
    checked: Checked


@dataclass(frozen=True, slots=True)
class Table:
    """A table of a document, by edition. A table without keys is a list of sizes."""

    name: str
    title: str
    keys: tuple[TableKey, ...]
    gives: str
    unit: str | None
    values: Mapping[str, TableValues]
    at: Position
