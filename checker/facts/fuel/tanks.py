"""What a tank gives: vapor of propane, and hours at full load."""

from __future__ import annotations

from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.propane import VAPORIZATION, FactorRow, Tank, VaporizationFactors
from checker.engineering.fuel.running_time import LIQUID_RUNNING_TIME, PROPANE_RUNNING_TIME, TANK_VOLUME
from checker.engineering.worked import Worked, letters
from checker.engineering.worksheet import Line as SheetLine
from checker.engineering.worksheet import Worksheet
from checker.facts.calculated import calculated, source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.fuel.ends import Ends, ends_of, total
from checker.facts.fuel.line import READS as OF_THE_LINE
from checker.facts.fuel.line import line
from checker.facts.fuel.numbers import PROPANE
from checker.facts.known import Known
from checker.facts.numbers import number_in_force, rows_in_force
from checker.facts.two_ends import amount
from checker.site.model import SITE, Subject
from checker.values.arithmetic import product_of, where_absent
from checker.values.possible import Possible, between, exactly, number
from checker.values.relations import relate
from checker.values.truth import Truth

BY_FILL, BY_TEMPERATURE = "propane-vaporization-by-fill", "propane-vaporization-by-temperature"
GALLON = "heat-in-a-gallon-of-propane"
NUMBERS = (BY_FILL, BY_TEMPERATURE, GALLON)

OF_ITS_SET = ("fuel", "classes", "class_hours")
CLASS_READS = ("of", "class_hours", "full_load_fuel")
DEMAND_READS = ("of", "heat_demand", *OF_THE_LINE)
_JOINED = "tanks_joined"
VAPOR_READS = ("tank_diameter", "tank_length", "least_fill", "tank_buried", "coldest_day", _JOINED)
TIME_READS = ("of", "fuel", "usable_fuel", "full_load_fuel", "heat_demand")

AT_ITS_LOAD_READS = ("of", "fuel", "usable_fuel", "fuel_at_its_load")

_VAPOR_UNIT = "kBTU/h"
LENGTHS = ("tank_diameter", "tank_length")
_BURIED = "a buried tank lives on the warmth of the ground; the supplier of the gas has to say what it gives"


def of_its_set(context: Context, subject: Subject, name: str) -> Derived:
    """The same fact of the set that lives on the tank."""
    owner = _set(context, subject)
    if owner is None:
        return _no_set(subject)
    found = context.known(owner, name)
    return Derived(found.value, unit=found.unit, reasons=found.reasons)


def fuel_for_the_class(context: Context, subject: Subject, name: str) -> Derived:
    """V = r t: what the set burns at full load in the time that it must run; no figure where no class is set."""
    owner = _set(context, subject)
    if owner is None:
        return _no_set(subject)
    hours = context.known(owner, "class_hours")
    if hours.value.only_absent:
        reason = f"no class is set for {owner}"
        return no_answer(reason)
    rate = context.known(owner, "full_load_fuel")
    given = {"fuel_rate": rate.value, "duration": hours.value, "sets": number(1), "factor": number(1)}
    value = TANK_VOLUME.over(given)
    facts = context.catalog.facts
    lines = (
        *(
            SheetLine(
                place, facts[fact].title, "", value_text(facts[fact], known.value, known.unit), "", source_text(known)
            )
            for place, fact, known in (("1", "full_load_fuel", rate), ("2", "class_hours", hours))
        ),
        SheetLine("a", facts[name].title, "1 x 2", value_text(facts[name], value, "gal"), "", TANK_VOLUME.source),
    )
    sheet = Worksheet(f"{subject.id}.{name}", TANK_VOLUME.title, subject.id, lines, "At full load.")
    return Derived(value, unit="gal", worksheet=sheet, reasons=value.undefined)


def asked_of_a_tank(context: Context, subject: Subject, _name: str) -> Derived:
    """Everything on the gas line that starts at the tank; without such a line its set, and whatever else there is."""
    owner = _set(context, subject)
    if owner is None:
        return _no_set(subject)
    try:
        first = [pipe for pipe in line(context).pipes if pipe.start == subject.id.casefold()]
    except OutsideLimits as limit:
        return no_answer(str(limit))
    if not first:
        return Derived(Ends(ends_of(context.read(owner, "heat_demand")).least, None).value, unit=_VAPOR_UNIT)
    asked = total(ends_of(context.read(pipe.subject, "heat_demand")) for pipe in first)
    return Derived(asked.value, unit=_VAPOR_UNIT)


def vapor_rate(context: Context, subject: Subject, name: str) -> Derived:
    """What the tank gives at its least fill on the coldest day; it rises with size, fill and warmth."""
    buried = relate("is", context.read(subject, "tank_buried"), exactly(True))
    if buried is Truth.YES:
        return no_answer(_BURIED)
    rows = [
        *((each, context.known(subject, each)) for each in (*LENGTHS, "least_fill")),
        ("coldest_day", context.known(SITE, "coldest_day")),
    ]
    try:
        factors = factors_in_force(context)
        low, high = (vapor_at([known.value for _, known in rows], factors, upper=upper) for upper in (False, True))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    if buried is Truth.UNKNOWN:
        return Derived(between(0, None), unit=_VAPOR_UNIT)
    of_one = between(Fraction(0) if low is None else low.value, None if high is None else high.value)
    joined = where_absent(context.read(subject, _JOINED), Fraction(1))
    sheet = None if low is None or low != high else _sheet(context, subject, name, rows, low)
    return Derived(product_of(of_one, joined), unit=_VAPOR_UNIT, worksheet=sheet)


def running_time(context: Context, subject: Subject, name: str) -> Derived:
    """Hours at full load: usable fuel over what the set burns."""
    owner = _set(context, subject)
    if owner is None:
        return _no_set(subject)
    fuel = context.read(owner, "fuel")
    if fuel.atom is None:
        return Derived(between(0, None), unit="h")
    if fuel.atom != PROPANE:
        terms = {"volume": (subject, "usable_fuel"), "fuel_rate": (owner, "full_load_fuel")}
        return _in_hours(calculated(context, LIQUID_RUNNING_TIME, subject, name, terms))
    return _on_propane(context, subject, owner)


def running_time_at_its_load(context: Context, subject: Subject, name: str) -> Derived:
    """Hours at the load that is put on the set: usable liquid fuel over what the set burns then."""
    owner = _set(context, subject)
    if owner is None:
        return _no_set(subject)
    burnt = context.read(owner, "fuel_at_its_load")
    if not burnt.spans:
        return Derived(burnt, reasons=burnt.undefined)
    terms = {"volume": (subject, "usable_fuel"), "fuel_rate": (owner, "fuel_at_its_load")}
    return _in_hours(calculated(context, LIQUID_RUNNING_TIME, subject, name, terms))


def _on_propane(context: Context, subject: Subject, owner: Subject) -> Derived:
    try:
        gallon = number_in_force(context.numbers, GALLON)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    given = {
        "volume": context.read(subject, "usable_fuel"),
        "usable": number(1),
        "heating_value": number(gallon),
        "heat_rate": context.read(owner, "heat_demand"),
    }
    value = PROPANE_RUNNING_TIME.over(given)
    return Derived(value, unit="h", reasons=value.undefined)


def _in_hours(found: Derived) -> Derived:
    return Derived(found.value, unit="h", worksheet=found.worksheet, reasons=found.reasons)


def _set(context: Context, subject: Subject) -> Subject | None:
    tag = context.read(subject, "of").atom
    piece = context.drawing.pieces.get(str(tag))
    return piece if piece is not None and piece.type == "generator" else None


def _no_set(subject: Subject) -> Derived:
    reason = f"{subject} is the tank of no set on the drawing"
    return no_answer(reason)


def factors_in_force(context: Context) -> VaporizationFactors:
    """The two lists of the trade rule that are in force."""
    return VaporizationFactors(
        tuple(_rows(context, BY_FILL, "fill")),
        tuple(_rows(context, BY_TEMPERATURE, "temperature")),
        "The trade rule of the propane handbooks",
    )


def _rows(context: Context, table: str, key: str) -> list[FactorRow]:
    found = [(row.keys[key].number, row.value.number) for row in rows_in_force(context.numbers, table)]
    return [FactorRow(at, factor) for at, factor in found if at is not None and factor is not None]


def vapor_at(given: list[Possible], factors: VaporizationFactors, *, upper: bool) -> Worked | None:
    """At one corner; None where an end is missing. Where all is known a limit is told, else it gives no bound."""
    ends = [_end(each, upper=upper) for each in given]
    known = [each for each in ends if each is not None]
    if len(known) < len(ends):
        return None
    try:
        diameter, length, fill, temperature = known
        return VAPORIZATION(Tank(diameter, length, fill, temperature, factors))
    except OutsideLimits:
        if all(each.number is not None for each in given):
            raise
        return None


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low


def _sheet(context: Context, subject: Subject, name: str, rows: list[tuple[str, Known]], worked: Worked) -> Worksheet:
    facts = context.catalog.facts
    lines = [
        SheetLine(
            str(place), facts[fact].title, "", value_text(facts[fact], known.value, known.unit), "", source_text(known)
        )
        for place, (fact, known) in enumerate(rows, start=1)
    ]
    lines += [
        SheetLine(each.letter, each.quantity, each.how, amount(each.value), each.unit, each.source)
        for each in worked.steps
    ]
    joined = context.known(subject, _JOINED)
    if joined.value.number is not None:
        last, words = worked.steps[-1], facts[_JOINED].title
        shown = value_text(facts[_JOINED], joined.value, joined.unit)
        lines.append(SheetLine(str(len(rows) + 1), words, "", shown, "", source_text(joined)))
        together = amount(worked.value * joined.value.number)
        how = f"{last.letter} x {len(rows) + 1}"
        lines.append(SheetLine(letters(len(worked.steps)), "vapor together", how, together, last.unit, ""))
    return Worksheet(f"{subject.id}.{name}", VAPORIZATION.title, subject.id, tuple(lines), VAPORIZATION.limits)
