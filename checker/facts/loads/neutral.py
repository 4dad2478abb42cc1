"""The load of the neutral of a line that carries a dwelling, or a part of one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.demand import ByCount, CountRow
from checker.engineering.loads.dwelling import Appliance, Dwelling, StandardCase, StandardNumbers
from checker.engineering.loads.dwelling_neutral import DWELLING_NEUTRAL, Demand, NeutralCase, NeutralOnLegs
from checker.engineering.loads.neutral import NeutralNumbers
from checker.engineering.worked import Worked
from checker.engineering.worksheet import Worksheet
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.loads import premises as whole
from checker.facts.loads.ends import CIRCUITS, OTHER_BUILDING, dwelling_at, has_end
from checker.facts.loads.methods import CONNECTED, STANDARD, smallest_factors
from checker.facts.loads.numbers import standard_numbers
from checker.facts.loads.premises import MOTOR_DRIVEN, Counts, Load, Premises, premises, standing_in
from checker.facts.loads.sheet import OPEN, given_lines
from checker.facts.loads.work import FARM, refuse_a_farm
from checker.facts.numbers import cited, number_in_force
from checker.facts.two_ends import TwoEnds, step_lines
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import SITE, Subject
from checker.values.possible import Possible, Span, between, exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

COOKING_AND_DRYING = "share-of-cooking-and-drying-on-the-neutral"
IN_FULL = "neutral-load-counted-in-full"
ABOVE = "share-of-the-neutral-load-above"
NUMBERS = (COOKING_AND_DRYING, IN_FULL, ABOVE)
"""The parameters that are read here besides those of the standard calculation."""

CONNECTED_TO, HAS_NEUTRAL = "connected_to", "has_neutral"
CONNECTION, TO_NEUTRAL = "system.connection", "system.to_neutral"
SIZE = "neutral_conductor.size"
READS = (*whole.READS, "occupancy", "load_method", FARM, CONNECTED_TO, HAS_NEUTRAL, "system", "neutral_conductor")

_ONE_DWELLING = exactly("one_family_dwelling")
_REDUCES: Mapping[object, bool] = {"split": True, "wye_legs": False}
"""Whether the shares of the code hold on a system with two legs and a neutral."""

_ON_ONE_LEG = frozenset({"A", "B", "C"})
_YES, _OFF, _MANAGED = exactly(True), exactly("while_the_set_runs"), exactly("until_it_fits")


@dataclass(frozen=True, slots=True)
class Legs:
    """What is known of the two legs: whether the shares of the code hold there, and the voltage to the neutral (V)."""

    reduces: frozenset[bool]
    to_neutral: Span


@dataclass(frozen=True, slots=True)
class OnNeutral:
    """The dwelling, or the part of it that is carried, and of each of its loads whether it has a neutral."""

    found: Premises
    has_neutral: Mapping[Subject, Truth]

    @property
    def is_settled(self) -> bool:
        """Whether nothing can come to what surely loads the neutral."""
        return self.found.is_settled and Truth.UNKNOWN not in self.has_neutral.values()

    def loads(self, *truths: Truth) -> tuple[Load, ...]:
        """The loads of which it is so said."""
        return tuple(each for each in self.found.loads if self.has_neutral[each.subject] in truths)


def neutral_load(context: Context, subject: Subject, name: str) -> Derived:
    """Current for which the neutral of a line is sized by the loads past it, between the least and the most.

    A load of which it is not known whether it has a neutral counts at the most, and not at the least.
    """
    if _no_neutral_shown(context, subject):
        # Nobody is asked for every load before the conductor is there whose load it is.
        return no_answer("the neutral conductor is not shown")
    try:
        legs, on = _legs(context, subject), _on_neutral(context, subject)
        method = context.read(SITE, "load_method") if on.found.is_part else exactly(STANDARD)
        ends = neutral_ends(on, legs, method, context.numbers)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    most = None if ends.most is None else ends.most.value
    return Derived(between(ends.least.value, most), worksheet=_sheet(context, subject, name, on, ends))


def _no_neutral_shown(context: Context, subject: Subject) -> bool:
    size = context.read(subject, SIZE).hull
    return size is None or size.low is None


# --- what is known ---------------------------------------------------------------------------------------------------


def _legs(context: Context, subject: Subject) -> Legs:
    connection, volts = context.read(subject, CONNECTION), context.read(subject, TO_NEUTRAL).hull
    if not connection.atoms or not connection.atoms <= _REDUCES.keys() or volts is None or not volts.low:
        raise OutsideLimits(
            "The load of a neutral is worked out for three wires of one phase and for two legs of a wye."
        )
    return Legs(frozenset(_REDUCES[each] for each in connection.atoms), volts)


def _on_neutral(context: Context, subject: Subject) -> OnNeutral:
    if context.read(SITE, "occupancy") != _ONE_DWELLING:
        raise OutsideLimits("The load of a neutral is worked out for one dwelling; elsewhere it has to be stated.")
    drawing, line = context.drawing, context.drawing.feed(subject)
    if len(drawing.of("utility_supply")) > 1:
        raise OutsideLimits(
            "The load of a neutral is worked out for one service only; with several it has to be stated."
        )
    past = frozenset({line.to, *drawing.fed_in_any_way(line.to)})
    boards = drawing.of("board")
    if not any(tag in past for tag in boards):
        raise OutsideLimits(f"{subject} leads to no board on the drawing; the load of its neutral has to be stated.")
    here = standing_in(context, past)
    counts = _kept_off(context, here) if drawing.is_of(line.source, "generator") else here
    found = premises(context, counts, asks=frozenset({MOTOR_DRIVEN}), is_part=any(tag not in past for tag in boards))
    refuse_a_farm(context, found, context.read(SITE, "load_method"))
    return OnNeutral(found, {each.subject: _has_neutral(context, each) for each in found.loads})


def _kept_off(context: Context, here: Counts) -> Counts:
    """The same without what is kept off as long as the set runs; of what load management puts on it is not known."""

    def counts(load: Subject) -> Truth:
        kept = context.read(load, "kept_off")
        is_on = relate("is_not", kept, _OFF)
        if is_on is not Truth.NO and relate("is_not", kept, _MANAGED) is not Truth.YES:
            is_on = Truth.UNKNOWN
        return all_of((here(load), is_on))

    return counts


def _has_neutral(context: Context, load: Load) -> Truth:
    """Circuits and what is on one leg alone have a neutral; what is between two legs has one where that is said."""
    if load.kind in (*CIRCUITS, OTHER_BUILDING):
        return Truth.YES
    legs = context.read(load.subject, CONNECTED_TO).atoms
    if legs and legs <= _ON_ONE_LEG:
        return Truth.YES
    said = relate("is", context.read(load.subject, HAS_NEUTRAL), _YES)
    may_yet = load.kind is None or bool(legs & _ON_ONE_LEG)
    return Truth.UNKNOWN if said is Truth.NO and may_yet else said


# --- both ends -------------------------------------------------------------------------------------------------------


def neutral_ends(on: OnNeutral, legs: Legs, method: Possible, numbers: NumbersInForce) -> TwoEnds:
    """The current at its least and at its most; no most where something has no end.

    While a load can come to those that surely count, factors by number are at the least the smallest that there are,
    and at the most each load counts as if it were alone. Of a part of a dwelling lighting and circuits count between
    their demand and in full, unless a calculation is named.
    """
    least = _at(on, legs, _least_demand(method), numbers, upper=False)
    has_most = has_end(replace(on.found, loads=on.loads(Truth.YES, Truth.UNKNOWN)))
    most = _at(on, legs, _most_demand(on, method), numbers, upper=True) if has_most else None
    return TwoEnds(least, most)


def _least_demand(method: Possible) -> Demand:
    return Demand.IN_FULL if method.atom == CONNECTED else Demand.TOGETHER


def _most_demand(on: OnNeutral, method: Possible) -> Demand:
    if method.atom != STANDARD:
        return Demand.IN_FULL
    return Demand.TOGETHER if on.is_settled else Demand.EACH_ALONE


def _at(on: OnNeutral, legs: Legs, demand: Demand, numbers: NumbersInForce, *, upper: bool) -> Worked:
    set_by = standard_numbers(numbers)
    factors = set_by if upper or on.is_settled else _least_factors(on, set_by)
    reduces = min(legs.reduces) if upper else max(legs.reduces)
    case = NeutralCase(StandardCase(_home(on, upper=upper), factors), neutral_numbers(numbers), reduces, demand)
    volts = legs.to_neutral.low if upper else legs.to_neutral.high
    if volts is None:
        raise OutsideLimits("The voltage to the neutral has no end.")
    return DWELLING_NEUTRAL(NeutralOnLegs(case, volts))


def _least_factors(on: OnNeutral, set_by: StandardNumbers) -> StandardNumbers:
    """The smallest factors that the number of loads can bring. Where it is open only which loads have a neutral, there
    are no more dryers and ranges than are listed, and the number of appliances stands.
    """
    if not on.found.is_settled:
        return smallest_factors(set_by)
    kinds = [each.kind for each in on.loads(Truth.YES, Truth.UNKNOWN)]
    dryers = ByCount((CountRow(None, set_by.dryers.of(max(1, kinds.count("dryer")))),), set_by.dryers.source)
    # A smaller range beside a large one lowers the average by which the demand is raised.
    several = kinds.count("cooking") > 1
    cooking = replace(set_by.cooking, raise_each=Fraction(0)) if several else set_by.cooking
    return replace(set_by, dryers=dryers, cooking=cooking)


def neutral_numbers(numbers: NumbersInForce) -> NeutralNumbers:
    """What is set for the load of a neutral; OutsideLimits where the documents in force set nothing."""
    share, whole_up_to, above = (number_in_force(numbers, name) for name in NUMBERS)
    return NeutralNumbers(share, whole_up_to, above, cited(numbers, IN_FULL), cited(numbers, COOKING_AND_DRYING))


def _home(on: OnNeutral, *, upper: bool) -> Dwelling:
    """The dwelling with what has a neutral; the other appliances stand for their number alone."""
    truths = (Truth.YES, Truth.UNKNOWN) if upper else (Truth.YES,)
    home = dwelling_at(replace(on.found, loads=on.loads(*truths)), upper=upper)
    others = len(dwelling_at(on.found, upper=upper).appliances) - len(home.appliances)
    counted = tuple(replace(each, to_neutral=True) for each in home.appliances)
    return replace(home, appliances=(*counted, *(Appliance("without a neutral", Fraction(0)),) * others))


# --- worksheet -------------------------------------------------------------------------------------------------------


def _sheet(context: Context, subject: Subject, name: str, on: OnNeutral, ends: TwoEnds) -> Worksheet:
    shown = replace(on.found, loads=on.loads(Truth.YES, Truth.UNKNOWN))
    volts = (context.catalog.facts[TO_NEUTRAL].title, "", TO_NEUTRAL, context.known(subject, TO_NEUTRAL))
    lines = (*given_lines(context, shown, volts), *step_lines(ends))
    assumptions = tuple(_open(on))
    return Worksheet(
        f"{subject.id}.{name}", DWELLING_NEUTRAL.title, subject.id, lines, DWELLING_NEUTRAL.limits, assumptions
    )


def _open(on: OnNeutral) -> Iterator[str]:
    if not on.found.complete:
        yield OPEN
    if Truth.UNKNOWN in on.has_neutral.values():
        yield "Of some loads it is not said whether they have a neutral; they count at the most, and not at the least."
