"""Power adjustment of an engine for site conditions by the formula of ISO 3046-1."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.powers import power
from checker.engineering.worked import Method, Paper, Worked

_FRICTION = Fraction(7, 10)
"""Number of the formula of ISO 3046-1: how friction, which stays, weighs on what is left."""


@dataclass(frozen=True, slots=True)
class Exponents:
    """Row of the engine in the table of ISO 3046-1: a, m, n, s, and what kind of engine it is for."""

    humidity: Fraction
    pressure: Fraction
    temperature: Fraction
    coolant: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class Air:
    """Conditions: barometric pressure and pressure of saturated steam in kPa, relative humidity (share), temperatures
    of air and of charge air coolant in K.
    """

    pressure: Fraction
    steam: Fraction
    humidity: Fraction
    temperature: Fraction
    coolant: Fraction

    def dry(self, weight: Fraction) -> Fraction:
        """Pressure less the part of steam that weighs."""
        return self.pressure - weight * self.humidity * self.steam


@dataclass(frozen=True, slots=True)
class Adjustment:
    """Reference conditions, those of the site, the engine's exponents and its mechanical efficiency (share)."""

    reference: Air
    site: Air
    exponents: Exponents
    efficiency: Fraction


def indicated_ratio(case: Adjustment) -> Fraction:
    """k = (p_x / p_r)^m (T_r / T_x)^n (T_cr / T_cx)^s with pressures less their steam. Rises with the pressure of the
    site, falls with its temperatures and its steam.
    """
    here, there, exponents = case.site, case.reference, case.exponents
    dry = here.dry(exponents.humidity), there.dry(exponents.humidity)
    if min(*dry, here.temperature, there.temperature, here.coolant, there.coolant) <= 0:
        raise OutsideLimits("The power adjustment needs pressures and absolute temperatures above zero.")
    return (
        power(dry[0] / dry[1], exponents.pressure)
        * power(there.temperature / here.temperature, exponents.temperature)
        * power(there.coolant / here.coolant, exponents.coolant)
    )


def power_adjustment(case: Adjustment) -> Worked:
    """The factor alpha = k - 0.7 (1 - k) (1 / eta - 1) by which the rated power is multiplied.

    It rises with k, so it rises with the pressure of the site and falls with its temperatures. Limits: ISO 3046-1,
    engines whose kind stands in its table; where the maker gives figures, those count. A factor above one says that the
    site is kinder than the reference; the maker says whether the engine may then give more.
    """
    if not 0 < case.efficiency <= 1:
        raise OutsideLimits("The power adjustment needs a mechanical efficiency above zero and not above one.")
    paper = Paper()
    source = f"ISO 3046-1, {case.exponents.source}"
    ratio = paper.write(
        "ratio of indicated power k", "formula of pressures and temperatures", indicated_ratio(case), "", source
    )
    adjusted_ratio(paper, ratio.letter, ratio.value, case.efficiency)
    return paper.result()


def adjusted_ratio(paper: Paper, letter: str, ratio: Fraction, efficiency: Fraction) -> None:
    """The last step: alpha from k and the mechanical efficiency."""
    efficient = paper.write("mechanical efficiency", "given", efficiency, "")
    how = f"{letter} - 0.7 x (1 - {letter}) x (1 / {efficient.letter} - 1)"
    factor = ratio - _FRICTION * (1 - ratio) * (1 / efficiency - 1)
    if factor <= 0:
        raise OutsideLimits("The power adjustment leaves nothing of the rated power.")
    paper.write("factor alpha", how, factor, "", "ISO 3046-1")


POWER_ADJUSTMENT: Method[Adjustment] = Method(
    "power_adjustment",
    "Power adjustment for the site",
    "alpha = k - 0.7 (1 - k) (1 / eta - 1)",
    "ISO 3046-1",
    "Engines of the kinds in the table of ISO 3046-1.",
    {"site.pressure": Direction.RISES, "site.temperature": Direction.FALLS, "site.coolant": Direction.FALLS},
    power_adjustment,
)
