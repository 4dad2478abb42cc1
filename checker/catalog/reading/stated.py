"""A fact as a person wrote it."""

from __future__ import annotations

from dataclasses import dataclass

from checker.values.positions import Position
from checker.values.possible import Possible


@dataclass(frozen=True, slots=True)
class Stated:
    """One fact as a person wrote it: what is possible by it, the text as typed, the unit, the paper, and where it
    stands.
    """

    value: Possible
    text: str
    at: Position
    unit: str | None = None
    per: str | None = None
    assumed: bool = False
