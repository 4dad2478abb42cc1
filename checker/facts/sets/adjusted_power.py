"""The power of a set where it stands by the power adjustment of ISO 3046-1, where its maker rates the engine by it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.generator.power_adjustment import (
    ADJUSTED_RATING,
    AdjustedRating,
    Exponents,
    Surroundings,
)
from checker.engineering.worked import Worked
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context
from checker.facts.numbers import number_in_force, rows_in_force, word_of_trust
from checker.facts.two_ends import TwoEnds, step_lines
from checker.site.model import SITE, Subject
from checker.values.arithmetic import where_absent
from checker.values.kinds import kind
from checker.values.possible import Possible, between, number, undefined, union_of

EXPONENTS = "power-adjustment-exponents"
REFERENCE = (
    "pressure-for-which-engines-are-rated",
    "temperature-for-which-engines-are-rated",
    "humidity-for-which-engines-are-rated",
    "coolant-for-which-engines-are-rated",
)
EFFICIENCY = "mechanical-efficiency-where-the-maker-gives-none"
NUMBERS = (EXPONENTS, *REFERENCE, EFFICIENCY)
"""The table and the parameters that are read here."""

READS = ("altitude", "hottest_day", "humidity_then", "charge_air_coolant", "mechanical_efficiency")

_WATTS, _NOTHING = 1000, Fraction(0)
_LIMITS = (
    "The maker's own figures go before it; the set is never taken to give more than its rating. The pressure is that "
    "of the standard atmosphere."
)
_OPEN = "What the adjustment takes is not all shown, so that there is no lower end."


@dataclass(frozen=True, slots=True)
class Engine:
    """Numbers in force for one kind of engine."""

    exponents: Exponents
    reference: Surroundings


@dataclass(frozen=True, slots=True)
class Conditions:
    """A rating in W, altitude in ft, temperatures in °C and shares, each as far as it is known."""

    rating: Possible
    altitude: Possible
    temperature: Possible
    humidity: Possible
    coolant: Possible
    efficiency: Possible

    def falling(self, engine: Engine) -> tuple[Possible, ...]:
        """What lowers the power as it grows. What the formula does not weigh for this engine needs not be known."""
        humidity = self.humidity if engine.exponents.humidity else number(engine.reference.humidity)
        coolant = self.coolant if engine.exponents.coolant else number(engine.reference.coolant)
        return self.altitude, self.temperature, humidity, coolant

    def all_known(self, engine: Engine) -> bool:
        """Whether nothing is open."""
        return all(each.number is not None for each in (self.rating, self.efficiency, *self.falling(engine)))


def engine_in_force(context: Context, kind_of_engine: str) -> Engine:
    """Exponents and reference conditions; OutsideLimits where no document in force has them."""
    told = {
        str(row.keys["exponent"].atom): row.value.number
        for row in rows_in_force(context.numbers, EXPONENTS)
        if row.keys["engine"].atom == kind_of_engine
    }
    humid, dense, warm, cooled = (told.get(each) for each in ("humidity", "pressure", "temperature", "coolant"))
    if humid is None or dense is None or warm is None or cooled is None:
        raise OutsideLimits(f"The table of the power adjustment has no row for {kind_of_engine.replace('_', ' ')}.")
    pressure, temperature, humidity, coolant = (number_in_force(context.numbers, name) for name in REFERENCE)
    source = f"table of exponents{word_of_trust(context.numbers, EXPONENTS)}"
    exponents = Exponents(humid, dense, warm, cooled, source)
    return Engine(exponents, Surroundings(_in_kilopascals(pressure), temperature, humidity, coolant))


def conditions_of(context: Context, subject: Subject, rating: Possible) -> Conditions:
    """What is known of site and engine. Where the maker gives no efficiency, the number of the standard counts."""
    standard = number_in_force(context.numbers, EFFICIENCY)
    efficiency = where_absent(context.read(subject, "mechanical_efficiency"), standard)
    return Conditions(
        rating,
        context.read(SITE, "altitude"),
        context.read(SITE, "hottest_day"),
        context.read(SITE, "humidity_then"),
        context.read(subject, "charge_air_coolant"),
        efficiency,
    )


def power_adjusted(found: Conditions, engine: Engine, no_rating: str) -> Possible:
    """What is possible in W: it rises with rating and efficiency, falls with altitude, warmth and humidity.

    Where something is open it lies between nothing and the rating.
    """
    parts = []
    if found.rating.absent or not found.rating.spans:
        parts.append(undefined(no_rating))
    if found.rating.spans:
        parts.append(_between_ends(found, engine))
    return union_of(parts)


def _between_ends(found: Conditions, engine: Engine) -> Possible:
    """From the least to the most; where all is known and the calculation has no answer, the limit."""
    least, most = worked_or_none(found, engine, upper=False), worked_or_none(found, engine, upper=True)
    if most is None and found.all_known(engine):
        try:
            worked(found, engine, upper=True)
        except OutsideLimits as limit:
            return undefined(str(limit))
    high = _end(found.rating, upper=True) if most is None else most.value * _WATTS
    return between(_NOTHING if least is None else least.value * _WATTS, high)


def worked(found: Conditions, engine: Engine, *, upper: bool) -> Worked | None:
    """The calculation in kW at its most or at its least; None where something has no such end."""
    falling = found.falling(engine)
    rating, efficiency = (_end(each, upper=upper) for each in (found.rating, found.efficiency))
    ends = [_end(each, upper=not upper) for each in falling]
    known = [each for each in ends if each is not None]
    if rating is None or efficiency is None or len(known) < len(ends):
        return None
    altitude, temperature, wet, cooled = known
    case = AdjustedRating(
        rating=rating / _WATTS,
        unit="kW",
        altitude=altitude,
        temperature=temperature,
        humidity=wet,
        coolant=cooled,
        reference=engine.reference,
        exponents=engine.exponents,
        efficiency=efficiency,
    )
    return ADJUSTED_RATING(case)


def worked_or_none(found: Conditions, engine: Engine, *, upper: bool) -> Worked | None:
    """The same; None also where the calculation has no answer there."""
    try:
        return worked(found, engine, upper=upper)
    except OutsideLimits:
        return None


def adjusted_sheet(
    context: Context, subject: Subject, name: str, rating: str, found: Conditions, engine: Engine
) -> Worksheet:
    """What was given with its place, then the steps at the least and at the most."""
    least, most = (worked_or_none(found, engine, upper=upper) for upper in (False, True))
    lines = [*_given(context, subject, rating, engine)]
    if least is not None:
        lines += step_lines(TwoEnds(least, most))
    elif most is not None:
        lines += step_lines(TwoEnds(most, most))
    title = ADJUSTED_RATING.title
    return Worksheet(f"{subject.id}.{name}", title, subject.id, tuple(lines), _LIMITS, () if least else (_OPEN,))


def _given(context: Context, subject: Subject, rating: str, engine: Engine) -> Iterator[Line]:
    weighed: Mapping[str, bool] = {
        "humidity_then": bool(engine.exponents.humidity),
        "charge_air_coolant": bool(engine.exponents.coolant),
    }
    facts = (
        *((subject, rating), (subject, "site_power_by"), (SITE, "altitude"), (SITE, "hottest_day")),
        *((SITE, "humidity_then"), (subject, "charge_air_coolant"), (subject, "mechanical_efficiency")),
    )
    shown = [(owner, fact) for owner, fact in facts if weighed.get(fact, True)]
    for place, (owner, each) in enumerate(shown, start=1):
        fact, known = context.catalog.facts[each], context.known(owner, each)
        yield Line(str(place), fact.title, "", value_text(fact, known.value, known.unit), "", source_text(known))


def _in_kilopascals(pressure: Fraction) -> Fraction:
    return pressure / kind("pressure").units["kPa"].factor


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low
