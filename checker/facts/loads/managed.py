"""What load management leaves on a set, and whether a load that it puts on ever fits."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.worksheet import Line
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.line.roles import flag
from checker.facts.loads.current import amperes
from checker.facts.loads.managers import READS as OF_MANAGERS
from checker.facts.loads.managers import managers_of, set_point
from checker.facts.loads.methods import MEASURED, Ends
from checker.facts.loads.of_source import READS as OF_SOURCES
from checker.facts.loads.of_source import current, reached, terms_of, why_not
from checker.facts.loads.premises import Counts, Premises, end, premises, standing_in
from checker.facts.loads.sheet import load_sheet
from checker.facts.loads.steps import step_lines
from checker.facts.loads.work import load_of
from checker.facts.two_ends import amount
from checker.site.model import SITE, Subject
from checker.values.possible import Possible, between, exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

READS = (*OF_SOURCES, *OF_MANAGERS, "when_control_fails", "capacity", "priority")

_UNTIL_IT_FITS = exactly("until_it_fits")


def managed_load(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest current that load management leaves on the set.

    At the least it is that of the loads that nothing keeps off. A load that is put on when it fits adds up to the set
    point; one that may stay on when the control fails counts as if nothing kept it off. Without a set point that is
    known, whatever is managed may come on.
    """
    reason = why_not(context, subject) or _nothing_managed(context, subject)
    if reason:
        return no_answer(reason)
    here = _here(context, subject)
    try:
        always, least = _load_of(context, subject, always_on(context, here))
        _, most = _load_of(context, subject, _may_stay(context, here))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    low, high = current(context, subject, least), current(context, subject, most)
    managed = premises(context, _may_be_put_on(context, here), asks=frozenset(), is_part=True).loads
    # Where one load is not known to be put on, the steps are not known either.
    put_on = managed if all(each.counts is Truth.YES for each in managed) else ()
    point = set_point(context, subject) if managed else None
    both = Ends(least.title, least.limits, least.least, most.most)
    steps = (*_up_to(point, high), *step_lines(context, subject, low, put_on, point))
    sheet = load_sheet(context, subject, name, always, both, steps)
    return Derived(_left_on(context, subject, low, high, may_come_on=bool(managed)), worksheet=sheet)


def ever_fits(context: Context, load: Subject, name: str) -> Derived:
    """Whether a load has room on its set beside what is always on there: I(load) <= capacity - I(always on).

    Of a load at a board that one set alone can feed. The load counts with its whole rating, without diversity: after a
    long outage all that has a thermostat asks at once. Common practice; no section sets it.
    """
    at = context.read(load, "at").atom
    sets = [tag for tag in context.drawing.of("generator") if at in reached(context, context.drawing.pieces[tag])]
    if len(sets) != 1:
        return no_answer(f"no one set feeds the board of {load}")
    subject = context.drawing.pieces[sets[0]]
    reason = why_not(context, subject)
    if reason:
        return no_answer(reason)
    try:
        _, base = _load_of(context, subject, always_on(context, _here(context, subject)))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(flag(_fits(context, subject, context.read(load, "load_power"), base)))


def _fits(context: Context, subject: Subject, power: Possible, base: Ends) -> Truth:
    capacity = context.read(subject, "capacity")
    least, most = end(power, upper=False), end(power, upper=True)
    greatest_room, least_room = end(capacity, upper=True), end(capacity, upper=False)
    at_least = None if least is None else amperes(context, subject, least + base.least.value)
    if at_least is not None and greatest_room is not None and at_least > greatest_room:
        return Truth.NO
    if base.most is None or most is None or least_room is None:
        return Truth.UNKNOWN
    at_most = amperes(context, subject, most + base.most.value)
    return Truth.YES if at_most is not None and at_most <= least_room else Truth.UNKNOWN


def _up_to(point: Fraction | None, high: Possible) -> tuple[Line, ...]:
    """The set point, up to which loads are put on, where it is more than what may stay on."""
    most = high.hull.high if high.hull is not None else None
    if point is None or most is None or point <= most:
        return ()
    return (Line("", "most, with loads put on", "up to the set point", amount(point), "A", ""),)


def _nothing_managed(context: Context, subject: Subject) -> str:
    """Why nothing is kept off for sure; empty where something may be."""
    if not context.all_drawn("load_manager") or managers_of(context, subject):
        return ""
    kept = (context.stated(load, "kept_off") for load in context.members("loads").members)
    if any(not each.absent for each in kept):
        return ""
    return f"no load management of {subject} is drawn"


def _here(context: Context, subject: Subject) -> Counts:
    return standing_in(context, reached(context, subject))


def _load_of(context: Context, subject: Subject, counts: Counts) -> tuple[Premises, Ends]:
    if context.read(SITE, "load_method").atom == MEASURED:
        raise OutsideLimits("A record of demand does not tell what is left when loads are kept off.")
    return load_of(context, counts, terms_of(context, subject))


def always_on(context: Context, here: Counts) -> Counts:
    """Loads that nothing keeps off for sure."""

    def counts(load: Subject) -> Truth:
        kept = context.read(load, "kept_off")
        nothing = Truth.YES if kept.only_absent else Truth.UNKNOWN if kept.absent else Truth.NO
        return all_of((here(load), nothing))

    return counts


def _may_stay(context: Context, here: Counts) -> Counts:
    """Loads that nothing keeps off, and those that may stay on when the control fails."""
    always = always_on(context, here)

    def counts(load: Subject) -> Truth:
        if always(load) is not Truth.NO or here(load) is Truth.NO:
            return always(load)
        return all_of((here(load), relate("is_not", context.read(load, "when_control_fails"), exactly("stays_off"))))

    return counts


def _left_on(context: Context, subject: Subject, low: Possible, high: Possible, *, may_come_on: bool) -> Possible:
    """From what nothing keeps off up to what may stay on or, where loads are put on as they fit, to the set point."""
    least = low.hull.low if low.hull is not None else None
    most = high.hull.high if high.hull is not None else None
    if most is None or not may_come_on:
        return between(least, most)
    point = set_point(context, subject)
    return between(least, None if point is None else max(most, point))


def _may_be_put_on(context: Context, here: Counts) -> Counts:
    """Loads that are put on while they fit, other than those that stay off for good."""

    def counts(load: Subject) -> Truth:
        return all_of((here(load), relate("is", context.read(load, "kept_off"), _UNTIL_IT_FITS)))

    return counts
