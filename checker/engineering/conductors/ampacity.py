"""What conductors carry where they lie and at the terminals on which they end (NFPA 70, 310.15 and 110.14(C))."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.conductors.tables import Ampacities, CountFactors, TemperatureFactors
from checker.engineering.worked import Method, Paper, Step, Worked
from checker.values.arithmetic import rounded
from checker.values.number_text import plain_text
from checker.values.wire_sizes import WireSize


@dataclass(frozen=True, slots=True)
class Conductors:
    """Conductors of one phase: size, metal, temperature of the insulation (°C), and how many in parallel."""

    size: WireSize
    material: str
    insulation: Fraction
    sets: int = 1


@dataclass(frozen=True, slots=True)
class Surroundings:
    """Temperature around the conductors and what a roof adds to it (°C), how many current-carrying conductors lie
    together and over what length (ft; None: not known, counts as long).
    """

    ambient: Fraction
    count: int
    roof_adder: Fraction = Fraction(0)
    length: Fraction | None = None


@dataclass(frozen=True, slots=True)
class AmpacityTables:
    """The three tables of one edition."""

    ampacities: Ampacities
    by_temperature: TemperatureFactors
    by_count: CountFactors


@dataclass(frozen=True, slots=True)
class AmpacityCase:
    """Conductors, where they lie, and the temperature column (°C) of the lesser of their terminals."""

    conductors: Conductors
    surroundings: Surroundings
    terminals: Fraction
    tables: AmpacityTables


def ampacity(case: AmpacityCase) -> Worked:
    """The allowable ampacity in A: I = n x min(I_insulation x F_temperature x F_count, I_terminals).

    I_insulation and I_terminals are the ampacities of the table in the column of the insulation and in that of the
    terminals (that of the insulation where it is the lower), n the conductors in parallel. Correction begins at the
    insulation; terminals are compared without it. Falls with the temperature and with the number of conductors, rises
    with those in parallel. Limits: conductors up to 2000 V in raceway, cable or earth; not in free air.
    """
    paper, conductors, found = Paper(), case.conductors, _figures(case)
    corrected = _write_corrected(paper, case, found)
    at_terminals = paper.write(
        "ampacity at the terminals",
        f"column of {plain_text(_column(case))} °C",
        found.at_terminals,
        "A",
        f"{case.tables.ampacities.source}, 110.14(C)",
    )
    lesser = paper.write(
        "lesser of the two", f"the lesser of {corrected.letter} and {at_terminals.letter}", found.lesser, "A"
    )
    if conductors.sets > 1:
        paper.write("ampacity", f"{conductors.sets} x {lesser.letter}", found.result, "A")
    return paper.result()


def ampacity_alone(case: AmpacityCase) -> Fraction:
    """The value that ``ampacity`` gives, without its steps: to find the case that counts among many. OutsideLimits as
    there.
    """
    return rounded(_figures(case).result)


@dataclass(frozen=True, slots=True)
class _Figures:
    """What the tables have for a case, in A and as factors."""

    by_insulation: Fraction
    for_heat: Fraction
    for_count: Fraction
    at_terminals: Fraction
    sets: int

    @property
    def corrected(self) -> Fraction:
        return self.by_insulation * self.for_heat * self.for_count

    @property
    def lesser(self) -> Fraction:
        return min(self.corrected, self.at_terminals)

    @property
    def result(self) -> Fraction:
        return self.sets * self.lesser


def _figures(case: AmpacityCase) -> _Figures:
    conductors, around, tables = case.conductors, case.surroundings, case.tables
    return _Figures(
        tables.ampacities.of(conductors.size, conductors.material, conductors.insulation),
        tables.by_temperature.of(around.ambient + around.roof_adder, conductors.insulation),
        tables.by_count.of(around.count, around.length),
        tables.ampacities.of(conductors.size, conductors.material, _column(case)),
        conductors.sets,
    )


def _column(case: AmpacityCase) -> Fraction:
    """The temperature of the column for the terminals: that of the insulation where it is the lower."""
    return min(case.terminals, case.conductors.insulation)


def _write_corrected(paper: Paper, case: AmpacityCase, found: _Figures) -> Step:
    conductors, around, tables = case.conductors, case.surroundings, case.tables
    base = paper.write(
        "ampacity by the insulation",
        f"{conductors.size.name} {conductors.material}, column of {plain_text(conductors.insulation)} °C",
        found.by_insulation,
        "A",
        tables.ampacities.source,
    )
    heat = paper.write(
        "factor for the surroundings",
        f"at {plain_text(around.ambient + around.roof_adder)} °C",
        found.for_heat,
        "",
        tables.by_temperature.source,
    )
    together = paper.write(
        "factor for the number of conductors",
        f"{around.count} current-carrying conductors together",
        found.for_count,
        "",
        tables.by_count.source,
    )
    how = f"{base.letter} x {heat.letter} x {together.letter}"
    return paper.write("corrected ampacity", how, found.corrected, "A")


def smallest_size(case: AmpacityCase, needed: Fraction) -> WireSize:
    """The smallest size that, everything else as in the case, carries the current ``needed`` (A). It rises with it.

    OutsideLimits where no size does. 310.15 and 110.14(C) of NFPA 70.
    """
    conductors = case.conductors
    sizes = case.tables.ampacities.column(conductors.material, conductors.insulation).sizes

    def carried(size: WireSize) -> Fraction:
        return ampacity_alone(replace(case, conductors=replace(conductors, size=size)))

    place = bisect_left(sizes, needed, key=carried)
    if place < len(sizes):
        return sizes[place]
    raise OutsideLimits(f"No size of {case.tables.ampacities.source} carries {plain_text(needed)} A here.")


AMPACITY: Method[AmpacityCase] = Method(
    "ampacity",
    "Allowable ampacity",
    "I = n x min(I_insulation x F_temperature x F_count, I_terminals)",
    "NFPA 70, 310.15 and 110.14(C)",
    "Conductors up to 2000 V in raceway, cable or earth.",
    {"ambient": Direction.FALLS, "roof_adder": Direction.FALLS, "count": Direction.FALLS, "sets": Direction.RISES},
    ampacity,
)
