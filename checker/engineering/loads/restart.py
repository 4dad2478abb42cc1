"""Load of a dwelling after a long outage, when everything with a thermostat asks at once."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction
from checker.engineering.loads.demand import together
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class RestartCase:
    """The calculated load of everything without a thermostat, step by step; the greater of heating and cooling and all
    heating of water, by their ratings; the calculated load of everything together. All in VA.
    """

    rest: Worked
    heating_or_cooling: Fraction
    water_heating: Fraction
    everything: Fraction


def restart_load(case: RestartCase) -> Worked:
    """The load in VA as the power comes back: calculated load of the rest + ratings of heating or cooling and of water
    heating, without a demand factor; never less than the calculated load of everything.

    A demand factor stands for loads that run at different times. After hours without power the house and its water are
    cold, or the house is hot, and every thermostat calls. It rises with each of its parts. Limits: heating and cooling
    do not call together; what takes more while it starts is not in it. Common practice, no section.
    """
    paper = Paper(list(case.rest.steps))
    rest = paper.steps[-1]
    climate = paper.write(
        "heating or cooling, in full", "the greater of the two by ratings", case.heating_or_cooling, "VA"
    )
    water = paper.write("water heating, in full", "ratings", case.water_heating, "VA")
    at_once = together(paper, "rest with what has a thermostat", (rest, climate, water))
    whole = paper.write("calculated load of everything", "same calculation, with its demand", case.everything, "VA")
    greater = max(at_once.value, whole.value)
    paper.write("load after a long outage", f"the greater of {at_once.letter} and {whole.letter}", greater, "VA")
    return paper.result()


RESTART_LOAD: Method[RestartCase] = Method(
    "restart_load",
    "Load after a long outage, everything with a thermostat at once",
    "calculated load of the rest + heating or cooling + water heating, by their ratings",
    "common practice, no section",
    "One dwelling; starting currents are not in it.",
    {"heating_or_cooling": Direction.RISES, "water_heating": Direction.RISES, "everything": Direction.RISES},
    restart_load,
)
