"""What a set gives where it stands: its rating on the fuel used, less what altitude and heat take."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import ceil

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.worked import Method, Paper, Step, Worked


@dataclass(frozen=True, slots=True)
class StepRule:
    """``share`` of the rating is lost for each ``step`` of altitude (ft) or temperature (°C) above ``above``.

    ``begun_steps_count`` says whether a begun step counts whole, as where a maker prints "for every 500 ft", or by its
    part, as a straight line does. None where the source does not say; it then counts whole.
    """

    share: Fraction
    step: Fraction
    above: Fraction
    source: str
    begun_steps_count: bool | None = None

    def factor(self, value: Fraction) -> Fraction:
        """What is left of the rating, as a factor; it never rises with the value. OutsideLimits where nothing is."""
        steps = max(Fraction(0), value - self.above) / self.step
        if self.begun_steps_count is not False:
            steps = Fraction(ceil(steps))
        left = 1 - self.share * steps
        if left <= 0:
            raise OutsideLimits(f"{self.source} leaves nothing of the rating there.")
        return left


@dataclass(frozen=True, slots=True)
class FactorLine:
    """Up to this altitude (ft) or temperature (°C) this factor counts."""

    up_to: Fraction
    factor: Fraction


@dataclass(frozen=True, slots=True)
class FactorList:
    """Printed factors, their lines in rising order; between two lines the further one counts."""

    lines: tuple[FactorLine, ...]
    source: str

    def factor(self, value: Fraction) -> Fraction:
        """The factor at or above the value; OutsideLimits past the last line."""
        for line in self.lines:
            if value <= line.up_to:
                return line.factor
        raise OutsideLimits(f"{self.source} ends at {float(self.lines[-1].up_to):g}.")


Rule = StepRule | FactorList


class Combined(Enum):
    """How what altitude takes and what heat takes go together."""

    MULTIPLIED = "multiplied"
    ADDED = "added"


@dataclass(frozen=True, slots=True)
class SiteRating:
    """A rating (in the unit given), the altitude (ft) and the warmest air (°C), and the maker's rules for them.

    A rule that is None takes nothing, and the result says so. ``combined`` is None where the maker does not say how
    the two go together; they are then multiplied.
    """

    rating: Fraction
    unit: str
    altitude: Fraction
    temperature: Fraction
    by_altitude: Rule | None
    by_temperature: Rule | None
    combined: Combined | None = None


def site_rating(case: SiteRating) -> Worked:
    """The rating at the site: rating x factor of altitude x factor of temperature (or 1 - both losses).

    Rises with the rating, never rises with altitude or temperature. Limits: the maker's rules go before any formula or
    list of a handbook; neither factor is ever above one here.
    """
    if case.rating < 0:
        raise OutsideLimits("A rating must not be below zero.")
    paper = Paper()
    rating = paper.write("rating", "nameplate", case.rating, case.unit)
    height = _factor(paper, "altitude", case.altitude, "ft", case.by_altitude)
    heat = _factor(paper, "temperature", case.temperature, "°C", case.by_temperature)
    if case.combined is None and height.value < 1 and heat.value < 1:
        paper.assume("The maker does not say how both losses go together; the factors are multiplied.")
    if case.combined is Combined.ADDED:
        left, how = height.value + heat.value - 1, f"{height.letter} + {heat.letter} - 1"
    else:
        left, how = height.value * heat.value, f"{height.letter} x {heat.letter}"
    if left <= 0:
        raise OutsideLimits("Altitude and temperature together leave nothing of the rating.")
    both = paper.write("factor of the site", how, left, "")
    paper.write("rating at the site", f"{rating.letter} x {both.letter}", rating.value * left, case.unit)
    return paper.result()


def _factor(paper: Paper, quantity: str, value: Fraction, unit: str, rule: Rule | None) -> Step:
    if rule is None:
        paper.assume(f"Nothing is taken off for {quantity}: no rule for it is given.")
        return paper.write(f"factor of {quantity}", "no rule given", Fraction(1), "")
    how = f"at {float(value):g} {unit}"
    if isinstance(rule, StepRule) and rule.begun_steps_count is None:
        paper.assume(f"A begun step of {quantity} counts as a whole one.")
    return paper.write(f"factor of {quantity}", how, rule.factor(value), "", rule.source)


SITE_RATING: Method[SiteRating] = Method(
    "site_rating",
    "Rating at the site",
    "rating x factor of altitude x factor of temperature",
    "the maker's instructions",
    "Rules of the maker; what else lowers the rating (load that deforms the wave, poor fuel) is not in it.",
    {"rating": Direction.RISES, "altitude": Direction.FALLS, "temperature": Direction.FALLS},
    site_rating,
)
