"""Connected load of a part of a building: every rating in full, without any demand factor."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction
from checker.engineering.loads.demand import together
from checker.engineering.loads.dwelling import NOTHING, Dwelling
from checker.engineering.worked import Method, Paper, Step, Worked


@dataclass(frozen=True, slots=True)
class ConnectedCase:
    """What is connected, the lighting of a square foot and the load of a circuit (VA), and the share of the motor."""

    dwelling: Dwelling
    lighting_by_area: Fraction
    circuit: Fraction
    motor_share: Fraction
    motor_source: str


def connected_load(case: ConnectedCase) -> Worked:
    """The sum of all ratings in VA, the greater of heating and cooling, and a share of the largest motor on top.

    No demand factor is taken, so that it is the most that a calculation by the code can give for the same loads; it
    rises with every rating. Limits: ratings as on the nameplates; loads that run on and on are not raised (they are
    for conductors, 215.2). Common practice for a panel of chosen circuits.
    """
    home, paper = case.dwelling, Paper()
    parts = [each for each in _parts(paper, case) if each.value]
    share = case.motor_share * home.largest_motor
    how = f"{float(case.motor_share * 100):g} % of {home.largest_motor} VA"
    parts.append(paper.write("largest motor", how, share, "VA", case.motor_source))
    together(paper, "connected load", parts)
    return paper.result()


def _parts(paper: Paper, case: ConnectedCase) -> tuple[Step, ...]:
    home = case.dwelling
    circuits = home.small_appliance_circuits + home.laundry_circuits
    given = (
        ("general lighting", f"{home.area} ft2 x {case.lighting_by_area} VA/ft2", home.area * case.lighting_by_area),
        ("small-appliance and laundry circuits", f"{circuits} x {case.circuit} VA", circuits * case.circuit),
        ("circuits for lighting and receptacles", "as listed", home.outlets),
        ("lights and receptacles of other buildings", "as listed", home.other_buildings),
        ("appliances", "nameplates", sum((each.rating for each in home.appliances), NOTHING)),
        ("cooking", "nameplates", sum(home.ranges, NOTHING)),
        ("dryers", "nameplates", sum(home.dryers, NOTHING)),
        ("vehicle supply equipment", "nameplates", sum(home.vehicles, NOTHING)),
        ("heating or cooling", "the greater of the two, which do not run together", home.heating.largest_at_once),
    )
    return tuple(paper.write(quantity, how, value, "VA") for quantity, how, value in given if value)


CONNECTED_LOAD: Method[ConnectedCase] = Method(
    "connected_load",
    "Connected load, every rating in full",
    "sum of all ratings + share of the largest motor",
    "no section; the most that a calculation by article 220 can give",
    "Ratings as on the nameplates; no demand factor is taken.",
    {"area": Direction.RISES, "rating": Direction.RISES, "largest_motor": Direction.RISES},
    connected_load,
)
