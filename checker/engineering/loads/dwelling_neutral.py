"""Load of the neutral of a dwelling's feeder or service (NFPA 70, 220.61; 120.61 in the 2026 edition)."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.loads.cooking import write_ranges
from checker.engineering.loads.demand import together
from checker.engineering.loads.dwelling import NOTHING, StandardCase, write_dryers, write_lighting
from checker.engineering.worked import Paper, Worked


@dataclass(frozen=True, slots=True)
class NeutralCase:
    """A dwelling with the numbers of the standard method, and the share at which cooking and drying load a neutral."""

    standard: StandardCase
    cooking_and_drying: Fraction
    source: str


def dwelling_neutral_load(case: NeutralCase) -> Worked:
    """The greatest unbalanced load between the neutral and one phase conductor, in VA, before the share above 200 A.

    Lighting and circuits at their demand + appliances that load the neutral + 70 % of cooking and of dryers. The method
    stays this one where the line load was found by the optional method. It rises with the area and every rating.
    Limits: appliances, heating and motors count only where they are wired to the neutral; the caller says which.
    """
    home, numbers, paper = case.standard.dwelling, case.standard.numbers, Paper()
    general = write_lighting(paper, home, numbers.lighting_by_area, numbers.circuit, numbers.sources[0])
    parts = [numbers.lighting_tiers.write(paper, "demand of lighting and these circuits", general)]
    on_neutral = sum((each.rating for each in home.appliances if each.to_neutral), NOTHING)
    parts.append(paper.write("appliances on the neutral", "nameplates", on_neutral, "VA", case.source))
    share = f"{float(case.cooking_and_drying * 100):g} %"
    for step in (write_ranges(paper, home.ranges, numbers.cooking), write_dryers(paper, home.dryers, numbers)):
        reduced = case.cooking_and_drying * step.value
        parts.append(
            paper.write(f"{step.quantity} on the neutral", f"{share} of {step.letter}", reduced, "VA", case.source)
        )
    together(paper, "load of the neutral", parts)
    return paper.result()
