"""Load of what is there already: the method for an existing dwelling, and measured demand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.loads.demand import Tiers, together
from checker.engineering.loads.dwelling import NOTHING, Dwelling, OptionalNumbers, general_load, write_other_buildings
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class ExistingCase:
    """An existing dwelling with what is there and what is added, and whether heating or cooling is added.

    ``tiers`` are those of this method (8,000 VA in full); ``optional`` has the numbers by which the general load is
    found.
    """

    dwelling: Dwelling
    heating_or_cooling_added: bool
    tiers: Tiers
    optional: OptionalNumbers
    source: str


def existing_dwelling_load(case: ExistingCase) -> Worked:
    """The load of an existing dwelling, old and new together, in VA (NFPA 70, 220.83; 120.83 in the 2026 edition).

    First tier in full and 40 % of the rest. Where heating or cooling is added, all heating or all cooling, whichever is
    greater, counts in full outside of the tiers; where it is not, it lies within them. It rises with every rating.
    Limits: one dwelling, 120/240 V or 208Y/120 V three-wire.
    """
    home, paper = case.dwelling, Paper()
    general = general_load(paper, home, case.optional)
    at_once = home.heating.largest_at_once
    if case.heating_or_cooling_added:
        demand = case.tiers.write(paper, "demand of the general load", general)
        added = paper.write(
            "heating or cooling", "the greater of the two, in full, since it is added", at_once, "VA", case.source
        )
        together(paper, "calculated load", (demand, added, *write_other_buildings(paper, home)))
        return paper.result()
    there = paper.write("heating or cooling", "the greater of the two, already there", at_once, "VA", case.source)
    both = together(paper, "general load with heating or cooling", (general, there))
    if not home.other_buildings:
        case.tiers.write(paper, "calculated load", both)
        return paper.result()
    demand = case.tiers.write(paper, "demand of the general load", both)
    together(paper, "calculated load", (demand, *write_other_buildings(paper, home)))
    return paper.result()


EXISTING_DWELLING_LOAD: Method[ExistingCase] = Method(
    "existing_dwelling_load",
    "Load of an existing dwelling with what is added",
    "first tier + 40 % of the rest (+ heating or cooling in full where it is added)",
    "NFPA 70, 220.83 (120.83 in the 2026 edition)",
    "One existing dwelling.",
    {"area": Direction.RISES, "rating": Direction.RISES},
    existing_dwelling_load,
)


@dataclass(frozen=True, slots=True)
class DemandRecord:
    """Average demands in VA over intervals of equal length (minutes), and for how many days they were recorded.

    ``on_site_source`` says whether solar, storage or shaving of peaks lowered what was measured.
    """

    demands: Sequence[Fraction]
    interval: Fraction
    days: Fraction
    on_site_source: bool


@dataclass(frozen=True, slots=True)
class MeasuredNumbers:
    """What an edition sets: the factor, the longest interval, days of a whole and of a short record, and whether a
    source on site bars the short record only or the method.
    """

    factor: Fraction
    longest_interval: Fraction
    days_of_a_year: Fraction
    days_of_a_short_record: Fraction
    source_bars_all: bool
    source: str


@dataclass(frozen=True, slots=True)
class MeasuredCase:
    """A record of demand, the load that is new (VA), and the numbers of an edition."""

    record: DemandRecord
    new_load: Fraction
    numbers: MeasuredNumbers


def measured_load(case: MeasuredCase) -> Worked:
    """Existing load from measured demand with what is new, in VA: P = 1.25 x greatest demand + new load.

    NFPA 70, 220.87 (120.87 in the 2026 edition). It rises with every demand and with the new load. Limits: a record of
    a year, or of 30 days at intervals of 15 minutes at most; a source on site bars the short record, in some editions
    the method. That the building was in use and heating or cooling at its greatest is for the person who recorded.
    """
    record, numbers, paper = case.record, case.numbers, Paper()
    _check_record(record, numbers)
    greatest = paper.write("greatest demand", f"of {len(record.demands)} readings", max(record.demands), "VA", "record")
    raised = paper.write(
        "existing load",
        f"{float(numbers.factor):g} x {greatest.letter}",
        numbers.factor * greatest.value,
        "VA",
        numbers.source,
    )
    new = paper.write("new load", "given", case.new_load, "VA")
    together(paper, "existing and new load", (raised, new))
    if record.days < numbers.days_of_a_year:
        paper.assume("The building was in use, and the greater of heating and cooling is in the record or was added.")
    return paper.result()


def _check_record(record: DemandRecord, numbers: MeasuredNumbers) -> None:
    if not record.demands:
        raise OutsideLimits("The record of demand holds no reading.")
    if min(record.demands) < NOTHING:
        raise OutsideLimits("The record of demand goes below zero, so something on site feeds back.")
    is_whole_year = record.days >= numbers.days_of_a_year
    if record.on_site_source and (numbers.source_bars_all or not is_whole_year):
        raise OutsideLimits(f"{numbers.source} does not count a record that a source on site has lowered.")
    if is_whole_year:
        return
    if record.days < numbers.days_of_a_short_record:
        raise OutsideLimits(f"{numbers.source} wants {numbers.days_of_a_short_record} days at least.")
    if record.interval > numbers.longest_interval:
        raise OutsideLimits(f"{numbers.source} wants intervals of {numbers.longest_interval} minutes at most.")


MEASURED_LOAD: Method[MeasuredCase] = Method(
    "measured_load",
    "Existing load from measured demand",
    "P = 1.25 x greatest demand + new load",
    "NFPA 70, 220.87 (120.87 in the 2026 edition)",
    "A record of a year, or of 30 days at 15 minutes.",
    {"demand": Direction.RISES, "new_load": Direction.RISES},
    measured_load,
)
