"""What a set or an appliance burns at full input: natural gas in cubic feet, propane as heat."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.gas_demand import GAS_FLOW
from checker.engineering.worksheet import Line as SheetLine
from checker.engineering.worksheet import Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.facts.fuel.ends import ANYTHING, NONE_AT_ALL, NOTHING, Ends, agreed, ends_of, perhaps
from checker.facts.fuel.numbers import NATURAL_GAS, PROPANE
from checker.facts.known import Known
from checker.site.model import SITE, Subject
from checker.values.possible import exactly
from checker.values.relations import relate
from checker.values.truth import Truth

OF_A_SET = ("fuel", "full_load_gas", "full_load_heat", "heating_value")
OF_AN_APPLIANCE = ("appliance_gas", "appliance_heat", "heating_value")

_GAS_OF_SETS, _HEAT_OF_SETS = "full_load_gas", "full_load_heat"
_GAS_OF_APPLIANCES, _HEAT_OF_APPLIANCES = "appliance_gas", "appliance_heat"


@dataclass(frozen=True, slots=True)
class Measure:
    """How one gas is counted: the fact of the sum, its kind of quantity and unit."""

    gas: str
    demand: str
    quantity: str
    unit: str

    def given(self, outlet: Subject) -> tuple[str, str]:
        """The facts that give what an outlet burns: in this measure, and in the other one."""
        is_set = outlet.type == "generator"
        gas = f"{_GAS_OF_SETS}.{self.gas}" if is_set else _GAS_OF_APPLIANCES
        heat = f"{_HEAT_OF_SETS}.{self.gas}" if is_set else _HEAT_OF_APPLIANCES
        return (gas, heat) if self.gas == NATURAL_GAS else (heat, gas)

    def turned(self, amount: Ends, value: Ends) -> Ends:
        """The other measure in this one: heat over the heat in a cubic foot, or cubic feet times it."""
        if self.gas == PROPANE:
            most = None if amount.most is None or value.most is None else amount.most * value.most
            return Ends(amount.least * value.least, most)
        least = _flow(amount.least, value.most) if value.most else NOTHING
        return Ends(least, _flow(amount.most, value.least) if amount.most is not None and value.least else None)

    @property
    def formula(self) -> str:
        """How the other measure is turned into this one."""
        return f"{GAS_FLOW.formula} = 1 / 2" if self.gas == NATURAL_GAS else "H = Q h = 1 x 2"


MEASURES = {
    NATURAL_GAS: Measure(NATURAL_GAS, "gas_demand", "gas_flow", "ft3/h"),
    PROPANE: Measure(PROPANE, "heat_demand", "heat_rate", "kBTU/h"),
}


def burnt_by_a_set(measure: Measure) -> Work:
    """What a set burns at full load, as its data sheet gives it; nothing on another fuel."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        burns = relate("is", context.read(subject, "fuel"), exactly(measure.gas))
        if burns is Truth.NO:
            return Derived(NONE_AT_ALL.value, unit=measure.unit)
        return _burnt(context, subject, name, measure, perhaps_none=burns is not Truth.YES)

    return work


def burnt_by_an_appliance(measure: Measure) -> Work:
    """What an appliance burns at full input, as its nameplate gives it."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        return _burnt(context, subject, name, measure, perhaps_none=False)

    return work


def where_given(context: Context, outlet: Subject, measure: Measure) -> str:
    """Where it is given what an outlet burns."""
    for name in measure.given(outlet):
        stated = context.site.stated(outlet, name)
        if stated is not None:
            return f"{stated.per}, {stated.at}" if stated.per else str(stated.at)
    return "not shown"


def _burnt(context: Context, subject: Subject, name: str, measure: Measure, *, perhaps_none: bool) -> Derived:
    try:
        ends, sheet = _given(context, subject, name, measure)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived((perhaps(ends) if perhaps_none else ends).value, unit=measure.unit, worksheet=sheet)


def _given(context: Context, subject: Subject, name: str, measure: Measure) -> tuple[Ends, Worksheet | None]:
    """From what is given in one measure and in the other; of two ways of saying one thing one is enough."""
    own, other = measure.given(subject)
    if context.site.stated(subject, other) is None and _is_exact(context, subject, own):
        return ends_of(context.read(subject, own)), None
    amount, value = context.known(subject, other), context.known(SITE, "heating_value")
    turned = ANYTHING if amount.value.absent else measure.turned(ends_of(amount.value), ends_of(value.value))
    sheet = _sheet(context, subject, name, measure, amount, value, turned)
    if context.site.stated(subject, own) is None and turned.least == turned.most:
        return turned, sheet
    told = context.read(subject, own)
    both = agreed(ANYTHING if told.absent else ends_of(told), turned)
    if both is None:
        raise OutsideLimits(
            f"{subject}: the gas in cubic feet and the heat input are not one and the same with the heat of this gas; "
            "write the heat input alone"
        )
    return both, sheet


def _is_exact(context: Context, subject: Subject, name: str) -> bool:
    stated = context.site.stated(subject, name)
    return stated is not None and stated.value.number is not None


def _flow(heat: Fraction, value: Fraction) -> Fraction:
    return GAS_FLOW.at({"heat_rate": heat, "heating_value": value})


def _sheet(
    context: Context, subject: Subject, name: str, measure: Measure, amount: Known, value: Known, turned: Ends
) -> Worksheet | None:
    if amount.value.number is None or value.value.number is None:
        return None
    facts = context.catalog.facts
    given, per_foot = facts[measure.given(subject)[1]], facts["heating_value"]
    found = number_text(turned.value, measure.quantity, measure.unit)
    lines = (
        SheetLine("1", given.title, "", value_text(given, amount.value, amount.unit), "", source_text(amount)),
        SheetLine("2", per_foot.title, "", value_text(per_foot, value.value, value.unit), "", source_text(value)),
        SheetLine("a", facts[measure.demand].title, measure.formula, found, "", GAS_FLOW.source),
    )
    return Worksheet(f"{subject.id}.{name}", GAS_FLOW.title, subject.id, lines, GAS_FLOW.limits)
