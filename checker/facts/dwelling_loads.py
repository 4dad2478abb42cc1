"""The load that one dwelling puts on a set which feeds it whole, worked out from the floor area and the loads."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.loads.dwelling import OPTIONAL_LOAD, Appliance, Dwelling, Heating, OptionalCase
from checker.engineering.worked import Step, Worked, letters
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived
from checker.facts.known import Known
from checker.facts.load_numbers import optional_numbers
from checker.site.model import SITE, Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between, exactly, undefined
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

READS = (
    *("occupancy", "floor_area", "small_appliance_circuits", "laundry_circuits"),
    *("load_kind", "load_power", "own_controls", "with_compressor", "at"),
    *("operation", "rated_current", "system", "name"),
)

_NOTHING = Fraction(0)
_OF_THE_HOUSE = ("floor_area", "small_appliance_circuits", "laundry_circuits")


@dataclass(frozen=True, slots=True)
class Load:
    """One load as far as it is known; a kind that is None is not decided."""

    subject: Subject
    kind: str | None
    power: Known
    controls: Possible
    with_compressor: Possible
    is_here: Truth


@dataclass(frozen=True, slots=True)
class House:
    """What is known of the dwelling: its figures by fact, its loads, and whether those are all."""

    figures: dict[str, Known]
    loads: tuple[Load, ...]
    complete: bool


def automatic_load(context: Context, subject: Subject, name: str) -> Derived:
    """Current of the optional calculation at the voltage of the set, between what is surely there and what may be.

    The optional calculation rises with the floor area, with every circuit and every rating, and with each load that is
    added. So its least is that of what is surely there at its least, and its greatest that of all that may be there;
    while the list of loads is open there is no greatest.
    """
    reason = _why_not(context, subject)
    if reason:
        return Derived(undefined(reason), reasons=(reason,))
    voltage = context.known(subject, "system.voltage")
    rating = _least_rating(context, subject)
    house = _house(context, subject)
    try:
        numbers = optional_numbers(context.numbers)
        least = OPTIONAL_LOAD(OptionalCase(dwelling_at(house, upper=False), rating, numbers))
        most = OPTIONAL_LOAD(OptionalCase(dwelling_at(house, upper=True), rating, numbers)) if has_end(house) else None
    except OutsideLimits as limit:
        return Derived(undefined(str(limit)), reasons=(str(limit),))
    volts = voltage.value.number
    if volts is None or volts <= 0:
        return Derived(between(_NOTHING, None))
    value = between(rounded(least.value / volts), None if most is None else rounded(most.value / volts))
    sheet = _worksheet(context, subject, name, house, least, most, voltage)
    return Derived(value, worksheet=sheet)


# --- whether it is the load of the set -------------------------------------------------------------------------------


def _why_not(context: Context, subject: Subject) -> str:
    """Why this calculation is not the load of the set; empty where it is."""
    if context.read(SITE, "occupancy") != exactly("one_family_dwelling"):
        return "the load is worked out for one dwelling only; elsewhere it has to be stated"
    drawing = context.drawing
    switches = drawing.switches_fed(subject.id)
    automatic = (relate("is", context.read(drawing.pieces[tag], "operation"), exactly("automatic")) for tag in switches)
    if not switches or all_of(automatic) is not Truth.YES:
        return f"{subject} does not feed the dwelling by automatic switches alone; its load has to be stated"
    boards = drawing.of("board")
    reached = drawing.fed_in_any_way(subject.id)
    if not boards or any(tag not in reached for tag in boards):
        return f"{subject} feeds only a part of the dwelling; the load of that part has to be stated"
    return ""


def _least_rating(context: Context, subject: Subject) -> Fraction:
    """The smallest rating that the switches to the dwelling have for sure, in amperes."""
    pieces = context.drawing.pieces
    hulls = [context.read(pieces[tag], "rated_current").hull for tag in context.drawing.switches_fed(subject.id)]
    return min((hull.low or _NOTHING if hull is not None else _NOTHING for hull in hulls), default=_NOTHING)


# --- what is known of the dwelling -----------------------------------------------------------------------------------


def _house(context: Context, subject: Subject) -> House:
    listed = context.members("loads")
    figures = {name: context.known(SITE, name) for name in _OF_THE_HOUSE}
    return House(figures, tuple(_load(context, subject, each) for each in listed.members), listed.complete)


def _load(context: Context, source: Subject, load: Subject) -> Load:
    kind = context.read(load, "load_kind").atom
    at = context.read(load, "at").atom
    reached = context.drawing.fed_in_any_way(source.id)
    here = Truth.UNKNOWN if at is None else Truth.YES if at in reached else Truth.NO
    return Load(
        load,
        None if kind is None else str(kind),
        context.known(load, "load_power"),
        context.read(load, "own_controls"),
        context.read(load, "with_compressor"),
        here,
    )


def has_end(house: House) -> bool:
    """Whether nothing that can be added is without an end."""
    known = [each for each in house.loads if each.is_here is not Truth.NO]
    return (
        house.complete
        and all(each.kind is not None and _end(each.power.value, upper=True) is not None for each in known)
        and all(_end(figure.value, upper=True) is not None for figure in house.figures.values())
    )


def dwelling_at(house: House, *, upper: bool) -> Dwelling:
    """The dwelling at its least, or at its most where that has an end."""
    here = (Truth.YES, Truth.UNKNOWN) if upper else (Truth.YES,)
    loads = [each for each in house.loads if each.is_here in here and each.kind is not None]
    figures = {name: _end(figure.value, upper=upper) or _NOTHING for name, figure in house.figures.items()}

    def of(kind: str) -> tuple[Fraction, ...]:
        return tuple(_end(each.power.value, upper=upper) or _NOTHING for each in loads if each.kind == kind)

    return Dwelling(
        area=figures["floor_area"],
        small_appliance_circuits=int(figures["small_appliance_circuits"]),
        laundry_circuits=int(figures["laundry_circuits"]),
        appliances=tuple(Appliance("appliance", rating) for rating in of("appliance")),
        ranges=of("cooking"),
        dryers=of("dryer"),
        vehicles=of("vehicle_supply"),
        heating=Heating(
            cooling=sum(of("cooling"), _NOTHING),
            heat_pump=sum(of("heat_pump"), _NOTHING),
            supplementary=sum(of("supplementary_heat"), _NOTHING),
            with_compressor=_together(loads, upper=upper),
            heat=sum(of("heat"), _NOTHING),
            separately_controlled=_controls(loads, upper=upper) if upper or _is_settled(house) else _MANY,
            storage_heat=sum(of("storage_heat"), _NOTHING),
        ),
    )


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    """The end of what is possible, zero where it may be absent and nothing else is below."""
    if value.only_absent:
        return _NOTHING
    hull = value.hull
    end = None if hull is None else hull.high if upper else hull.low
    return _NOTHING if value.absent and not upper else end


def _together(loads: Sequence[Load], *, upper: bool) -> bool:
    """Whether strip heat runs with the compressor; where that is not known, at the most it does."""
    strips = [each for each in loads if each.kind == "supplementary_heat"]
    answers = [relate("is", each.with_compressor, exactly(True)) for each in strips]
    return any(answer is Truth.YES or (upper and answer is Truth.UNKNOWN) for answer in answers)


def _is_settled(house: House) -> bool:
    """Whether no load can be added: one heater more can let all of them count less."""
    return house.complete and all(each.kind is not None and each.is_here is not Truth.UNKNOWN for each in house.loads)


def _controls(loads: Sequence[Load], *, upper: bool) -> int:
    """Heaters with controls of their own. More of them count less, so that the most load has the fewest."""
    heaters = [each for each in loads if each.kind == "heat"]
    counts = [_end(each.controls, upper=not upper) for each in heaters]
    if any(count is None for count in counts):
        return _MANY
    return sum(int(count) for count in counts if count is not None)


_MANY = 10**6
"""Stands for a number of heaters that has no known end: many by any edition."""


# --- worksheet -------------------------------------------------------------------------------------------------------


_OPEN = "The list of loads is not said to be complete, so that there is no upper end."


def _worksheet(
    context: Context, subject: Subject, name: str, house: House, least: Worked, most: Worked | None, voltage: Known
) -> Worksheet:
    """What was given with its place, the steps at the least, those at the most where they differ, and the current."""
    lines = [*_given(context, house, voltage)]
    same = most is not None and most.steps == least.steps
    lines += [_step("" if same else "least: ", each, "") for each in least.steps]
    if most is not None and not same:
        lines += [_step("most: ", each, "m") for each in most.steps]
    volts = value_text(context.catalog.facts["system.voltage"], voltage.value, voltage.unit)
    ends = [least] if same or most is None else [least, most]
    amperes = " to ".join(_amount(each.value / (voltage.value.number or 1)) for each in ends)
    at_least = "at least " if most is None else ""
    lines.append(
        Line(letters(len(least.steps)), "current", f"calculated load / {volts}", f"{at_least}{amperes} A", "", "")
    )
    assumptions = () if house.complete else (_OPEN,)
    return Worksheet(
        f"{subject.id}.{name}", OPTIONAL_LOAD.title, subject.id, tuple(lines), OPTIONAL_LOAD.limits, assumptions
    )


def _given(context: Context, house: House, voltage: Known) -> Iterator[Line]:
    facts = context.catalog.facts
    here = [each for each in house.loads if each.is_here is not Truth.NO]
    rows = [
        *((facts[name].title, "", name, figure) for name, figure in house.figures.items()),
        *((*_words_of(context, each), "load_power", each.power) for each in here),
        ("voltage of the set", "", "system.voltage", voltage),
    ]
    for place, (title, kind, name, known) in enumerate(rows, start=1):
        yield Line(str(place), title, kind, value_text(facts[name], known.value, known.unit), "", source_text(known))


def _words_of(context: Context, load: Load) -> tuple[str, str]:
    """The name of a load and its kind; the kind alone where it has no name."""
    name = context.read(load.subject, "name").atom
    kind = context.catalog.facts["load_kind"].choices.get(load.kind or "", "kind not shown")
    return (str(name), kind) if name else (kind, "")


def _step(before: str, step: Step, mark: str) -> Line:
    return Line(
        f"{step.letter}{mark}", f"{before}{step.quantity}", step.how, _amount(step.value), step.unit, step.source
    )


def _amount(value: Fraction) -> str:
    return f"{float(value):,.2f}".rstrip("0").rstrip(".")
