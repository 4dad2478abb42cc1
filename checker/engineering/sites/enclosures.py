"""Types of enclosure for a place, and what an enclosure of a type is worth in the IP code, never the other way."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from checker.engineering.calculation import OutsideLimits


@dataclass(frozen=True, slots=True)
class EnclosureTable:
    """For each condition of a place the types that serve there, and where the table stands (NFPA 70, Table 110.28)."""

    serving: Mapping[str, frozenset[str]]
    source: str


@dataclass(frozen=True, slots=True)
class ForPlace:
    """A type against the conditions of a place: those it is not made for. Empty where it serves."""

    type: str
    not_made_for: tuple[str, ...]

    @property
    def serves(self) -> bool:
        """Whether the type is made for every condition."""
        return not self.not_made_for


def for_place(type_: str, conditions: Sequence[str], table: EnclosureTable) -> ForPlace:
    """A type against each condition of a place. OutsideLimits where the table has no such type or condition."""
    known = frozenset[str]().union(*table.serving.values())
    if type_ not in known:
        raise OutsideLimits(f"{table.source} has no enclosure type {type_}.")
    if not conditions:
        raise OutsideLimits("Nothing is said of the place of the enclosure.")
    return ForPlace(type_, tuple(each for each in conditions if type_ not in _serving(each, table)))


def _serving(condition: str, table: EnclosureTable) -> frozenset[str]:
    try:
        return table.serving[condition]
    except KeyError:
        raise OutsideLimits(f"{table.source} has no condition {condition}.") from None


@dataclass(frozen=True, slots=True)
class Protection:
    """An IP code: degree against solids (0 to 6) and against water (0 to 8). IEC 60529."""

    solids: int
    water: int

    def __str__(self) -> str:
        return f"IP{self.solids}{self.water}"

    def covers(self, wanted: Protection) -> bool:
        """Whether an enclosure of this code is one of the wanted code too.

        Solids and the water degrees up to 6 include the lower ones. Immersion (7 and 8) does not include jets (5 and
        6): an enclosure that stands both carries both codes (IEC 60529, 6).
        """
        if self.water >= _IMMERSION > wanted.water > _SPRAY:
            return False
        return self.solids >= wanted.solids and self.water >= wanted.water


_IMMERSION, _SPRAY = 7, 4
"""Degrees against water: from 7 on immersion, up to 4 drops and splashes, between them jets."""


_CODE = re.compile(r"IP([0-6])([0-8])")


def read_protection(code: str) -> Protection:
    """An IP code as it is printed, ``IP54``; OutsideLimits for anything else, ``IP2X`` among it."""
    found = _CODE.fullmatch(code)
    if found is None:
        raise OutsideLimits(f"{code} is no IP code with two degrees.")
    return Protection(int(found[1]), int(found[2]))


@dataclass(frozen=True, slots=True)
class CrossTable:
    """The least IP code that an enclosure of a type reaches, and which printing of the annex it is from (NEMA 250).

    There is no way back: an IP code says nothing of corrosion, ice, oil and gaskets, so that no type follows from it.
    """

    codes: Mapping[str, Protection]
    source: str

    def least(self, type_: str) -> Protection:
        """The IP code of a type; OutsideLimits for one that the table does not have."""
        try:
            return self.codes[type_]
        except KeyError:
            raise OutsideLimits(f"{self.source} has no enclosure type {type_}.") from None

    def type_reaches(self, type_: str, wanted: Protection) -> bool:
        """Whether an enclosure of a type is surely one of the wanted IP code; no says only that the table is silent."""
        return self.least(type_).covers(wanted)
