"""A pack: one document in all its editions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from checker.rules.model.citing import Citation
from checker.rules.model.conditions import Condition
from checker.rules.model.numbers import Parameter, Table
from checker.rules.model.rule import Rule
from checker.values.positions import Position


@dataclass(frozen=True, slots=True)
class Reference:
    """A standard to which a code sends: it counts wherever the code is adopted and the place has not adopted the
    standard itself.

    ``editions`` says for each edition of the code which one of the standard it names, ``cites`` where it names it,
    ``only`` for which of each subject the code sends there; a subject that is not in it is sent as a whole.
    """

    document: str
    editions: Mapping[str, str]
    cites: Mapping[str, tuple[Citation, ...]]
    only: Mapping[str, Condition]
    at: Position


@dataclass(frozen=True, slots=True)
class Pack:
    """One document in all its editions, or one body of practice. ``editions`` is empty where there are none.

    ``interim`` holds the interim amendments of each edition by number, with the day from which each counts,
    ``sends_to`` the standards that come into force with it.
    """

    id: str
    title: str
    document: str
    editions: tuple[str, ...]
    digest: str
    rules: tuple[Rule, ...]
    parameters: Mapping[str, Parameter]
    tables: Mapping[str, Table]
    folder: str
    retired: Mapping[str, str] = field(default_factory=dict)
    interim: Mapping[str, Mapping[str, date]] = field(default_factory=dict)
    sends_to: tuple[Reference, ...] = ()
