"""Sizes of all sections of a gas system, by the longest-length method and by the branch-length method.

NFPA 54, 6.1 (IFGC, 402.3). Each section carries what all outlets beyond it ask. By the longest length, every section
is sized for the length from the point of delivery to the most remote outlet. By branch lengths, the sections on that
longest run are sized so, and every other section for the length from the point of delivery to the most remote outlet
beyond it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.gas_pipe import Pipe, PipeCapacity


class Lengths(Enum):
    """Which length counts for a section."""

    LONGEST = "longest length"
    BRANCH = "branch length"


@dataclass(frozen=True, slots=True)
class Section:
    """A piece of pipe between two tees or ends. Length in ft, its fittings counted; ``after`` is the section before it,
    None where it begins at the point of delivery. ``demand`` is what an outlet at its far end asks, in the unit of the
    table, ``size`` the size that is there, if one is.
    """

    name: str
    length: Fraction
    after: str | None
    demand: Fraction = Fraction(0)
    size: str | None = None


@dataclass(frozen=True, slots=True)
class System:
    """All sections from one point of delivery (or from one second-stage regulator) on, and the pipe they are of."""

    sections: tuple[Section, ...]
    pipe: Pipe
    lengths: Lengths


@dataclass(frozen=True, slots=True)
class SizedSection:
    """A section with what it carries, the length that counts for it, and the smallest size for that.

    ``there`` is the capacity of the size that is there; None where none is given.
    """

    section: Section
    demand: Fraction
    length: Fraction
    smallest: PipeCapacity
    there: PipeCapacity | None

    @property
    def carries(self) -> bool | None:
        """Whether the size that is there carries the demand; None where none is given."""
        return None if self.there is None else self.there.counts >= self.demand


def size_system(system: System) -> tuple[SizedSection, ...]:
    """Every section with its size, in the order given.

    Demands add up without diversity. Sizes never get smaller with more demand or more length. Limits: one pressure, one
    kind of pipe; sections form a tree; OutsideLimits names a section that they do not, or a demand past the table.
    """
    by_name = _checked(system.sections)
    outlets = tuple(_outlet(each, by_name) for each in system.sections if each.demand > 0)
    if not outlets:
        raise OutsideLimits("No outlet of the gas system asks for anything.")
    return tuple(_sized(each, system, outlets) for each in system.sections)


@dataclass(frozen=True, slots=True)
class _Outlet:
    """An outlet with the sections from the point of delivery to it, and their length together (ft)."""

    demand: Fraction
    run: frozenset[str]
    length: Fraction


def _checked(sections: Sequence[Section]) -> Mapping[str, Section]:
    by_name = {each.name: each for each in sections}
    if len(by_name) < len(sections):
        raise OutsideLimits("Two sections of the gas system have the same name.")
    for each in sections:
        if each.length <= 0 or each.demand < 0:
            raise OutsideLimits(f"Section {each.name} needs a length above zero and a demand of zero or more.")
        if each.after is not None and each.after not in by_name:
            raise OutsideLimits(f"Section {each.name} begins at {each.after}, which is not there.")
    return by_name


def _outlet(section: Section, by_name: Mapping[str, Section]) -> _Outlet:
    run = [section]
    while (before := run[-1].after) is not None:
        if by_name[before] in run:
            raise OutsideLimits(f"Section {before} comes after itself.")
        run.append(by_name[before])
    length = sum((each.length for each in run), Fraction(0))
    return _Outlet(section.demand, frozenset(each.name for each in run), length)


def _sized(section: Section, system: System, outlets: Sequence[_Outlet]) -> SizedSection:
    beyond = [outlet for outlet in outlets if section.name in outlet.run]
    if not beyond:
        raise OutsideLimits(f"Nothing beyond section {section.name} asks for gas.")
    demand = sum((outlet.demand for outlet in beyond), Fraction(0))
    # The most remote outlet of all lies beyond every section of the longest run: by branches that run keeps its length.
    length = max(outlet.length for outlet in (outlets if system.lengths is Lengths.LONGEST else beyond))
    there = None if section.size is None else system.pipe.capacity(section.size, length)
    return SizedSection(section, demand, length, system.pipe.smallest(demand, length), there)
