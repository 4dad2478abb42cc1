"""The heavier leg of a single-phase set that feeds chosen circuits."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from checker.facts.derivation import Context, Derived
from checker.facts.loads.of_source import feeds_a_board, is_part, reached
from checker.facts.loads.premises import end, standing_in
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import ABSENT, Possible, between, number, undefined, union_of
from checker.values.relations import relate
from checker.values.truth import Truth

READS = ("at", "load_power", "connected_to", "system")

_NOTHING = Fraction(0)
_BOTH, _FIRST, _SECOND = "AB", "A", "B"
_ALONE = frozenset({_FIRST, _SECOND})


@dataclass(frozen=True, slots=True)
class Leg:
    """What one load may put on the legs: the legs that are possible, its least and most power (VA; None: no end)."""

    legs: frozenset[str]
    least: Fraction
    most: Fraction | None


def heaviest_leg(context: Context, subject: Subject, name: str) -> Derived:
    """Current of the leg that carries more, of a single-phase set that feeds chosen circuits; none of any other set.

    A load between both legs puts S / V on each, one on a leg alone S / V(to neutral) on that leg. Every rating counts
    in full. At the least the loads that may be on either leg are shared out so that both legs come as near as they can
    (never below half of all); at the most they are all on the heavier one. It rises with every rating. Common practice;
    no section sets how circuits are shared out.
    """
    if not is_part(context, subject) or not feeds_a_board(context, subject):
        return Derived(ABSENT)
    volts, to_neutral = (context.read(subject, f"system.{part}").number for part in ("voltage", "to_neutral"))
    is_one_phase = relate("is", context.read(subject, "system.phases"), number(1))
    if is_one_phase is Truth.NO:
        return Derived(ABSENT)
    if not volts or not to_neutral:
        return Derived(undefined("the system of the set is not shown as one with a neutral"))
    loads = list(_loads(context, subject))
    least, most = _least(loads, volts, to_neutral), _most(loads, volts, to_neutral)
    is_all = context.members("loads").complete
    found = _span(least, most if is_all else None)
    return Derived(found if is_one_phase is Truth.YES else union_of((ABSENT, found)))


def _span(least: Fraction, most: Fraction | None) -> Possible:
    return between(rounded(least), None if most is None else rounded(most))


def _loads(context: Context, subject: Subject) -> Iterable[Leg]:
    here = standing_in(context, reached(context, subject))
    for load in context.members("loads").members:
        counts = here(load)
        if counts is Truth.NO:
            continue
        power = context.read(load, "load_power")
        least = (end(power, upper=False) or _NOTHING) if counts is Truth.YES else _NOTHING
        said = frozenset(str(atom) for atom in context.read(load, "connected_to").atoms)
        # Three phases, or a third one, there are not on such a set: what is not on one leg alone is on both.
        legs = (said & _ALONE) | ({_BOTH} if said - _ALONE else frozenset())
        yield Leg(legs, least, end(power, upper=True))


def _least(loads: Iterable[Leg], volts: Fraction, to_neutral: Fraction) -> Fraction:
    """Not below either leg with what is surely on it, nor below half of what both carry together."""
    surely = {_FIRST: _NOTHING, _SECOND: _NOTHING}
    together = _NOTHING
    for load in loads:
        if _BOTH in load.legs:
            together += 2 * load.least / volts
            surely = {leg: each + (load.least / volts if load.legs == {_BOTH} else 0) for leg, each in surely.items()}
            continue
        together += load.least / to_neutral
        for leg in surely:
            surely[leg] += load.least / to_neutral if load.legs == {leg} else _NOTHING
    return max(*surely.values(), together / 2)


def _most(loads: Iterable[Leg], volts: Fraction, to_neutral: Fraction) -> Fraction | None:
    """The heavier leg with everything on it that may be there."""
    found = {_FIRST: _NOTHING, _SECOND: _NOTHING}
    for load in loads:
        if load.most is None:
            return None
        for leg in found:
            found[leg] += _at_most(load, leg, load.most, volts, to_neutral)
    return max(found.values())


def _at_most(load: Leg, leg: str, power: Fraction, volts: Fraction, to_neutral: Fraction) -> Fraction:
    alone = power / to_neutral if leg in load.legs else _NOTHING
    return max(alone, power / volts if _BOTH in load.legs else _NOTHING)
