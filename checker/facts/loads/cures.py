"""What would bring the load of a set down to what it gives: worked by numbers, so that no cure is told that is none."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.loads.managed import always_on
from checker.facts.loads.methods import MEASURED
from checker.facts.loads.of_source import READS as OF_SOURCES
from checker.facts.loads.of_source import current, derived_load, put_on, reached, terms_of, why_not
from checker.facts.loads.premises import Counts, standing_in
from checker.facts.loads.work import load_of
from checker.site.model import SITE, Members, Subject
from checker.values.arithmetic import smallest
from checker.values.possible import Possible, one_of
from checker.values.truth import Truth

READS = (*OF_SOURCES, "kept_off")

_NOT_LISTED = "a load that is not listed"
_MEASURED = "a record of demand does not tell what is left when loads are kept off"
_NO_LOAD = "no load is put on the set"


def load_always_on(context: Context, subject: Subject, name: str) -> Derived:
    """Current of the loads that nothing keeps off: what is left however low load management is set."""
    reason = _why_not(context, subject)
    if reason:
        return no_answer(reason)
    return derived_load(context, subject, name, _always_on(context, subject), terms_of(context, subject))


def load_without_one(context: Context, subject: Subject, _name: str) -> Derived:
    """The least current that is left on the set where one load alone, whichever that is, is locked out beside what is
    kept off already.
    """
    return _least_left(context, subject, put_on(context, subject))


def load_always_on_without_one(context: Context, subject: Subject, _name: str) -> Derived:
    """The least current that nothing keeps off where one load alone, whichever that is, is locked out beside what load
    management keeps off.
    """
    return _least_left(context, subject, _always_on(context, subject))


def load_to_lock_out(context: Context, subject: Subject, _name: str) -> Derived:
    """The load that leaves least when it alone is locked out; every one that may be it, where that is open."""
    return _leaves_least(context, subject, put_on(context, subject))


def load_to_lock_out_too(context: Context, subject: Subject, _name: str) -> Derived:
    """The load that leaves least of what nothing keeps off when it alone is locked out beside what load management
    keeps off; every one that may be it, where that is open.
    """
    return _leaves_least(context, subject, _always_on(context, subject))


def _always_on(context: Context, subject: Subject) -> Counts:
    return always_on(context, standing_in(context, reached(context, subject)))


def _least_left(context: Context, subject: Subject, counts: Counts) -> Derived:
    reason = _why_not(context, subject)
    if reason:
        return no_answer(reason)
    try:
        left = [value for _, value in _without_each(context, subject, counts)]
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(smallest(left, skip_absent=False), unit="A") if left else no_answer(_NO_LOAD)


def _leaves_least(context: Context, subject: Subject, counts: Counts) -> Derived:
    reason = _why_not(context, subject)
    if reason:
        return no_answer(reason)
    try:
        left = list(_without_each(context, subject, counts))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    least = smallest([value for _, value in left], skip_absent=False).hull if left else None
    most = None if least is None else least.high
    names = [_name_of(context, load) for load, value in left if _may_reach_down_to(value, most)]
    others = [] if context.members("loads").complete else [_NOT_LISTED]
    return Derived(one_of([*names, *others])) if names or others else no_answer(_NO_LOAD)


def _why_not(context: Context, subject: Subject) -> str:
    if context.read(SITE, "load_method").atom == MEASURED:
        return _MEASURED
    return why_not(context, subject)


def _without_each(context: Context, subject: Subject, counts: Counts) -> Iterator[tuple[Subject, Possible]]:
    """What is left of the loads that count without each that may. Raises OutsideLimits where no calculation holds."""
    listed: Members = context.members("loads")
    for load in listed.members:
        if counts(load) is not Truth.NO:
            _, ends = load_of(context, _without(load, counts), terms_of(context, subject))
            yield load, current(context, subject, ends)


def _without(left_out: Subject, counts: Counts) -> Counts:
    def others(load: Subject) -> Truth:
        return Truth.NO if load == left_out else counts(load)

    return others


def _may_reach_down_to(value: Possible, most: Fraction | None) -> bool:
    hull = value.hull
    return most is None or hull is None or hull.low is None or hull.low <= most


def _name_of(context: Context, load: Subject) -> str:
    name = context.read(load, "name").atom
    return str(load) if name is None else str(name)
