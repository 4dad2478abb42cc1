"""Sizes of grounding electrode conductors and of bonding jumpers ahead of the overcurrent device (NFPA 70, 250)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.conductors.tables import Sized, SizesBy, size_with_area, write_size
from checker.engineering.worked import Method, Paper, Step
from checker.values.number_text import plain_text
from checker.values.wire_sizes import WireSize


@dataclass(frozen=True, slots=True)
class PhaseConductors:
    """The largest ungrounded conductors, or those of one raceway where each has a jumper of its own: size and how many
    of them in parallel.
    """

    size: WireSize
    sets: int = 1

    @property
    def circular_mils(self) -> Fraction:
        """The area of the parallel conductors together."""
        return self.size.circular_mils * self.sets


@dataclass(frozen=True, slots=True)
class ElectrodeCase:
    """Phase conductors, the table for their metal and that of the electrode conductor, and the size above which the
    conductor never has to be since it goes to one kind of electrode alone (None: there is no such limit).
    """

    phase: PhaseConductors
    table: SizesBy
    limit: WireSize | None = None


def electrode_conductor(case: ElectrodeCase) -> Sized:
    """The smallest grounding electrode conductor, as area in circular mils: min(table, limit of the electrode).

    NFPA 70, 250.66 with (A) to (C): rod, pipe, plate, concrete-encased electrode and ring limit the size where the
    conductor does not go on to another kind of electrode. Rises with the phase conductors.
    """
    paper = Paper()
    area = _write_area(paper, case.phase)
    size = case.table.of(area.value / 1000)
    if size is None:
        raise OutsideLimits(f"{case.table.source} has no row for {plain_text(area.value / 1000)} kcmil.")
    found = write_size(paper, "electrode conductor by the phase conductors", f"row of {area.letter}", size, "250.66")
    if case.limit is None or case.limit >= size:
        return found
    how = "never larger to this electrode alone"
    return write_size(paper, "electrode conductor", how, case.limit, "250.66(A) to (C)")


@dataclass(frozen=True, slots=True)
class JumperCase:
    """Phase conductors, the rows for their metal and that of the jumper, the share of their area above the last row,
    and whether the conductor is the grounded one.

    ``area_in_its_metal`` is the area (circular mils) of phase conductors of the metal of the jumper with the same
    ampacity, where the two metals differ and the table has ended.
    """

    phase: PhaseConductors
    table: SizesBy
    share_above: Fraction
    metals_differ: bool = False
    area_in_its_metal: Fraction | None = None
    is_grounded_conductor: bool = False


def bonding_jumper(case: JumperCase) -> Sized:
    """The smallest main, system or supply-side bonding jumper, or grounded conductor, as area in circular mils.

    NFPA 70, 250.102(C)(1): the row of the phase conductors; above the last one A = 12.5 % of their area, by phase
    conductors of the metal of the jumper where the two differ. A grounded conductor need not be larger than the phase
    conductors. Rises with the phase conductors and with the share. Limits: jumpers in several raceways, each by the
    conductors of its own.
    """
    paper = Paper()
    area = _write_area(paper, case.phase)
    size = case.table.of(area.value / 1000)
    if size is not None:
        found = write_size(paper, "bonding jumper", f"row of {area.letter}", size, case.table.source)
    else:
        found = _by_share(paper, case, area)
    if case.is_grounded_conductor and found.size.circular_mils > case.phase.circular_mils:
        return write_size(paper, "grounded conductor", "not larger than the phase conductors", case.phase.size)
    return found


@dataclass(frozen=True, slots=True)
class WaterPipeCase:
    """Phase conductors, the rows for their metal and that of the bond, and the size above which it never has to be."""

    phase: PhaseConductors
    table: SizesBy
    limit: WireSize


def water_pipe_bond(case: WaterPipeCase) -> Sized:
    """The smallest bond of a metal water pipe, as area in circular mils: min(row, limit).

    NFPA 70, 250.104(A)(1) and (D): the row of Table 250.102(C)(1), past the last row the limit, since the share of the
    area never gives less there. Rises with the phase conductors.
    """
    paper = Paper()
    area = _write_area(paper, case.phase)
    size = case.table.of(area.value / 1000)
    if size is not None and size.circular_mils <= case.limit.circular_mils:
        return write_size(paper, "bond of the water pipe", f"row of {area.letter}", size, case.table.source)
    return write_size(paper, "bond of the water pipe", "never larger", case.limit, "250.104(A)(1)")


def _by_share(paper: Paper, case: JumperCase, area: Step) -> Sized:
    if case.metals_differ:
        if case.area_in_its_metal is None:
            raise OutsideLimits("Jumper and phase conductors are of two metals: give the area in the jumper's metal.")
        how = "of its own metal, with the same ampacity"
        area = paper.write("area of phase conductors", how, case.area_in_its_metal, "cmil", case.table.source)
    how = f"{plain_text(case.share_above * 100)} % of {area.letter}"
    share = paper.write("share of the area", how, case.share_above * area.value, "cmil", case.table.source)
    return write_size(paper, "bonding jumper", f"size not below {share.letter}", size_with_area(share.value))


def _write_area(paper: Paper, phase: PhaseConductors) -> Step:
    how = f"{phase.sets} x {phase.size.name}" if phase.sets > 1 else phase.size.name
    return paper.write("area of the phase conductors", how, phase.circular_mils, "cmil")


ELECTRODE_CONDUCTOR: Method[ElectrodeCase] = Method(
    "electrode_conductor",
    "Grounding electrode conductor",
    "the row of Table 250.66, not above the limit of the electrode",
    "NFPA 70, 250.66",
    "A conductor of copper, aluminum or copper-clad aluminum.",
    {"sets": Direction.RISES},
    electrode_conductor,
)

BONDING_JUMPER: Method[JumperCase] = Method(
    "bonding_jumper",
    "Bonding jumper ahead of the overcurrent device",
    "the row of Table 250.102(C)(1), above it 12.5 % of the area of the phase conductors",
    "NFPA 70, 250.102(C)(1)",
    "Wire-type jumpers.",
    {"sets": Direction.RISES, "share_above": Direction.RISES, "area_in_its_metal": Direction.RISES},
    bonding_jumper,
)

WATER_PIPE_BOND: Method[WaterPipeCase] = Method(
    "water_pipe_bond",
    "Bond of the metal water pipe",
    "the row of Table 250.102(C)(1), not above the limit",
    "NFPA 70, 250.104",
    "Wire-type conductors.",
    {"sets": Direction.RISES},
    water_pipe_bond,
)
