"""What would make a propane tank give the vapor that is asked of it: worked by numbers, so that each cure cures."""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.fuel.ends import Ends, ends_of
from checker.facts.fuel.tanks import LENGTHS, VAPOR_READS, factors_in_force, vapor_at
from checker.site.model import SITE, Subject
from checker.values.arithmetic import where_absent
from checker.values.possible import ABSENT, Possible, between, number, numbers, union_of

READS = (*VAPOR_READS, "vapor_rate", "heat_demand")
JOINED = "tanks_joined"
_ONE, _HUNDRED = Fraction(1), 100
_NO_VAPOR = "the tank gives no vapor that anything could be added to"


def tank_size_wanted(context: Context, subject: Subject, _name: str) -> Derived:
    """k = propane asked for / vapor that the tank gives, up to whole percents: of diameter times length, as full and as
    cold.
    """
    found = _share(context, subject)
    if found is None:
        return no_answer(_NO_VAPOR)
    most = None if found.most is None else _up_to_percents(found.most)
    return Derived(between(_up_to_percents(found.least), most), unit="%")


def tanks_that_give_enough(context: Context, subject: Subject, _name: str) -> Derived:
    """n = joined x k, up to a whole number: of tanks like it that stand alike."""
    found = _share(context, subject)
    if found is None:
        return no_answer(_NO_VAPOR)
    joined = ends_of(where_absent(context.read(subject, JOINED), _ONE))
    most = None if found.most is None or joined.most is None else ceil(found.most * joined.most)
    return Derived(between(ceil(found.least * max(joined.least, _ONE)), most))


def fill_that_gives_enough(context: Context, subject: Subject, _name: str) -> Derived:
    """The first line of the list of fills at which it gives what is asked for; absent where the last one does not."""
    vapor = context.read(subject, "vapor_rate")
    if vapor.undefined:
        return no_answer(vapor.undefined[0])
    try:
        fills = [row.at for row in factors_in_force(context).by_fill]
        earliest = _first(context, subject, fills, upper=True)
        latest = _first(context, subject, fills, upper=False)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    if earliest is None:
        return Derived(ABSENT)
    reached = [each for each in fills if each >= earliest and (latest is None or each <= latest)]
    found = numbers(reached)
    return Derived(found if latest is not None else union_of([found, ABSENT]), unit="%")


def _first(context: Context, subject: Subject, fills: list[Fraction], *, upper: bool) -> Fraction | None:
    """At the corner that gives most and asks least, or at the other one."""
    asked = ends_of(context.read(subject, "heat_demand"))
    wanted = asked.least if upper else asked.most
    joined = ends_of(where_absent(context.read(subject, JOINED), _ONE))
    together = joined.most if upper else joined.least
    for fill in fills:
        given = _vapor(context, subject, fill, upper=upper)
        if upper and (given is None or together is None):
            return fill
        if given is not None and together is not None and wanted is not None and given * together >= wanted:
            return fill
    return None


def _vapor(context: Context, subject: Subject, fill: Fraction, *, upper: bool) -> Fraction | None:
    rows: list[Possible] = [
        *(context.read(subject, each) for each in LENGTHS),
        number(fill),
        context.read(SITE, "coldest_day"),
    ]
    found = vapor_at(rows, factors_in_force(context), upper=upper)
    return None if found is None else found.value


def _share(context: Context, subject: Subject) -> Ends | None:
    """What is asked for over what is given; None where it gives nothing for sure, or nothing is known of it."""
    vapor, asked = context.read(subject, "vapor_rate"), ends_of(context.read(subject, "heat_demand"))
    given = ends_of(vapor)
    if vapor.undefined or given.most == 0:
        return None
    least = Fraction(0) if given.most is None else asked.least / given.most
    most = None if given.least == 0 or asked.most is None else asked.most / given.least
    return Ends(least, most)


def _up_to_percents(share: Fraction) -> Fraction:
    return Fraction(ceil(share * _HUNDRED), _HUNDRED)
