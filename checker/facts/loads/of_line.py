"""The load that one line puts on a set which feeds several automatic switches: that of its part of the dwelling."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.known import Known
from checker.facts.line.carrying import all_between
from checker.facts.loads.canadian import METHOD as CANADIAN
from checker.facts.loads.methods import CONNECTED, FOR_THE_WHOLE, MEASURED, STANDARD, Ends, Terms, load_by
from checker.facts.loads.of_source import READS as OF_SOURCES
from checker.facts.loads.of_source import current, is_part
from checker.facts.loads.premises import (
    AREA,
    LARGEST_MOTOR,
    NOTHING,
    OF_THE_WHOLE,
    Counts,
    Load,
    Premises,
    end,
    premises,
    standing_in,
)
from checker.facts.loads.several_dwellings import EACH, SERVES
from checker.facts.loads.sheet import load_sheet
from checker.facts.loads.work import refuse_a_farm
from checker.site.model import SITE, Feed, Subject
from checker.values.arithmetic import largest, product_of, total, within
from checker.values.possible import ABSENT, Possible, between, exactly, one_of, union_of
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

UNITS_FED = "dwelling_units_fed"
SWITCH_LOAD = "load_put_on_the_set"
READS = (*OF_SOURCES, UNITS_FED, SWITCH_LOAD)
READS_OF_A_LINE = ("operation", "automatic_load", SWITCH_LOAD)

_OFF, _MANAGED = exactly("while_the_set_runs"), exactly("until_it_fits")
_ONE_DWELLING, _TWO_UNITS = "one_family_dwelling", "two_family_dwelling"
_NOT_NAMED = one_of({STANDARD, CONNECTED})
_SEVERAL = _ALL_UNITS = 2
_ASKS = frozenset({LARGEST_MOTOR})
_TITLE = "Load past one of several switches on a set"
_PARTLY = (
    "A part of a dwelling has none of the floor area and its circuits at the least and all of them at the most; a unit "
    "that is fed whole has its own circuits."
)
_INSTEAD = "The calculation that is named is for a whole dwelling; the standard one stands in for it here."


@dataclass(frozen=True, slots=True)
class Part:
    """A set, all switches that it feeds, and those of them that hang on the device of one line."""

    source: Subject
    switches: tuple[str, ...]
    here: tuple[str, ...]


def load_of_switch(context: Context, subject: Subject, name: str) -> Derived:
    """Current of the loads past one of several automatic switches on one set.

    The load of a part is that of the standard calculation, or with every rating in full where that is named. A
    calculation of the whole does not hold for a part, so that the standard one stands in for it; where nobody names a
    calculation, the load lies between the two. It rises with area, circuits and ratings.
    """
    sets = [tag for tag in context.drawing.sources_reaching(subject.id) if context.drawing.is_of(tag, "generator")]
    if len(sets) != 1:
        return no_answer(f"{subject} is not fed by one set; its load has to be stated")
    source = context.drawing.pieces[sets[0]]
    switches = _switches(context, source.id)
    if any(_is_automatic(context, tag) is not Truth.YES for tag in (*switches, subject.id)):
        return no_answer(f"how each switch on {source} works is not shown; the load of {subject} has to be stated")
    if len(switches) < _SEVERAL:
        return no_answer(f"{subject} is the only automatic switch on {source}, whose load is that of the set")
    try:
        found, ends = _load_of_part(context, source, subject)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(current(context, source, ends), worksheet=load_sheet(context, source, name, found, ends, of=subject))


def load_on_its_device(context: Context, subject: Subject, name: str) -> Derived:
    """Current of the loads past all automatic switches that hang on the overcurrent device of this line. None of a line
    that does not lead from one set alone to one of several automatic switches, nor of a further line on that device.

    Of all switches it is the load of the set; of some of them no less than the largest of their loads and no more than
    the sum of these.
    """
    part = _part(context, context.drawing.feed(subject))
    if part is None:
        return Derived(ABSENT)
    if any(_is_automatic(context, tag) is not Truth.YES for tag in part.switches):
        return Derived(union_of((ABSENT, between(NOTHING, None))))
    if any(_has_another_set(context, part.source.id, tag) for tag in part.here):
        return Derived(ABSENT)
    if part.here == part.switches:
        return _as_it_is(context.known(part.source, "automatic_load"))
    known = [context.known(context.drawing.pieces[tag], SWITCH_LOAD) for tag in part.here]
    if len(known) == 1:
        return _as_it_is(known[0])
    loads = [each.value for each in known]
    return Derived(all_between(largest(loads, skip_absent=False), total(loads)))


def _as_it_is(load: Known) -> Derived:
    """A load that is worked out elsewhere, with its worksheet, so that what compares it is told there."""
    return Derived(load.value, worksheet=load.worksheet)


# --- what hangs on the device ----------------------------------------------------------------------------------------


def _part(context: Context, line: Feed) -> Part | None:
    """What hangs on the device of the line, where it leads from one set to one or more of several switches that are, or
    may be, automatic.
    """
    drawing = context.drawing
    sets = [tag for tag in drawing.of("generator") if line in _ahead_of_switches(context, tag)]
    on_its_device = _on_one_device(context, line)
    if len(sets) != 1 or line != on_its_device[0]:
        return None
    switches = _switches(context, sets[0])
    reached = frozenset(_reached_by(context, on_its_device))
    here = tuple(tag for tag in switches if tag in reached)
    if len(switches) < _SEVERAL or not here:
        return None
    return Part(drawing.pieces[sets[0]], switches, here)


def _switches(context: Context, source: str) -> tuple[str, ...]:
    """The switches on a set that are, or may be, automatic."""
    fed = context.drawing.switches_fed(source)
    return tuple(tag for tag in fed if _is_automatic(context, tag) is not Truth.NO)


def _is_automatic(context: Context, tag: str) -> Truth:
    return relate("is", context.read(context.drawing.pieces[tag], "operation"), exactly("automatic"))


def _has_another_set(context: Context, source: str, tag: str) -> bool:
    reaching = context.drawing.sources_reaching(tag)
    return any(context.drawing.is_of(each, "generator") for each in reaching if each != source)


def _ahead_of_switches(context: Context, tag: str) -> tuple[Feed, ...]:
    """The lines from a piece down to the first switches."""
    drawing = context.drawing
    between_them = drawing.downward(tag, lambda feed: not drawing.is_of(feed.to, "transfer_switch"))
    return tuple(feed for piece in (tag, *between_them) for feed in drawing.out_of(piece))


def _on_one_device(context: Context, line: Feed) -> tuple[Feed, ...]:
    """The lines that leave by the way of this one: one device stands ahead of all of them."""
    if line.way is None:
        return (line,)
    return tuple(feed for feed in context.drawing.out_of(line.source) if feed.way == line.way)


def _reached_by(context: Context, lines: Iterable[Feed]) -> Iterator[str]:
    """What is fed through these lines down to the first switches."""
    for line in lines:
        yield line.to
        if not context.drawing.is_of(line.to, "transfer_switch"):
            yield from (feed.to for feed in _ahead_of_switches(context, line.to))


def _counting(context: Context, here: Counts) -> Counts:
    """Loads there, without what is kept off as long as the set runs; what load management puts on may count."""

    def counts(load: Subject) -> Truth:
        kept = context.read(load, "kept_off")
        is_on = relate("is_not", kept, _OFF)
        if is_on is not Truth.NO and relate("is_not", kept, _MANAGED) is not Truth.YES:
            is_on = Truth.UNKNOWN
        return all_of((here(load), is_on))

    return counts


def _in_each_unit(context: Context, load: Subject) -> Truth:
    return relate("is", context.read(load, SERVES), exactly(EACH))


# --- its load --------------------------------------------------------------------------------------------------------


def _load_of_part(context: Context, source: Subject, switch: Subject) -> tuple[Premises, Ends]:
    """What counts of a part of one or two dwellings, and its load. Raises OutsideLimits elsewhere."""
    occupancy, method = context.read(SITE, "occupancy").atom, context.read(SITE, "load_method")
    if occupancy not in (_ONE_DWELLING, _TWO_UNITS) or method.atom in (MEASURED, CANADIAN):
        raise OutsideLimits(f"What {switch} puts on {source} has to be stated for this building or method.")
    here = standing_in(context, frozenset({switch.id, *context.drawing.fed_in_any_way(switch.id)}))
    of = _of_two_units if occupancy == _TWO_UNITS else _of_one_unit
    found = of(context, source, switch, here)
    refuse_a_farm(context, found, method)
    ends = load_by(_method_of_a_part(method), found, context.numbers, Terms(NOTHING, None, Truth.UNKNOWN, is_part=True))
    instead = f" {_INSTEAD}" if method.atom in FOR_THE_WHOLE else ""
    return found, replace(ends, title=_TITLE, limits=f"{ends.limits} {_PARTLY}{instead}")


def _method_of_a_part(method: Possible) -> Possible:
    """The calculation that a part takes: the named one, or the standard one in place of one for the whole."""
    if method.atom in FOR_THE_WHOLE:
        return exactly(STANDARD)
    return method if method.atom in (STANDARD, CONNECTED) else _NOT_NAMED


def _of_one_unit(context: Context, source: Subject, _switch: Subject, here: Counts) -> Premises:
    found = premises(context, _counting(context, here), asks=_ASKS, is_part=True)
    return replace(found, figures=_figures(context, source, between(NOTHING, 1)))


def _of_two_units(context: Context, source: Subject, switch: Subject, here: Counts) -> Premises:
    """What each unit has is listed once, wherever that is."""
    units = _units_fed(context, switch)

    def there(load: Subject) -> Truth:
        return any_of((here(load), _in_each_unit(context, load)))

    found = premises(context, _counting(context, there), asks=_ASKS, is_part=True)
    loads = tuple(_as_often_as_fed(context, found.loads, here, units))
    return replace(found, loads=loads, figures=_figures(context, source, units))


def _units_fed(context: Context, switch: Subject) -> Possible:
    """How many whole units the switch feeds; never more than there are."""
    return within(context.read(switch, UNITS_FED), NOTHING, Fraction(_ALL_UNITS))


def _figures(context: Context, source: Subject, units: Possible) -> Mapping[str, Known]:
    """Area and circuits that the part may have. Where the set feeds only chosen boards, and no unit whole, the circuits
    count as they are listed.
    """
    if is_part(context, source) and end(units, upper=False) == NOTHING:
        return {}
    shares = {AREA: between(NOTHING, 1)}
    known = {name: context.known(SITE, name) for name in OF_THE_WHOLE}
    return {
        name: replace(figure, value=product_of(figure.value, shares.get(name, units))) for name, figure in known.items()
    }


def _as_often_as_fed(context: Context, loads: tuple[Load, ...], here: Counts, units: Possible) -> Iterator[Load]:
    """Once for each unit that is fed whole, and once where it is listed there; of the rest it is not known."""
    surely, perhaps = (int(end(units, upper=upper) or NOTHING) for upper in (False, True))
    for load in loads:
        each = _in_each_unit(context, load.subject)
        once = 1 if here(load.subject) is Truth.YES else 0
        sure = max(once, surely if each is Truth.YES else 0)
        for place in range(max(1, sure, perhaps if each is not Truth.NO else 0)):
            yield load if place < sure else replace(load, counts=Truth.UNKNOWN)
