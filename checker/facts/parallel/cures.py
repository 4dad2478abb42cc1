"""What would bring the sum of a bus down to what it bears: worked by numbers, so that no cure is told that is none."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import prod

from checker.catalog.names import MAIN_WAY
from checker.engineering.calculation import Calculation, OutsideLimits
from checker.engineering.parallel.bus import BUS_SUM, BUS_WANTED, MAIN_LEFT, OUTPUT_LEFT
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.line.overcurrent import DEVICE, drawn_ways
from checker.facts.numbers import number_in_force
from checker.facts.parallel.bus import NO_MAIN, SHARE, over_selections
from checker.facts.parallel.landing import Landing
from checker.site.model import Subject
from checker.values.arithmetic import product_of, total, where_absent
from checker.values.possible import (
    ABSENT,
    ENUMERATION_LIMIT,
    Possible,
    Span,
    exactly,
    merged_spans,
    number,
    one_of,
    undefined,
    union_of,
)
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

SHARE_AT_ENDS = "share-of-the-bus-with-sources-at-its-ends"
WHOLE_BUS = Fraction(1)

READS_MAIN = ("rated_current", "parallel_output")
READS_OUTPUT = ("rated_current", "bus_protection", "parallel_output")
READS_TO_TAKE_OFF = ("interactive", "rated_current", "bus_protection", "parallel_output", "stands_on_bus")
READS_BUS = ("bus_sum", "parallel_output")
READS_BREAKERS = ("overcurrent", "parallel_output")
READS_LANDINGS = ("interactive", "stands_on_bus")
NUMBERS = (SHARE_AT_ENDS,)
"""The parameters that are read here."""

_PLACE, _ELSEWHERE, _OPPOSITE = "stands_on_bus", "elsewhere", "opposite_end"
_TOO_MANY_PLACES = "of too many inverters it is open where they land"

_ByShare = Callable[[Fraction], Derived]


def main_wherever_they_land(context: Context, subject: Subject, _name: str) -> Derived:
    """I = bus - share x output; absent where no inverter is beside the utility, and where no main is left."""
    return _main_left(context, subject, WHOLE_BUS)


def main_opposite_the_inverters(context: Context, subject: Subject, _name: str) -> Derived:
    """I = allowed x bus - share x output, with what the edition in force allows where they land opposite to it."""
    return _with_the_share_at_ends(context, subject, lambda allowed: _main_left(context, subject, allowed))


def output_that_may_stay(context: Context, subject: Subject, _name: str) -> Derived:
    """I = (bus - main) / share; absent where no inverter is beside the utility, and where nothing is left for one."""
    return _output_left(context, subject, WHOLE_BUS)


def output_that_may_stay_opposite(context: Context, subject: Subject, _name: str) -> Derived:
    """I = (allowed x bus - main) / share, with what the edition in force allows where all of it lands opposite to the
    main.
    """
    return _with_the_share_at_ends(context, subject, lambda allowed: _output_left(context, subject, allowed))


def inverters_to_take_off(context: Context, subject: Subject, _name: str) -> Derived:
    """Each inverter without which alone the rest is within what the bus bears; absent where there is none."""

    def take_off(allowed: Fraction) -> Derived:
        protection = context.read(subject, "bus_protection")
        if protection.only_absent:
            return no_answer(NO_MAIN)
        rating, share = context.read(subject, "rated_current"), number_in_force(context.numbers, SHARE)
        bears = _Bus(rating, protection, share, allowed)
        return over_selections(context, subject, lambda context, chosen: _to_take_off(context, chosen, bears))

    return _with_the_share_at_ends(context, subject, take_off)


@dataclass(frozen=True, slots=True)
class _Bus:
    """What a bus bears: its rating, the device that protects it, and the shares that the edition in force sets."""

    rating: Possible
    protection: Possible
    share: Fraction
    allowed: Fraction

    def sum_with(self, outputs: Sequence[Possible]) -> Possible:
        """Main and these inverters."""
        given = {"protection": self.protection, "output": total([number(0), *outputs]), "share": number(self.share)}
        return BUS_SUM.over(given)

    def bears(self, together: Possible, opposite: Truth) -> Truth:
        """Whether it bears that, with all of it at the end opposite to the main or not."""
        at_ends = product_of(self.rating, number(self.allowed))
        anywhere = relate("at_most", together, self.rating)
        return any_of((anywhere, all_of((opposite, relate("at_most", together, at_ends)))))


def _to_take_off(context: Context, chosen: Sequence[Landing], bus: _Bus) -> Possible:
    """The words for every choice that is possible; of one inverter alone there is no rest."""
    inverters = tuple(dict.fromkeys(each.inverter for each in chosen))
    if len(inverters) == 1:
        return ABSENT
    told = [_without(context, chosen, each, bus) for each in inverters]
    if prod(map(len, told)) > ENUMERATION_LIMIT:
        return undefined(_TOO_MANY_PLACES)
    words = {" or ".join(each for each in picked if each) for picked in product(*told)}
    return union_of([ABSENT if not each else exactly(each) for each in sorted(words)])


def _without(context: Context, chosen: Sequence[Landing], inverter: Subject, bus: _Bus) -> tuple[str, ...]:
    """What is told of taking off one inverter, and nothing where that does not do; both where it is open."""
    rest = [each for each in chosen if each.inverter != inverter]
    outputs = [context.read(each, "rated_current") for each in dict.fromkeys(each.inverter for each in rest)]
    together = bus.sum_with(outputs)
    holds = bus.bears(together, all_of(_is_opposite(context, each) for each in rest))
    return {Truth.YES: (inverter.id,), Truth.NO: ("",), Truth.UNKNOWN: ("", inverter.id)}[holds]


def _is_opposite(context: Context, landing: Landing) -> Truth:
    if landing.way is None:
        return Truth.NO
    return relate("is", context.read(landing.way, _PLACE), exactly(_OPPOSITE))


def _output_left(context: Context, subject: Subject, allowed: Fraction) -> Derived:
    inputs = {
        "bus": context.read(subject, "rated_current"),
        "protection": context.read(subject, "bus_protection"),
        "allowed": number(allowed),
    }
    return _beside_inverters(context, subject, OUTPUT_LEFT, inputs)


def bus_opposite_the_inverters(context: Context, subject: Subject, _name: str) -> Derived:
    """I = sum / allowed, up to whole amperes: the bus that would do with every inverter opposite to the main."""

    def wanted(allowed: Fraction) -> Derived:
        together = context.read(subject, "bus_sum")
        there = together.present() or together
        return _told(BUS_WANTED, BUS_WANTED.over({"sum": there, "allowed": number(allowed)}), together.absent)

    return _with_the_share_at_ends(context, subject, wanted)


def breakers_drawn(context: Context, subject: Subject, _name: str) -> Derived:
    """Ratings of the devices in its ways, the main left out: of those that are drawn, so that there may be more."""
    if context.read(subject, "parallel_output").only_absent:
        return Derived(ABSENT)
    ways = [each for each in drawn_ways(context.site, subject.id) if each.id.rpartition("/")[2] != MAIN_WAY]
    ratings = (context.read(way, f"{DEVICE}.rated_current") for way in ways)
    value = total([number(0), *(where_absent(each, Fraction(0)) for each in ratings)])
    return Derived(value, unit="A", reasons=value.undefined)


def landings(context: Context, subject: Subject, _name: str) -> Derived:
    """Each inverter with the way by which it comes onto the bus, and where that stands."""
    return over_selections(context, subject, _landings)


def _landings(context: Context, chosen: Sequence[Landing]) -> Possible:
    """The words for every choice of places that is possible; of a line without a way nobody says where it lands."""
    ways = dict.fromkeys((each.inverter, each.way) for each in chosen)
    places = [_places(context, way) for _, way in ways]
    if prod(map(len, places)) > ENUMERATION_LIMIT:
        return undefined(_TOO_MANY_PLACES)
    return one_of(
        "; ".join(_landing_words(*at, words) for at, words in zip(ways, each, strict=True)) for each in product(*places)
    )


def _places(context: Context, way: Subject | None) -> tuple[str, ...]:
    words = context.catalog.facts[_PLACE].choices
    atoms = () if way is None else (str(each) for each in context.read(way, _PLACE).atoms)
    return tuple(sorted(words[each] for each in atoms)) or (words[_ELSEWHERE],)


def _landing_words(inverter: Subject, way: Subject | None, place: str) -> str:
    return f"{inverter}, {place}" if way is None else f"{inverter} by {way}, {place}"


def _main_left(context: Context, subject: Subject, allowed: Fraction) -> Derived:
    inputs = {"bus": context.read(subject, "rated_current"), "allowed": number(allowed)}
    return _beside_inverters(context, subject, MAIN_LEFT, inputs)


def _beside_inverters(
    context: Context, subject: Subject, calculation: Calculation, inputs: dict[str, Possible]
) -> Derived:
    """A calculation with the share that counts and, where it takes it, the output of the inverters."""
    output = context.read(subject, "parallel_output")
    if output.only_absent:
        return Derived(ABSENT)
    try:
        share = number_in_force(context.numbers, SHARE)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    everything = {**inputs, "share": number(share), "output": output.present() or output}
    value = calculation.over({each.name: everything[each.name] for each in calculation.inputs})
    return _told(calculation, _what_is_left(value), output.absent)


def _what_is_left(value: Possible) -> Possible:
    """Absent in place of everything that is not more than nothing."""
    kept, is_lost = [], False
    for span in value.spans:
        reaches_down = span.low is None or span.low <= 0
        is_lost = is_lost or reaches_down
        if span.high is None or span.high > 0:
            kept.append(Span(Fraction(0), span.high, True, span.high_open) if reaches_down else span)
    nothing = [ABSENT] if is_lost else []
    something = [Possible(spans=merged_spans(kept), undefined=value.undefined)] if kept or value.undefined else []
    return union_of([*something, *nothing])


def _told(calculation: Calculation, value: Possible, may_be_absent: bool) -> Derived:
    value = value.union(ABSENT) if may_be_absent else value
    return Derived(value, unit=calculation.unit, reasons=value.undefined)


def _with_the_share_at_ends(context: Context, subject: Subject, work: _ByShare) -> Derived:
    if context.read(subject, "parallel_output").only_absent:
        return Derived(ABSENT)
    try:
        return work(number_in_force(context.numbers, SHARE_AT_ENDS))
    except OutsideLimits as limit:
        return no_answer(str(limit))
