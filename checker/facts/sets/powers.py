"""Powers and currents of a set: the greatest rating and the capacity at the site are two different facts."""

from __future__ import annotations

from checker.engineering.full_load_current import FULL_LOAD_CURRENT
from checker.facts.calculated import calculated
from checker.facts.derivation import Context, Derived
from checker.facts.line.roles import flag
from checker.site.model import Subject
from checker.values.arithmetic import largest
from checker.values.possible import ABSENT, exactly, union_of
from checker.values.relations import relate
from checker.values.truth import any_of


def greatest_power(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest rating on any fuel that the nameplate gives."""
    fact = context.catalog.facts["rated_power"]
    ratings = [context.known(subject, f"rated_power.{fuel}") for fuel in fact.parts]
    unit = next((rating.unit for rating in ratings if rating.value.has_value), None)
    return Derived(largest([rating.value for rating in ratings], skip_absent=True), unit=unit)


def greatest_power_on_another_fuel(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest rating on a fuel other than the one in use; absent where the nameplate gives none."""
    fuels = tuple(context.catalog.facts["rated_power"].parts)
    ratings = {fuel: context.known(subject, f"rated_power.{fuel}") for fuel in fuels}
    unit = next((rating.unit for rating in ratings.values() if rating.value.has_value), None)
    used = context.read(subject, "fuel").atoms
    others = ([rating.value for fuel, rating in ratings.items() if fuel != burnt] for burnt in fuels if burnt in used)
    return Derived(union_of([largest(each, skip_absent=True) for each in others]), unit=unit)


def current_on_another_fuel(context: Context, subject: Subject, name: str) -> Derived:
    """Full-load current at that rating, before anything that the site takes; absent where there is no other fuel."""
    power = context.read(subject, "greatest_power_on_another_fuel")
    if power.only_absent:
        return Derived(ABSENT)
    found = _current(context, subject, name, "greatest_power_on_another_fuel")
    value = found.value.union(ABSENT) if power.absent else found.value
    return Derived(value, found.unit, reasons=found.reasons)


def greatest_current(context: Context, subject: Subject, name: str) -> Derived:
    """Full-load current at the greatest rated power."""
    return _current(context, subject, name, "greatest_power")


def capacity(context: Context, subject: Subject, name: str) -> Derived:
    """Full-load current at the power that the set gives on this site."""
    return _current(context, subject, name, "power_at_site")


def _current(context: Context, subject: Subject, name: str, power: str) -> Derived:
    terms = {
        "power": (subject, power),
        "voltage": (subject, "system.voltage"),
        "power_factor": (subject, "power_factor"),
        "phases": (subject, "system.phases"),
    }
    return calculated(context, FULL_LOAD_CURRENT, subject, name, terms)


def automatic_start(context: Context, subject: Subject, name: str) -> Derived:
    """Whether a switch that the set feeds is automatic, so that the set starts by itself."""
    switches = [context.drawing.pieces[tag] for tag in context.drawing.switches_fed(subject.id)]
    return Derived(flag(any_of(relate("is", context.read(tag, "operation"), exactly("automatic")) for tag in switches)))
