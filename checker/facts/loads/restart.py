"""The load of a set after a long outage: what has a thermostat asks at once."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.restart import RESTART_LOAD, RestartCase
from checker.engineering.worked import Worked
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.loads.ends import dwelling_at, has_end
from checker.facts.loads.managed import always_on
from checker.facts.loads.methods import MEASURED, Ends
from checker.facts.loads.of_source import READS as OF_SOURCES
from checker.facts.loads.of_source import current, reached, terms_of, why_not
from checker.facts.loads.premises import Counts, Premises, premises, standing_in
from checker.facts.loads.sheet import load_sheet
from checker.facts.loads.work import load_of, on_a_farm
from checker.site.model import SITE, Subject
from checker.values.possible import ABSENT, exactly, union_of
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

READS = (*OF_SOURCES, "kept_off")
READS_OF_A_LOAD = (*READS, "capacity", "load_after_a_long_outage")

HEATS_WATER = ("water_heater", "tankless_or_pool_heater")
CLIMATE = ("cooling", "heat_pump", "supplementary_heat", "heat", "storage_heat")
_WITH_A_THERMOSTAT = tuple(exactly(kind) for kind in (*CLIMATE, *HEATS_WATER))
_ONE_DWELLING = exactly("one_family_dwelling")


def load_after_a_long_outage(context: Context, subject: Subject, name: str) -> Derived:
    """Current at the set of what nothing keeps off it: heating or cooling and water heating by their ratings, the rest
    by the calculation of load that the drawing names. Of one dwelling. Common practice; no section sets it.
    """
    reason = why_not(context, subject)
    if reason:
        return no_answer(reason)
    try:
        found, ends = _load(context, subject)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(current(context, subject, ends), worksheet=load_sheet(context, subject, name, found, ends))


def _load(context: Context, subject: Subject) -> tuple[Premises, Ends]:
    if context.read(SITE, "occupancy") != _ONE_DWELLING:
        raise OutsideLimits("What asks at once after a long outage is worked out for one dwelling only.")
    if context.read(SITE, "load_method").atom == MEASURED:
        raise OutsideLimits("A record of demand does not tell which loads have a thermostat.")
    here = always_on(context, standing_in(context, reached(context, subject)))
    terms = terms_of(context, subject)
    found, everything = load_of(context, here, terms)
    _, rest = load_of(context, _with_a_thermostat(context, here, holds=False), terms)
    asking = premises(context, _with_a_thermostat(context, here, holds=True), asks=frozenset(), is_part=True)
    least = _at(rest.least, asking, everything.least, upper=False)
    most = None
    if rest.most is not None and everything.most is not None and has_end(asking):
        most = _at(rest.most, asking, everything.most, upper=True)
    return found, Ends(RESTART_LOAD.title, f"{RESTART_LOAD.limits} {rest.limits}", least, most)


def _at(rest: Worked, asking: Premises, everything: Worked, *, upper: bool) -> Worked:
    home = dwelling_at(asking, upper=upper)
    water = sum((each.rating for each in home.appliances), Fraction(0))
    return RESTART_LOAD(RestartCase(rest, home.heating.largest_at_once, water, everything.value))


def _with_a_thermostat(context: Context, here: Counts, *, holds: bool) -> Counts:
    def counts(load: Subject) -> Truth:
        has_one = _has_a_thermostat(context, load)
        return all_of((here(load), has_one if holds else ~has_one))

    return counts


def _has_a_thermostat(context: Context, load: Subject) -> Truth:
    kind = context.read(load, "load_kind")
    return any_of(relate("is", kind, each) for each in _WITH_A_THERMOSTAT)


# --- told once, at the largest load that asks ------------------------------------------------------------------------


def at_its_largest_load(context: Context, load: Subject, name: str) -> Derived:
    """The same figure of the set, at the largest load with a thermostat that nothing keeps off it; none of any other.

    So that it is compared where such a load is listed, and once for each set. None on a farm with demand factors.
    """
    subject = _set_of(context, load)
    if subject is None or relate("is", context.read(SITE, "occupancy"), _ONE_DWELLING) is Truth.NO:
        return Derived(ABSENT)
    if on_a_farm(context, context.read(SITE, "load_method")) is Truth.YES:
        # Nobody is asked for a figure that is worked out for a dwelling by itself.
        return Derived(ABSENT)
    is_largest = _is_largest(context, load, always_on(context, standing_in(context, reached(context, subject))))
    if is_largest is Truth.NO:
        return Derived(ABSENT)
    figure = context.known(subject, name)
    value = figure.value if is_largest is Truth.YES else union_of([ABSENT, figure.value])
    return Derived(value, figure.unit, worksheet=figure.worksheet)


def capacity_of_its_set(context: Context, load: Subject, name: str) -> Derived:
    """The capacity of the one set that feeds the load; none where no set does, or several."""
    subject = _set_of(context, load)
    if subject is None:
        return Derived(ABSENT)
    capacity = context.known(subject, "capacity")
    return Derived(capacity.value, capacity.unit, worksheet=capacity.worksheet)


def _set_of(context: Context, load: Subject) -> Subject | None:
    at = context.read(load, "at").atom
    sets = [tag for tag in context.drawing.of("generator") if at in reached(context, context.drawing.pieces[tag])]
    return context.drawing.pieces[sets[0]] if len(sets) == 1 else None


def _is_largest(context: Context, load: Subject, here: Counts) -> Truth:
    """Whether it asks, and no other load that asks is larger; of two alike the first one that is listed."""
    own = all_of((here(load), _has_a_thermostat(context, load)))
    if own is Truth.NO:
        return own
    listed = context.members("loads")
    power = context.read(load, "load_power")
    is_first, larger = True, Truth.NO if listed.complete else Truth.UNKNOWN
    for other in listed.members:
        if other == load:
            is_first = False
            continue
        relation = "at_least" if is_first else "more_than"
        asks = (here(other), _has_a_thermostat(context, other))
        larger = any_of((larger, all_of((*asks, relate(relation, context.read(other, "load_power"), power)))))
        if larger is Truth.YES:
            return Truth.NO
    return all_of((own, ~larger))
