"""What a piece of gas pipe carries, by the longest-length and by the branch-length method, and the size that would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.fuel.pipe_sizing import Sizing
from checker.engineering.worked import letters
from checker.engineering.worksheet import Line as SheetLine
from checker.engineering.worksheet import Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.facts.fuel.burnt import MEASURES, Measure
from checker.facts.fuel.ends import Ends, ends_of, longest, total
from checker.facts.fuel.hanging import may_have_more
from checker.facts.fuel.line import READS as OF_THE_LINE
from checker.facts.fuel.line import Line, Pipe, line
from checker.facts.fuel.numbers import COPPER, CSST, STEEL, Pressures, sizing
from checker.facts.known import Known, Origin
from checker.facts.two_ends import amount
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between, exactly, number
from checker.values.quantities import show

LENGTH_READS = OF_THE_LINE
READS = (
    *OF_THE_LINE,
    *("pipe_size", "pipe_material", "flow_designation", "gas_pressure", "design_pressure_loss"),
    *("longest_length", "branch_length", "gas_demand", "heat_demand", "piped_gas"),
)
SIZE_READS = READS

_SIZES = {STEEL: "pipe_size", CSST: "flow_designation", COPPER: "pipe_size"}
_METHODS = {"longest_length": "longest-length method", "branch_length": "branch-length method"}
_LIMITS = "Longest-length and branch-length method; a printed table goes before the equation, and the smaller counts."

_Gives = Callable[[Sizing, Fraction], Fraction]
"""A number from what answers and a length."""


def length_by_longest(context: Context, subject: Subject, name: str) -> Derived:
    """From the meter, tank or regulator to the most remote end of all pipe that leaves it."""
    return _length(context, subject, name, lambda found, pipe: found.first(pipe))


def length_by_branch(context: Context, subject: Subject, name: str) -> Derived:
    """From the meter, tank or regulator to the most remote end past this piece."""
    return _length(context, subject, name, lambda _, pipe: iter((pipe,)))


def capacity_by(method: str, measure: Measure) -> Work:
    """The work for one of the two methods and one gas; what is carried falls with the length, rises with the loss."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        given = _given(context, subject, method, measure)
        if isinstance(given, str):
            return no_answer(given)
        size = given.size.value.number
        if size is None:
            return Derived(between(0, None), unit=measure.unit)
        try:
            value = _at_both_ends(given, lambda answer, length: answer.capacity(size, length), falls=True)
        except OutsideLimits as limit:
            return no_answer(str(limit))
        # Of the gas that is not piped nobody wants to see a calculation.
        other = context.read(subject, "piped_gas").atom not in (None, measure.gas)
        sheet = None if other else _sheet(context, subject, name, given, size)
        return Derived(value, unit=measure.unit, worksheet=sheet)

    return work


def size_that_carries(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest nominal size of steel pipe, whatever is there, that carries the demand over the longest length."""
    measure = MEASURES.get(str(context.read(subject, "piped_gas").atom))
    if measure is None:
        return Derived(between(0, None), unit="in")
    given = _given(context, subject, "longest_length", measure)
    if isinstance(given, str):
        return no_answer(given)
    steel = replace(given, material=Known(exactly(STEEL), Origin.DERIVED, frozenset()))
    demand = context.known(subject, measure.demand)
    try:
        value = _sizes(steel, ends_of(demand.value))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(value, unit="in", worksheet=_size_sheet(context, subject, name, steel, demand, value))


# --- lengths ---------------------------------------------------------------------------------------------------------


def _length(context: Context, subject: Subject, name: str, begin: Callable[[Line, Pipe], Iterator[Pipe]]) -> Derived:
    try:
        found = line(context)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    pipe = found.of(subject)
    begins = tuple(begin(found, pipe))
    runs = [found.run(end) for each in begins for end in found.ends_past(each)]
    ends = longest(total(piece.length for piece in run) for run in runs)
    if any(may_have_more(found, each) for each in begins):
        ends = Ends(ends.least, None)
    return Derived(ends.value, unit="ft", worksheet=_length_sheet(context, subject, name, found, runs, ends))


def _length_sheet(
    context: Context, subject: Subject, name: str, found: Line, runs: list[tuple[Pipe, ...]], ends: Ends
) -> Worksheet | None:
    """Of a run of one piece there is nothing to add."""
    run = max(runs, key=lambda each: total(piece.length for piece in each).least)
    if len(run) == 1:
        return None
    lines = [
        SheetLine(
            str(place),
            f"{piece.places[0]} to {piece.places[1]}",
            "length with fittings",
            number_text(piece.length.value, "length", "ft"),
            "",
            source_text(context.known(piece.subject, "pipe_length")),
        )
        for place, piece in enumerate(run, start=1)
    ]
    how = " + ".join(each.letter for each in lines)
    lines.append(SheetLine("a", "length", how, number_text(ends.value, "length", "ft"), "", ""))
    assumed = () if found.all_pipes else ("The list of gas pipes is not said to be complete.",)
    return Worksheet(
        f"{subject.id}.length", "Length of gas pipe", subject.id, tuple(lines), "Fittings counted.", assumed
    )


# --- capacities ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Given:
    """What a capacity rests on, each as far as it is known."""

    context: Context
    method: str
    measure: Measure
    size: Known
    material: Known
    pressure: Known
    drop: Known
    length: Known

    def answer(self, inlet: Fraction, drop: Fraction) -> Sizing:
        """What answers at these pressures; OutsideLimits where nothing does."""
        material = str(self.material.value.atom)
        return sizing(self.context.numbers, self.measure.gas, material, Pressures(inlet, drop))


def _given(context: Context, subject: Subject, method: str, measure: Measure) -> _Given | str:
    """What a capacity rests on; a sentence where the line itself does not hang together."""
    try:
        found = line(context)
        source = found.source(found.of(subject))
    except OutsideLimits as limit:
        return str(limit)
    if source is None:
        return f"it is not shown at which meter, tank or regulator the line of {subject} begins"
    material = context.known(subject, "pipe_material")
    return _Given(
        context,
        method,
        measure,
        context.known(subject, _SIZES.get(str(material.value.atom), "pipe_size")),
        material,
        context.known(source, "gas_pressure"),
        context.known(source, "design_pressure_loss"),
        context.known(subject, method),
    )


def _at_both_ends(given: _Given, gives: _Gives, *, falls: bool) -> Possible:
    """What is possible between the ends of length and loss; a number that falls with the length, or rises with it."""
    short, long = _corner(given, gives, worst=False), _corner(given, gives, worst=True)
    if isinstance(short, OutsideLimits) and isinstance(long, OutsideLimits):
        raise long
    low, high = (long, short) if falls else (short, long)
    least = low if isinstance(low, Fraction) else Fraction(0)
    return between(rounded(least), rounded(high) if isinstance(high, Fraction) else None)


def _corner(given: _Given, gives: _Gives, *, worst: bool) -> Fraction | OutsideLimits | None:
    """One corner: long and with little to lose, or short and with much; None where it has no end."""
    if given.material.value.atom is None:
        return None
    drop, length = ends_of(given.drop.value), ends_of(given.length.value)
    lost, over = (drop.least, length.most) if worst else (drop.most, length.least)
    if over is None:
        return None
    try:
        found = {gives(answer, over) for answer in _answers(given, lost)}
    except OutsideLimits as limit:
        return limit
    return found.pop() if len(found) == 1 else None


def _answers(given: _Given, lost: Fraction | None) -> list[Sizing]:
    """What answers at both ends of the gas pressure; nothing where an end is missing."""
    inlet = ends_of(given.pressure.value)
    if lost is None or inlet.most is None:
        return []
    return [given.answer(inlet.least, lost), given.answer(inlet.most, lost)]


def _sizes(given: _Given, demand: Ends) -> Possible:
    """The smallest size for the least that is asked over the shortest length, up to that for the most."""
    least = _corner(given, lambda answer, length: answer.smallest(demand.least, length), worst=False)
    if isinstance(least, OutsideLimits):
        raise least
    most = None
    if demand.most is not None:
        asked = demand.most
        most = _corner(given, lambda answer, length: answer.smallest(asked, length), worst=True)
    low = Fraction(0) if least is None else least
    if isinstance(most, Fraction) and most == low:
        return number(low)
    return between(low, most if isinstance(most, Fraction) else None)


def _sheet(context: Context, subject: Subject, name: str, given: _Given, size: Fraction) -> Worksheet | None:
    """The steps at the length that is known at least, which is the most that the pipe can carry."""
    length, drop, inlet = (ends_of(each.value) for each in (given.length, given.drop, given.pressure))
    if drop.most is None or inlet.most is None or length.least <= 0:
        return None
    try:
        worked = given.answer(inlet.most, drop.most).worked(size, length.least)
    except OutsideLimits:
        return None
    facts = context.catalog.facts
    rows = (
        ("pipe_material", given.material),
        (_SIZES[str(given.material.value.atom)], given.size),
        ("gas_pressure", given.pressure),
        ("design_pressure_loss", given.drop),
    )
    lines = [
        SheetLine(
            str(place), facts[fact].title, "", value_text(facts[fact], known.value, known.unit), "", source_text(known)
        )
        for place, (fact, known) in enumerate(rows, start=1)
    ]
    lines.append(_length_line(context, subject, given, len(lines) + 1))
    lines += [
        SheetLine(step.letter, step.quantity, step.how, amount(step.value), step.unit, step.source)
        for step in worked.steps
    ]
    title = f"Capacity of gas pipe, {_METHODS[given.method]}"
    return Worksheet(f"{subject.id}.{name}", title, subject.id, tuple(lines), _LIMITS, worked.assumptions)


def _size_sheet(
    context: Context, subject: Subject, name: str, given: _Given, demand: Known, value: Possible
) -> Worksheet | None:
    """Every size up to the one that carries what is asked; only where all of it is known."""
    length, drop, inlet = (each.value.number for each in (given.length, given.drop, given.pressure))
    if value.number is None or demand.value.number is None or length is None or drop is None or inlet is None:
        return None
    answer, measure = given.answer(inlet, drop), given.measure
    facts = context.catalog.facts
    asked = value_text(facts[measure.demand], demand.value, demand.unit)
    lines = [
        SheetLine("1", facts[measure.demand].title, "", asked, "", source_text(demand)),
        _length_line(context, subject, given, 2),
    ]
    for size in (each for each in answer.sizes if each <= value.number):
        carries = rounded(answer.capacity(size, length))
        does = "carries it" if carries >= demand.value.number else "too small"
        shown = number_text(number(carries), measure.quantity, measure.unit)
        lines.append(SheetLine(letters(len(lines) - 2), show(size, "length", "in"), does, shown, "", ""))
    title = "Smallest size of steel pipe"
    return Worksheet(f"{subject.id}.{name}", title, subject.id, tuple(lines), _LIMITS)


def _length_line(context: Context, subject: Subject, given: _Given, place: int) -> SheetLine:
    """The length, where one piece is the whole run with the place at which it stands."""
    fact, own = context.catalog.facts[given.method], context.known(subject, "pipe_length")
    source = source_text(own) if own.value == given.length.value else "the run of pipe, added up"
    return SheetLine(str(place), fact.title, "", value_text(fact, given.length.value, given.length.unit), "", source)
