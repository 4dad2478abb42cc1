"""Ampacities that conductors of a generator, of a whole dwelling and of a motor must have."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Calculation, Direction, Input, OutsideLimits
from checker.engineering.worked import Method, Paper, Worked
from checker.values.number_text import plain_text


@dataclass(frozen=True, slots=True)
class GeneratorLeads:
    """Conductors from a generator: nameplate current (A), whether the set cannot be overloaded by its design or
    controls, whether an overcurrent device lies ahead of them, and the two factors of 445.13(A).
    """

    nameplate_current: Fraction
    overload_proof: bool
    past_an_overcurrent_device: bool
    factor: Fraction
    factor_of_overload_proof: Fraction


def generator_leads(case: GeneratorLeads) -> Worked:
    """The least ampacity in A of phase conductors from a generator: I = 1.15 x nameplate current, or 1.00 x it.

    NFPA 70, 445.13(A). Rises with the nameplate current. Limits: from the terminals to the first overcurrent device;
    past it they are a feeder, which is sized by that device. The neutral goes by the load of the neutral.
    """
    if case.past_an_overcurrent_device:
        raise OutsideLimits("Past the first overcurrent device the conductors are a feeder, and 445.13(A) has ended.")
    paper = Paper()
    factor = case.factor_of_overload_proof if case.overload_proof else case.factor
    plate = paper.write("nameplate current", "given", case.nameplate_current, "A", "nameplate")
    source = "445.13(A), exception" if case.overload_proof else "445.13(A)"
    how = f"{plain_text(factor * 100)} % of {plate.letter}"
    paper.write("least ampacity", how, factor * case.nameplate_current, "A", source)
    return paper.result()


GENERATOR_LEADS: Method[GeneratorLeads] = Method(
    "generator_leads",
    "Least ampacity of the conductors from a generator",
    "I = 115 % x nameplate current; 100 % where it cannot be overloaded",
    "NFPA 70, 445.13(A)",
    "From the terminals to the first overcurrent device.",
    {"nameplate_current": Direction.RISES},
    generator_leads,
)


@dataclass(frozen=True, slots=True)
class DwellingNumbers:
    """What an edition sets for conductors of a whole dwelling: the factor, the ratings between which it holds (A), and
    the connections of supply for which it does.
    """

    factor: Fraction
    least_rating: Fraction
    greatest_rating: Fraction
    connections: frozenset[str]
    source: str


@dataclass(frozen=True, slots=True)
class DwellingConductors:
    """A service or feeder: rating (A), its connection of supply, and whether it carries the whole load of one
    dwelling.
    """

    rating: Fraction
    connection: str
    whole_load_of_one_dwelling: bool
    numbers: DwellingNumbers


def dwelling_conductors(case: DwellingConductors) -> Worked:
    """The least ampacity in A of conductors that carry the whole load of a dwelling: I = 0.83 x rating.

    NFPA 70, 310.12 (310.15(B)(7) in 2017). Rises with the rating. Limits: 100 A to 400 A, single phase, the whole load
    of one dwelling: a service of 400 A that is divided into two feeders has none of these. Corrections for
    surroundings and number stay, on the ampacity.
    """
    numbers = case.numbers
    if not case.whole_load_of_one_dwelling:
        raise OutsideLimits(f"{numbers.source} is for conductors that carry the whole load of one dwelling.")
    if case.connection not in numbers.connections:
        raise OutsideLimits(f"{numbers.source} is for single-phase service to a dwelling.")
    if not numbers.least_rating <= case.rating <= numbers.greatest_rating:
        least, greatest = plain_text(numbers.least_rating), plain_text(numbers.greatest_rating)
        raise OutsideLimits(f"{numbers.source} is for ratings from {least} A to {greatest} A.")
    paper = Paper()
    rating = paper.write("rating of the service or feeder", "given", case.rating, "A")
    how = f"{plain_text(numbers.factor * 100)} % of {rating.letter}"
    paper.write("least ampacity", how, numbers.factor * case.rating, "A", numbers.source)
    return paper.result()


DWELLING_CONDUCTORS: Method[DwellingConductors] = Method(
    "dwelling_conductors",
    "Least ampacity of conductors of a whole dwelling",
    "I = 83 % x rating",
    "NFPA 70, 310.12 (310.15(B)(7) in 2017)",
    "100 A to 400 A, single phase, the whole load of one dwelling.",
    {"rating": Direction.RISES},
    dwelling_conductors,
)

MOTOR_CONDUCTORS = Calculation(
    name="motor_conductors",
    title="Least ampacity of the conductors of one motor",
    inputs=(
        Input("full_load_current", "full-load current of the table", "load_current", Direction.RISES),
        Input("factor", "factor of the code", "ratio", Direction.RISES),
    ),
    gives="load_current",
    unit="A",
    formula="I = factor x full-load current",
    source="NFPA 70, 430.22",
    limits="One motor that runs for hours; the current of the table, not that of the nameplate.",
    function=lambda point: point["factor"] * point["full_load_current"],
)
"""I = 1.25 x the full-load current of the table, both in A; the factor is the code's. NFPA 70, 430.22."""


def transfer_switch_rating(devices: tuple[Fraction, ...], currents: tuple[Fraction, ...]) -> Worked:
    """The least rating in A of a transfer switch: the greatest overcurrent device and full-load current on any side.

    Trade practice, and the instructions of makers (110.3(B)): the switch is not smaller than the largest breaker ahead
    of it on either side. Rises with each. ``devices`` and ``currents`` in A; OutsideLimits where both are empty.
    """
    if not devices and not currents:
        raise OutsideLimits("Nothing is known that feeds the switch.")
    paper = Paper()
    steps = [paper.write("overcurrent device ahead", "given", each, "A") for each in devices]
    steps += [paper.write("full-load current of a source", "given", each, "A") for each in currents]
    how = "the greatest of " + ", ".join(step.letter for step in steps)
    paper.write("least rating of the switch", how, max(step.value for step in steps), "A", "trade practice")
    return paper.result()
