"""Sizes of equipment grounding conductors (NFPA 70, 250.122)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.conductors.tables import Sized, SizesBy, size_with_area, write_size
from checker.engineering.worked import Method, Paper, Step
from checker.values.number_text import plain_text
from checker.values.wire_sizes import WireSize


@dataclass(frozen=True, slots=True)
class GroundedCircuit:
    """A circuit: the overcurrent device ahead (A), the smallest phase conductor that would do and the one that is
    there, both for one of ``sets`` in parallel, and the column of Table 250.122 for the metal of the grounding
    conductor. ``smallest`` is after correction for surroundings and number; None: the phase conductor is not enlarged.
    """

    device: Fraction
    installed: WireSize | None
    smallest: WireSize | None
    sets: int
    table: SizesBy
    same_metal: bool = True
    """Whether phase and grounding conductor are of one metal, so that their areas can be compared."""


def equipment_grounding_conductor(case: GroundedCircuit) -> Sized:
    """The smallest equipment grounding conductor of wire type, in each raceway or cable, as area in circular mils.

    A = A_table x A_installed / A_smallest, then the size with that area: NFPA 70, 250.122(A) by the device, (B) larger
    by as much as the phase conductors are, (F) in full in each of several raceways. It need not be larger than the
    phase conductors together. Rises with the device and with the installed conductor, falls with the smallest one
    that would do. Limits: within Table 250.122; the ratio is not rounded.
    """
    base = case.table.of(case.device)
    if base is None:
        raise OutsideLimits(f"{case.table.source} has no row for {plain_text(case.device)} A.")
    paper = Paper()
    how = f"row of {plain_text(case.device)} A: {base.name}"
    step = paper.write("size by the overcurrent device", how, base.circular_mils, "cmil", case.table.source)
    step = _enlarged(paper, case, step)
    size = size_with_area(step.value)
    if case.installed is not None and case.same_metal and size.circular_mils > case.sets * case.installed.circular_mils:
        size = size_with_area(case.sets * case.installed.circular_mils)
        return write_size(paper, "equipment grounding conductor", "as the phase conductors", size, "250.122(A)")
    source = "250.122(F)" if case.sets > 1 else ""
    where = ", in each raceway" if case.sets > 1 else ""
    return write_size(paper, "equipment grounding conductor", f"size not below {step.letter}{where}", size, source)


def _enlarged(paper: Paper, case: GroundedCircuit, base: Step) -> Step:
    """The area in the proportion in which the phase conductors are larger than they have to be."""
    installed, smallest = case.installed, case.smallest
    if installed is None or smallest is None or installed <= smallest:
        return base
    least = paper.write("smallest phase conductor that would do", smallest.name, smallest.circular_mils, "cmil")
    there = paper.write("installed phase conductor", installed.name, installed.circular_mils, "cmil")
    area = base.value * there.value / least.value
    how = f"{base.letter} x {there.letter} / {least.letter}"
    return paper.write("area in proportion", how, area, "cmil", "250.122(B)")


EQUIPMENT_GROUNDING_CONDUCTOR: Method[GroundedCircuit] = Method(
    "equipment_grounding_conductor",
    "Equipment grounding conductor",
    "A = A_table x A_installed / A_smallest, then the size with that area",
    "NFPA 70, 250.122(A), (B) and (F)",
    "Within Table 250.122.",
    {"device": Direction.RISES},
    equipment_grounding_conductor,
)
