"""The load of a two-family dwelling, at both ends of what is known: by the standard calculation of both units together,
or by the lesser of that and the optional one of several units (NFPA 70, 220.85; 120.85 in the 2026 edition).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.facts.loads.methods import CONNECTED, EXISTING, OPTIONAL, STANDARD, Ends, Terms, connected, load_by
from checker.facts.loads.premises import (
    AREA,
    LARGEST_MOTOR,
    OF_THE_WHOLE,
    Counts,
    Load,
    Premises,
    premises,
)
from checker.facts.loads.several_dwellings import (
    EACH,
    HOUSE,
    METHOD,
    SERVES,
    UNITS,
    SeveralDwellings,
    check_conditions,
    several_load,
)
from checker.facts.numbers import number_in_force
from checker.site.model import SITE, Subject
from checker.values.arithmetic import product_of
from checker.values.possible import exactly, number
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

TWO = 2
LIKE_UNITS = "like-dwelling-units-to-which-two-are-held"
NUMBERS = (LIKE_UNITS,)

_TITLE = "Calculated load of two dwelling units, standard method"
_LESSER = "Load of two dwelling units: the lesser of the standard method and of the optional one for like units"
_LIMITS = "A load of each unit counts twice; of what is open whom it serves, once at the least and twice at the most."
_OF_ONE_UNIT = frozenset({OPTIONAL, EXISTING})
_ASKS = frozenset({LARGEST_MOTOR})


def load_of_two(context: Context, counts: Counts, terms: Terms) -> tuple[Premises, Ends]:
    """What counts and its load. Raises OutsideLimits where the calculation that is named is none for two units."""
    method = context.read(SITE, "load_method").atom
    if relate("is", context.read(SITE, UNITS), number(TWO)) is Truth.NO:
        raise OutsideLimits("A two-family dwelling has two dwelling units, and another number is shown.")
    if method in _OF_ONE_UNIT:
        raise OutsideLimits(
            "The calculation that is named is for one dwelling unit; write load_method: standard, or multifamily for "
            "the lesser of the two that the code has for two units."
        )
    found = premises(context, counts, asks=_ASKS, is_part=terms.is_part)
    both = _of_both_units(context, found)
    if method == CONNECTED:
        return found, connected(both, context.numbers, terms)
    standard = replace(load_by(exactly(STANDARD), both, context.numbers, terms), title=_TITLE, limits=_LIMITS)
    if method != METHOD:
        return found, standard
    return found, _lesser(standard, _like_units(context, counts, found, terms))


def _of_both_units(context: Context, found: Premises) -> Premises:
    """The building with every load as often as it is there."""
    return replace(found, loads=tuple(_as_often_as_it_is_there(context, found.loads)), units=TWO)


def _as_often_as_it_is_there(context: Context, loads: tuple[Load, ...]) -> Iterator[Load]:
    for load in loads:
        yield load
        again = _serves(context, load.subject, EACH)
        if again is not Truth.NO:
            yield replace(load, counts=all_of((load.counts, again)))


def _serves(context: Context, load: Subject, whom: str) -> Truth:
    return relate("is", context.read(load, SERVES), exactly(whom))


# --- the lesser of two -----------------------------------------------------------------------------------------------


def _like_units(context: Context, counts: Counts, found: Premises, terms: Terms) -> Ends:
    """The optional calculation as if there were so many like units. Raises OutsideLimits where it does not hold, or
    where the two are not shown to be alike.
    """
    if terms.is_part:
        raise OutsideLimits("The calculation that is named is for both dwelling units, and only a part of them is fed.")
    check_conditions(context)
    if any(_serves(context, load.subject, EACH) is _serves(context, load.subject, HOUSE) for load in found.loads):
        raise OutsideLimits(
            "Two units are held to several like ones, and these are not shown to be alike; write serves: "
            "each_dwelling_unit at what both have, serves: house at what is for both, or load_method: standard."
        )
    return several_load(_as_like_units(context, counts), context.numbers, terms)


def _as_like_units(context: Context, counts: Counts) -> SeveralDwellings:
    units = number_in_force(context.numbers, LIKE_UNITS)

    def serving(whom: str, figures: tuple[str, ...] = ()) -> Premises:
        def serves(load: Subject) -> Truth:
            return all_of((counts(load), _serves(context, load, whom)))

        return premises(context, serves, asks=_ASKS if whom == HOUSE else frozenset(), figures_read=figures)

    each = serving(EACH, OF_THE_WHOLE)
    area = each.figures[AREA]
    larger = replace(area, value=product_of(area.value, number(units / TWO)))
    return SeveralDwellings(
        Known(number(units), area.origin, frozenset()),
        replace(each, figures={**each.figures, AREA: larger}),
        Premises({}, (), each.complete),
        serving(HOUSE),
    )


def _lesser(one: Ends, other: Ends) -> Ends:
    """The lesser load at each end; where one has no end, the other still bounds it."""
    least = min((one.least, other.least), key=lambda each: each.value)
    ended = [each.most for each in (one, other) if each.most is not None]
    most = min(ended, key=lambda each: each.value, default=None)
    return Ends(_LESSER, f"{one.limits} {other.limits}", least, most)
