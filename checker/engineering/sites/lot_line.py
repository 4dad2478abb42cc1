"""Sound of several sources at a place, such as a lot line, against the limit there."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction
from checker.engineering.sites.sound import SOUND_AT_DISTANCE, sum_of_levels
from checker.engineering.worked import Method, Paper, Worked


@dataclass(frozen=True, slots=True)
class SoundSource:
    """A source with its level (dBA) at a distance (ft), how far it is from the place asked for (ft), and what walls add
    or a barrier takes (dB).
    """

    name: str
    level: Fraction
    measured_at: Fraction
    distance: Fraction
    correction: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class LotLine:
    """The sources that are heard at a place, the limit there (dBA) and by whom, and what a pure tone costs (dB)."""

    sources: tuple[SoundSource, ...]
    limit: Fraction
    limit_by: str
    tone_penalty: Fraction = Fraction(0)


def sound_margin(case: LotLine) -> Worked:
    """What is left of the limit, in dB: limit - penalty - level of all sources together at that place.

    Below zero where it is too loud. Falls with each level, rises with each distance. Limits as for one source; a
    measurement on the place goes before it.
    """
    paper = Paper()
    levels = []
    for each in case.sources:
        point = {
            "level": each.level,
            "measured_at": each.measured_at,
            "distance": each.distance,
            "correction": each.correction,
        }
        how = f"{float(each.level):g} dBA at {float(each.measured_at):g} ft, {float(each.distance):g} ft away"
        levels.append(paper.write(each.name, how, SOUND_AT_DISTANCE.function(point), "dBA"))
    all_of_them = paper.write(
        "sound there",
        "energy sum of " + ", ".join(each.letter for each in levels),
        sum_of_levels([each.value for each in levels]),
        "dBA",
    )
    limit = paper.write("limit", "given", case.limit - case.tone_penalty, "dBA", case.limit_by)
    paper.write("left of the limit", f"{limit.letter} - {all_of_them.letter}", limit.value - all_of_them.value, "dB")
    return paper.result()


SOUND_MARGIN: Method[LotLine] = Method(
    "sound_margin",
    "Sound left below the limit",
    "limit - 10 log10 of the sum of 10^(L/10) at the place",
    "spherical spreading and sum of energies, physics of sound",
    SOUND_AT_DISTANCE.limits,
    {
        "level": Direction.FALLS,
        "measured_at": Direction.FALLS,
        "distance": Direction.RISES,
        "correction": Direction.FALLS,
        "limit": Direction.RISES,
        "tone_penalty": Direction.FALLS,
    },
    sound_margin,
)
