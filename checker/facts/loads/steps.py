"""The steps in which load management puts loads on a set, as lines of a worksheet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.load_management.steps import Managed, ManagedLoad, Management, manage
from checker.engineering.worksheet import Line
from checker.facts.derivation import Context
from checker.facts.loads.current import amperes
from checker.facts.loads.managers import order_of
from checker.facts.loads.premises import Load
from checker.facts.two_ends import amount
from checker.site.model import Subject
from checker.values.possible import Possible

_ONE_TOO_MANY = 99
"""Place in the order of a load of which none is said: after those of which one is."""


def step_lines(
    context: Context, subject: Subject, always_on: Possible, put_on: Sequence[Load], set_point: Fraction | None
) -> tuple[Line, ...]:
    """What runs after each load that is put on, in amperes, and which loads never find room.

    None where the capacity, the current of what is always on or a rating is not one number. Without a set point the
    loads are put on up to the capacity. A load takes its whole rating; nothing is said of what it takes while it
    starts.
    """
    capacity, base = context.read(subject, "capacity").number, always_on.number
    powers = [each.power.value.number for each in put_on]
    ratings = [None if power is None else amperes(context, subject, power) for power in powers]
    if capacity is None or base is None or not ratings:
        return ()
    known = [rating for rating in ratings if rating is not None]
    if len(known) < len(ratings):
        return ()
    places = [_place(context, each) for each in put_on]
    named = zip(put_on, known, places, strict=True)
    loads = tuple(_managed(load, rating, place) for load, rating, place in named)
    case = Management(capacity, capacity, set_point or capacity, base, base, loads, order_of(context, subject))
    try:
        return (*_lines(manage(case), capacity), *_sharing(put_on, places))
    except OutsideLimits:
        return ()


def _sharing(put_on: Sequence[Load], places: Sequence[int]) -> tuple[Line, ...]:
    """One line with the loads that share a place in the order, which were taken as they are listed."""
    named = [(_name(load), place) for load, place in zip(put_on, places, strict=True) if place != _ONE_TOO_MANY]
    sharing = [name for name, place in named if places.count(place) > 1]
    return (Line("", "same place in the order", "taken as listed", ", ".join(sharing), "", ""),) if sharing else ()


def _name(load: Load) -> str:
    return load.name or str(load.subject)


def _managed(load: Load, takes: Fraction, place: int) -> ManagedLoad:
    return ManagedLoad(_name(load), takes, takes, place, None)


def _place(context: Context, load: Load) -> int:
    place = context.read(load.subject, "priority").number
    return _ONE_TOO_MANY if place is None else int(place)


def _lines(found: Managed, capacity: Fraction) -> list[Line]:
    """One line for each step, and one for what never finds room; the worksheet gives them their letters."""
    lines = []
    for step in found.steps:
        verdict = f"more than {amount(capacity)} A" if step.exceeds else f"of {amount(capacity)} A"
        lines.append(Line("", step.name, verdict, amount(step.running), "A", ""))
    if found.never_fit:
        lines.append(Line("", "never find room", "", ", ".join(found.never_fit), "", ""))
    return lines
