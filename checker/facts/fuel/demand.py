"""What is asked of the gas line: of each set and appliance, of each piece of pipe, of the meter."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.gas_demand import GAS_FLOW
from checker.engineering.worksheet import Line as SheetLine
from checker.engineering.worksheet import Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived
from checker.facts.fuel.ends import ANYTHING, NONE_AT_ALL, NOTHING, Ends, agreed, ends_of, perhaps, total
from checker.facts.fuel.line import READS as OF_THE_LINE
from checker.facts.fuel.line import Line, Pipe, line
from checker.facts.fuel.numbers import NATURAL_GAS, PROPANE
from checker.facts.known import Known
from checker.site.model import SITE, Subject
from checker.values.possible import exactly, one_of, undefined
from checker.values.relations import relate
from checker.values.truth import Truth

OF_A_SET = ("fuel", "full_load_gas", "full_load_heat", "heating_value")
OF_AN_APPLIANCE = ("appliance_gas", "appliance_heat", "heating_value")
_OF_SETS, _OF_APPLIANCES = ("full_load_gas", "full_load_heat"), ("appliance_gas", "appliance_heat")
OF_THE_METER = ("gas_demand", "name")
OF_A_PIPE = (*OF_THE_LINE, "gas_demand")
TO_A_SET = OF_THE_LINE
GAS_IN_IT = (*OF_THE_LINE, "fuel")

_UNIT = "ft3/h"
_TWO = 2
_NO_DIVERSITY = "Everything runs at its full input at once; only who approves the plans can allow less."


def gas_of_a_set(context: Context, subject: Subject, name: str) -> Derived:
    """Natural gas at full load: as the data sheet gives it, in cubic feet or as heat; nothing on another fuel."""
    burns = relate("is", context.read(subject, "fuel"), exactly(NATURAL_GAS))
    if burns is Truth.NO:
        return Derived(NONE_AT_ALL.value, unit=_UNIT)
    try:
        found = _flow(context, subject, name, *(f"{each}.{NATURAL_GAS}" for each in _OF_SETS))
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    value = found.ends if burns is Truth.YES else perhaps(found.ends)
    return Derived(value.value, unit=_UNIT, worksheet=found.worksheet)


def gas_of_an_appliance(context: Context, subject: Subject, name: str) -> Derived:
    """Natural gas at full input: as the nameplate gives it, in cubic feet or as heat."""
    try:
        found = _flow(context, subject, name, *_OF_APPLIANCES)
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    return Derived(found.ends.value, unit=_UNIT, worksheet=found.worksheet)


def gas_past_a_pipe(context: Context, subject: Subject, _name: str) -> Derived:
    """Everything past a piece of pipe, without diversity."""
    try:
        found = line(context)
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    pipe = found.of(subject)
    outlets = tuple(outlets_past(found, pipe))
    reason = _not_one(context, outlets)
    if reason:
        return Derived(undefined(reason), reasons=(reason,))
    asked = total(ends_of(context.read(each, "gas_demand")) for each in outlets)
    asked = asked + total(perhaps(ends_of(context.read(each, "gas_demand"))) for each in found.unnamed)
    if may_have_more(found, pipe):
        asked = Ends(asked.least, None)
    sheet = _sheet_of_sum(context, subject, outlets, asked, closed=asked.most is not None)
    return Derived(asked.value, unit=_UNIT, worksheet=sheet)


def gas_of_the_meter(context: Context, subject: Subject, _name: str) -> Derived:
    """Everything that is connected: all sets on natural gas, and all appliances."""
    drawing = context.drawing
    if len(drawing.of("gas_meter")) > 1:
        reason = "with several gas meters the drawing does not say what hangs on which"
        return Derived(undefined(reason), reasons=(reason,))
    listed = context.members("gas_appliances")
    outlets = (*(drawing.pieces[tag] for tag in drawing.of("generator")), *listed.members)
    reason = _not_one(context, outlets)
    if reason:
        return Derived(undefined(reason), reasons=(reason,))
    asked = total(ends_of(context.read(each, "gas_demand")) for each in outlets)
    if not listed.complete:
        asked = Ends(asked.least, None)
    sheet = _sheet_of_sum(context, subject, outlets, asked, closed=listed.complete)
    return Derived(asked.value, unit=_UNIT, worksheet=sheet)


def leads_to_a_set(context: Context, subject: Subject, _name: str) -> Derived:
    """Whether a set burns what passes the pipe; not decided where more pipe may follow."""
    try:
        found = line(context)
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    pipe = found.of(subject)
    if any(each.end in found.sets for each in found.past(pipe)):
        return Derived(exactly(True))
    may_go_on = not found.all_pipes and any(found.is_open(each) for each in found.past(pipe))
    return Derived(one_of((True, False)) if may_go_on else exactly(False))


def leads_to_one_set_alone(context: Context, subject: Subject, _name: str) -> Derived:
    """Whether one set and nothing else hangs past the pipe; not decided where more may."""
    try:
        found = line(context)
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    pipe = found.of(subject)
    outlets = tuple(outlets_past(found, pipe))
    alone = [each.type for each in outlets] == ["generator"]
    more = may_have_more(found, pipe) or bool(found.unnamed)
    return Derived(one_of((True, False)) if more and len(outlets) < _TWO else exactly(alone))


def piped_gas(context: Context, subject: Subject, _name: str) -> Derived:
    """The gas that the sets past the pipe burn; either where they burn none, or not one and the same."""
    either = one_of((NATURAL_GAS, PROPANE))
    try:
        found = line(context)
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    sets = [found.sets[each.end] for each in found.past(found.of(subject)) if each.end in found.sets]
    gases = {str(atom) for each in sets for atom in context.read(each, "fuel").atoms} & {NATURAL_GAS, PROPANE}
    return Derived(one_of(gases) if gases else either)


def outlets_past(found: Line, pipe: Pipe) -> Iterator[Subject]:
    """The sets and appliances that hang at the ends of this piece and of those past it."""
    for each in found.past(pipe):
        if each.end in found.sets:
            yield found.sets[each.end]
        yield from found.appliances.get(each.end, ())


def may_have_more(found: Line, pipe: Pipe) -> bool:
    """Whether more may hang past a piece than is listed."""
    return not found.all_pipes or any(found.is_open(each) for each in found.past(pipe))


def _not_one(context: Context, outlets: Iterable[Subject]) -> str:
    """Why what one of them burns cannot be said; empty where all can."""
    found = (reason for each in outlets for reason in context.read(each, "gas_demand").undefined)
    return next(iter(sorted(found)), "")


@dataclass(frozen=True, slots=True)
class _Flow:
    """Cubic feet in an hour, with the worksheet where heat was turned into them."""

    ends: Ends
    worksheet: Worksheet | None = None


def _flow(context: Context, subject: Subject, name: str, gas: str, heat: str) -> _Flow:
    """From what is given in cubic feet and as heat. Of two ways of saying one thing the other is not asked for."""
    if context.site.stated(subject, heat) is None and _is_exact(context, subject, gas):
        return _Flow(ends_of(context.read(subject, gas)))
    warmth = context.known(subject, heat)
    value = context.known(SITE, "heating_value")
    by_heat = _by_heat(warmth, value)
    sheet = _sheet_of_heat(context, subject, name, warmth, value, by_heat)
    if context.site.stated(subject, gas) is None and by_heat.least == by_heat.most:
        return _Flow(by_heat, sheet)
    told = context.read(subject, gas)
    both = agreed(ANYTHING if told.absent else ends_of(told), by_heat)
    if both is None:
        raise OutsideLimits(
            f"{subject}: the gas in cubic feet and the heat input are not one and the same with the heat of this gas; "
            "write the heat input alone"
        )
    return _Flow(both, sheet)


def _is_exact(context: Context, subject: Subject, name: str) -> bool:
    stated = context.site.stated(subject, name)
    return stated is not None and stated.value.number is not None


def _by_heat(warmth: Known, value: Known) -> Ends:
    """Heat over the heat in a cubic foot."""
    heat, each = ends_of(warmth.value), ends_of(value.value)
    if warmth.value.absent:
        return ANYTHING
    least = _at(heat.least, each.most) if each.most else NOTHING
    return Ends(least, _at(heat.most, each.least) if heat.most is not None and each.least else None)


def _at(heat: Fraction, value: Fraction) -> Fraction:
    return GAS_FLOW.at({"heat_rate": heat, "heating_value": value})


def _sheet_of_heat(
    context: Context, subject: Subject, name: str, warmth: Known, value: Known, found: Ends
) -> Worksheet | None:
    if warmth.value.number is None or value.value.number is None:
        return None
    fact = context.catalog.facts["heating_value"]
    heat = number_text(warmth.value, "heat_rate", warmth.unit)
    flow = number_text(found.value, "gas_flow", _UNIT)
    lines = (
        SheetLine("1", "heat input", "", heat, "", source_text(warmth)),
        SheetLine("2", fact.title, "", value_text(fact, value.value, value.unit), "", source_text(value)),
        SheetLine("a", "gas", f"{GAS_FLOW.formula} = 1 / 2", flow, "", GAS_FLOW.source),
    )
    return Worksheet(f"{subject.id}.{name}", GAS_FLOW.title, subject.id, lines, GAS_FLOW.limits)


def _sheet_of_sum(
    context: Context, subject: Subject, outlets: Iterable[Subject], asked: Ends, *, closed: bool
) -> Worksheet:
    lines = [
        SheetLine(str(place), _name_of(context, each), "", _amount(context, each), "", _where(context, each))
        for place, each in enumerate(outlets, start=1)
    ]
    how = " + ".join(each.letter for each in lines) or "nothing connected"
    lines.append(SheetLine("a", "gas that is asked for", how, number_text(asked.value, "gas_flow", _UNIT), "", ""))
    open_end = () if closed else ("The lists of gas pipes and appliances are not said to be complete.",)
    return Worksheet(
        f"{subject.id}.gas_demand",
        "Gas demand",
        subject.id,
        tuple(lines),
        "All inputs added.",
        (_NO_DIVERSITY, *open_end),
    )


def _amount(context: Context, outlet: Subject) -> str:
    known = context.known(outlet, "gas_demand")
    return number_text(known.value, "gas_flow", known.unit or _UNIT)


def _where(context: Context, outlet: Subject) -> str:
    """Where the gas of an outlet is given."""
    names = [f"{each}.{NATURAL_GAS}" for each in _OF_SETS] if outlet.type == "generator" else _OF_APPLIANCES
    for name in names:
        stated = context.site.stated(outlet, name)
        if stated is not None:
            return f"{stated.per}, {stated.at}" if stated.per else str(stated.at)
    return "not shown"


def _name_of(context: Context, outlet: Subject) -> str:
    if outlet.type == "generator":
        return f"{outlet.id} at full load"
    name = context.read(outlet, "name").atom
    return outlet.id if name is None else str(name)
