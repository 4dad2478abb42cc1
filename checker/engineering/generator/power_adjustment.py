"""Power adjustment of an engine for site conditions by the formula of ISO 3046-1."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import Direction, OutsideLimits
from checker.engineering.generator.air import barometric_pressure, steam_pressure
from checker.engineering.powers import power
from checker.engineering.worked import Method, Paper, Step, Worked

_FRICTION = Fraction(7, 10)
"""Number of the formula of ISO 3046-1: how friction, which stays, weighs on what is left."""

_KELVIN = Fraction("273.15")
"""Degrees Celsius to kelvin."""


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


@dataclass(frozen=True, slots=True)
class Surroundings:
    """What is around an engine: barometric pressure in kPa, temperature of the air in °C, relative humidity (share),
    temperature of the charge air coolant in °C.
    """

    pressure: Fraction
    temperature: Fraction
    humidity: Fraction
    coolant: Fraction

    @property
    def air(self) -> Air:
        """The same as the formula takes it."""
        return Air(
            self.pressure,
            steam_pressure(self.temperature),
            self.humidity,
            self.temperature + _KELVIN,
            self.coolant + _KELVIN,
        )


@dataclass(frozen=True, slots=True)
class AdjustedRating:
    """A rating at reference conditions, in the unit given, and a site by its altitude in ft; its own pressure follows
    from that.
    """

    rating: Fraction
    unit: str
    altitude: Fraction
    temperature: Fraction
    humidity: Fraction
    coolant: Fraction
    reference: Surroundings
    exponents: Exponents
    efficiency: Fraction


def adjusted_rating(case: AdjustedRating) -> Worked:
    """P = P_r alpha, and never more than P_r: alpha = k - 0.7 (1 - k) (1 / eta - 1).

    Rises with the rating and the mechanical efficiency, falls with altitude, temperature, humidity and the temperature
    of the coolant. Limits: ISO 3046-1, engines whose kind stands in its table; where the maker gives figures, those
    count. A factor above one says that the site is kinder than the reference; only the maker can say that the engine
    then gives more.
    """
    if case.rating < 0:
        raise OutsideLimits("A rating must not be below zero.")
    paper = Paper()
    rating = paper.write("rating", "nameplate", case.rating, case.unit)
    pressure = barometric_pressure(case.altitude)
    site = Surroundings(pressure, case.temperature, case.humidity, case.coolant).air
    adjustment = Adjustment(case.reference.air, site, case.exponents, case.efficiency)
    how = f"standard atmosphere at {float(case.altitude):,.4g} ft"
    paper.write("barometric pressure", how, pressure, "kPa", "ISO 2533")
    if case.exponents.humidity:
        paper.write("pressure of saturated steam", "at the temperature of the air", site.steam, "kPa", "Magnus formula")
    alpha = adjust(paper, adjustment)
    lesser = min(alpha.value, Fraction(1))
    more = " and 1 at the most" if lesser < alpha.value else ""
    paper.write("rating at the site", f"{rating.letter} x {alpha.letter}{more}", case.rating * lesser, case.unit)
    return paper.result()


def adjust(paper: Paper, case: Adjustment) -> Step:
    """The factor alpha by which the rated power is multiplied; it rises with k and with the efficiency."""
    if not 0 < case.efficiency <= 1:
        raise OutsideLimits("The power adjustment needs a mechanical efficiency above zero and not above one.")
    source = f"ISO 3046-1, {case.exponents.source}"
    how = "formula of pressures and temperatures"
    ratio = paper.write("ratio of indicated power k", how, indicated_ratio(case), "", source)
    return adjusted_ratio(paper, ratio.letter, ratio.value, case.efficiency)


def adjusted_ratio(paper: Paper, letter: str, ratio: Fraction, efficiency: Fraction) -> Step:
    """The last step: alpha from k and the mechanical efficiency."""
    efficient = paper.write("mechanical efficiency", "given", efficiency, "")
    how = f"{letter} - 0.7 x (1 - {letter}) x (1 / {efficient.letter} - 1)"
    factor = ratio - _FRICTION * (1 - ratio) * (1 / efficiency - 1)
    if factor <= 0:
        raise OutsideLimits("The power adjustment leaves nothing of the rated power.")
    return paper.write("factor alpha", how, factor, "", "ISO 3046-1")


ADJUSTED_RATING: Method[AdjustedRating] = Method(
    "adjusted_rating",
    "Rating at the site by the power adjustment",
    "P = P_r alpha, alpha = k - 0.7 (1 - k) (1 / eta - 1), never above P_r",
    "ISO 3046-1",
    "Engines of the kinds in the table of ISO 3046-1; figures of the maker go before it.",
    {
        "rating": Direction.RISES,
        "efficiency": Direction.RISES,
        "altitude": Direction.FALLS,
        "temperature": Direction.FALLS,
        "humidity": Direction.FALLS,
        "coolant": Direction.FALLS,
    },
    adjusted_rating,
)
