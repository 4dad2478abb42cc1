"""The power of a set where it stands: its rating on the fuel used, less what altitude and the hottest day take."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.generator.derating import SITE_RATING, Combined, SiteRating, StepRule
from checker.engineering.worked import Step, Worked
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived
from checker.facts.sets.adjusted_power import READS as ADJUSTED_READS
from checker.facts.sets.adjusted_power import (
    adjusted_sheet,
    conditions_of,
    engine_in_force,
    power_adjusted,
)
from checker.site.model import SITE, Subject
from checker.values.possible import Possible, between, undefined, union_of

READS = (
    *("rated_power", "fuel", "altitude", "hottest_day", "site_power_by"),
    *("altitude_derating", "heat_derating", "deratings_together", *ADJUSTED_READS),
)
BY_FIGURES = "figures_of_the_maker"
"""The way that counts where nothing is said."""

_NOTHING, _WHOLE, _WATTS = Fraction(0), Fraction(1), 1000
_FAHRENHEIT_EACH, _FAHRENHEIT_ABOVE, _PERCENT = Fraction(9, 5), 32, 100
_PARTS = ("share", "each", "above", "begun_step")
_SHEET = "generator data sheet"
_LIMITS = "By the maker's own figures; the set is never taken to give more than its rating on the fuel used."


@dataclass(frozen=True, slots=True)
class Loss:
    """What altitude or heat takes, as far as the data sheet and the site say it; ``at`` is the altitude or the
    temperature. ``none`` is whether the sheet may say, or does say, that nothing is lost.
    """

    share: Possible
    each: Possible
    above: Possible
    begun_step: Possible
    at: Possible
    may_be_none: bool
    is_none: bool


@dataclass(frozen=True, slots=True)
class Place:
    """A rating and both losses, and how they go together."""

    rating: Possible
    altitude: Loss
    heat: Loss
    together: Possible


def power_at_site(context: Context, subject: Subject, name: str) -> Derived:
    """The rating on the fuel used less both losses, between the least and the most that what is known lets come out.

    By the figures of the maker's sheet, or, where that says so, by the power adjustment for its kind of engine.
    It rises with the rating and the altitude or heat up to which nothing is lost, falls with altitude, heat and the
    share of a step. Where a loss is not known, it lies between nothing and the rating: an engine never gives more than
    its rating on the fuel.
    """
    ways = sorted(str(atom) for atom in context.read(subject, "site_power_by").atoms)
    found = [
        _by_figures(context, subject, name) if way == BY_FIGURES else _by_adjustment(context, subject, name, way)
        for way in ways
    ]
    value = union_of([each.value for each in found])
    sheet = found[0].worksheet if len(found) == 1 else None
    return Derived(value, worksheet=sheet, reasons=value.undefined)


def _by_figures(context: Context, subject: Subject, name: str) -> Derived:
    """By the figures of the maker's sheet for altitude and heat."""
    losses = {each: _loss(context, subject, each, at) for each, at in _LOSSES}
    together = context.read(subject, "deratings_together")
    ratings = _ratings(context, subject)
    places = {
        fuel: Place(rating, losses["altitude_derating"], losses["heat_derating"], together)
        for fuel, rating in ratings.items()
    }
    value = union_of([power_between(place, _no_rating(context, subject, fuel)) for fuel, place in places.items()])
    sheet = None
    if len(places) == 1 and value.has_value:
        (fuel,) = places
        sheet = _worksheet(context, subject, name, fuel, places[fuel])
    return Derived(value, worksheet=sheet)


def _by_adjustment(context: Context, subject: Subject, name: str, way: str) -> Derived:
    """By the power adjustment of ISO 3046-1 for the kind of engine that the maker's sheet names."""
    try:
        engine = engine_in_force(context, way)
        places = {fuel: conditions_of(context, subject, rating) for fuel, rating in _ratings(context, subject).items()}
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)))
    value = union_of(
        [power_adjusted(place, engine, _no_rating(context, subject, fuel)) for fuel, place in places.items()]
    )
    sheet = None
    if len(places) == 1 and value.has_value:
        (fuel,) = places
        sheet = adjusted_sheet(context, subject, name, f"rated_power.{fuel}", places[fuel], engine)
    return Derived(value, worksheet=sheet)


def _ratings(context: Context, subject: Subject) -> dict[str, Possible]:
    """The rating on each fuel that is possible."""
    fuels = sorted(str(atom) for atom in context.read(subject, "fuel").atoms)
    return {fuel: context.read(subject, f"rated_power.{fuel}") for fuel in fuels}


def _no_rating(context: Context, subject: Subject, fuel: str) -> str:
    """Why there is no power on a fuel; that nothing is shown is not that the nameplate gives nothing."""
    on = context.catalog.facts["fuel"].choices[fuel]
    if context.read(subject, f"rated_power.{fuel}").only_absent:
        return f"The nameplate gives no rating on {on}."
    if context.read(subject, "fuel").atom is None:
        return "Neither the fuel used nor the rating on it is shown."
    return f"The rating on {on}, the fuel used, is not shown."


_LOSSES = (("altitude_derating", "altitude"), ("heat_derating", "hottest_day"))


def _loss(context: Context, subject: Subject, name: str, at: str) -> Loss:
    whole = context.read(subject, name)
    share, each, above, begun = (context.read(subject, f"{name}.{part}") for part in _PARTS)
    return Loss(share, each, above, begun, context.read(SITE, at), whole.absent, whole.only_absent)


def power_between(place: Place, no_rating: str) -> Possible:
    """What is possible on one fuel."""
    found = []
    if place.rating.absent or not place.rating.spans:
        found.append(undefined(no_rating))
    if place.rating.spans:
        try:
            most = worked(place, upper=True)
        except OutsideLimits as limit:
            return union_of([*found, undefined(str(limit))])
        found.append(between(_least(place), None if most is None else most.value * _WATTS))
    return union_of(found)


def _least(place: Place) -> Fraction:
    """The least power; nothing where a loss has no known end, or may take all."""
    try:
        least = worked(place, upper=False)
    except OutsideLimits:
        return _NOTHING
    return _NOTHING if least is None else least.value * _WATTS


def worked(place: Place, *, upper: bool) -> Worked | None:
    """The calculation in kW at its most or at its least; None where it has no such end."""
    hull = place.rating.hull
    rating = None if hull is None else hull.high if upper else hull.low
    altitude, heat = (loss_at(loss, upper=upper) for loss in (place.altitude, place.heat))
    if rating is None or altitude is None or heat is None:
        return None
    case = SiteRating(
        rating=rating / _WATTS,
        unit="kW",
        altitude=altitude.at,
        temperature=heat.at,
        by_altitude=altitude.rule,
        by_temperature=heat.rule,
        combined=_combined(place.together, upper=upper),
    )
    return SITE_RATING(case)


@dataclass(frozen=True, slots=True)
class LossAt:
    """A maker's rule with the altitude (ft) or temperature (°C) at which it is read."""

    rule: StepRule
    at: Fraction


_NO_LOSS = LossAt(StepRule(_NOTHING, _WHOLE, _NOTHING, _SHEET, begun_steps_count=False), _NOTHING)


def loss_at(loss: Loss, *, upper: bool) -> LossAt | None:
    """The loss where the power is at its most, or at its least; None where it then has no end.

    Where something is open, the most is what is left when nothing is lost.
    """
    if loss.is_none or (upper and loss.may_be_none):
        return _NO_LOSS
    share = _end(loss.share, upper=not upper)
    each = _end(loss.each, upper=upper)
    above = _end(loss.above, upper=upper)
    at = _end(loss.at, upper=not upper)
    if upper and each is not None and each <= 0:
        raise OutsideLimits("A step of altitude or temperature that takes power is above zero.")
    if share is None or each is None or above is None or at is None or each <= 0:
        return _NO_LOSS if upper else None
    begun = "by_part" not in loss.begun_step.atoms if upper else "whole" in loss.begun_step.atoms
    return LossAt(StepRule(share, each, above, _SHEET, begun_steps_count=begun), at)


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low


def _combined(together: Possible, *, upper: bool) -> Combined:
    """Two factors leave at least as much multiplied as their losses do added."""
    first, other = (Combined.MULTIPLIED, Combined.ADDED) if upper else (Combined.ADDED, Combined.MULTIPLIED)
    return first if first.value in together.atoms else other


# --- worksheet -------------------------------------------------------------------------------------------------------


def _worksheet(context: Context, subject: Subject, name: str, fuel: str, place: Place) -> Worksheet:
    """What was given with its place, then the steps at the least, and those at the most where they differ."""
    lines = [*_given(context, subject, fuel)]
    most, least = worked(place, upper=True), _worked_or_none(place)
    if least is not None:
        same = most is not None and most.value == least.value
        lines += _steps(place, least, "" if same else "least: ", "", upper=False)
        if same:
            most = None
    if most is not None:
        lines += _steps(place, most, "most: ", "" if least is None else "m", upper=True)
    assumptions = () if least is not None else (_OPEN,)
    return Worksheet(f"{subject.id}.{name}", SITE_RATING.title, subject.id, tuple(lines), _LIMITS, assumptions)


_OPEN = "What altitude and heat take is not all shown, so that there is no lower end."


def _worked_or_none(place: Place) -> Worked | None:
    try:
        return worked(place, upper=False)
    except OutsideLimits:
        return None


def _given(context: Context, subject: Subject, fuel: str) -> Iterator[Line]:
    plain = [(subject, f"rated_power.{fuel}"), (SITE, "altitude"), (SITE, "hottest_day")]
    rows = [_plain_row(context, owner, name) for owner, name in plain]
    rows += [_loss_row(context, subject, name) for name, _ in _LOSSES]
    if all(not context.read(subject, name).only_absent for name, _ in _LOSSES):
        rows.append(_plain_row(context, subject, "deratings_together"))
    for place, (title, value, source) in enumerate(rows, start=1):
        yield Line(str(place), title, "", value, "", source)


_Row = tuple[str, str, str]
"""What it is, its value, and where it stands."""


def _plain_row(context: Context, owner: Subject, name: str) -> _Row:
    return context.catalog.facts[name].title, *_shown(context, owner, name)


def _loss_row(context: Context, subject: Subject, name: str) -> _Row:
    """A whole loss in one line, as it stands on a data sheet."""
    title = context.catalog.facts[name].title
    if context.read(subject, name).only_absent:
        return title, "nothing", _shown(context, subject, name)[1]
    if all(context.known(subject, f"{name}.{part}").at is None for part in _PARTS):
        return title, "not shown", ""
    (share, source), (each, _), (above, _), (begun, _) = (_shown(context, subject, f"{name}.{part}") for part in _PARTS)
    return title, f"{share} for each {each} above {above}; a begun step counts {begun}", source


def _shown(context: Context, owner: Subject, name: str) -> tuple[str, str]:
    known = context.known(owner, name)
    return value_text(context.catalog.facts[name], known.value, known.unit), source_text(known)


def _steps(place: Place, result: Worked, before: str, mark: str, *, upper: bool) -> Iterator[Line]:
    how = {
        "factor of altitude": _altitude_text(loss_at(place.altitude, upper=upper)),
        "factor of temperature": _heat_text(loss_at(place.heat, upper=upper)),
    }
    for step in result.steps:
        yield _line(step, before, mark, how.get(step.quantity, step.how))


def _line(step: Step, before: str, mark: str, how: str) -> Line:
    amount = f"{float(step.value):,.4f}".rstrip("0").rstrip(".")
    return Line(f"{step.letter}{mark}", f"{before}{step.quantity}", how, amount, step.unit, step.source)


def _altitude_text(found: LossAt | None) -> str:
    if found is None or not found.rule.share:
        return "nothing lost"
    return _formula(found.rule, found.at, found.rule.above, found.rule.step, "ft")


def _heat_text(found: LossAt | None) -> str:
    """In degrees Fahrenheit, as the sheets of the trade give it."""
    if found is None or not found.rule.share:
        return "nothing lost"
    at, above = (_FAHRENHEIT_EACH * each + _FAHRENHEIT_ABOVE for each in (found.at, found.rule.above))
    return _formula(found.rule, at, above, _FAHRENHEIT_EACH * found.rule.step, "°F")


def _formula(rule: StepRule, at: Fraction, above: Fraction, step: Fraction, unit: str) -> str:
    if at <= above:
        return f"{_plain(at)} {unit} is not above {_plain(above)} {unit}"
    begun = ", a begun step whole" if rule.begun_steps_count is not False else ""
    share = f"{_plain(rule.share * _PERCENT)} %"
    return f"1 - {share} x ({_plain(at)} - {_plain(above)}) {unit} / {_plain(step)} {unit}{begun}"


def _plain(value: Fraction) -> str:
    return f"{float(value):,.4f}".rstrip("0").rstrip(".")
