"""What the drawing says of the conductors of a run and of where they lie, as far as it is known."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.terminals import TerminalNumbers, roof_adder, terminal_column
from checker.facts.conductors.numbers import (
    CableColumn,
    RoofNumbers,
    cable_column,
    insulation_temperatures,
    roof_numbers,
    terminal_numbers,
)
from checker.facts.derivation import Context
from checker.facts.known import Known
from checker.site.model import SITE, Subject
from checker.values.possible import EITHER_FLAG, Possible, Span, exactly
from checker.values.relations import relate
from checker.values.truth import Truth
from checker.values.wire_sizes import SIZES, WireSize

PHASE, NEUTRAL = "phase", "neutral_conductor"
SIZE, MATERIAL, SETS, INSULATION = "phase.size", "phase.material", "phase.parallel_sets", "phase.insulation"
WET, TERMINALS, DEVICE = "wet_location", "terminals", "overcurrent.rated_current"
AMBIENT, OUTDOORS, ROOF, TOGETHER, LENGTH = "ambient", "in_outdoor_air", "above_roof", "current_carrying", "length"
HOTTEST = "hottest_day"
_ALWAYS = (SIZE, MATERIAL, SETS, INSULATION, TERMINALS, AMBIENT, OUTDOORS, TOGETHER, LENGTH)

READS = (
    *(PHASE, "wet_location", "terminals", "overcurrent", "ambient", "in_outdoor_air", "above_roof"),
    *("current_carrying", "length", "hottest_day"),
)

_NOTHING = Fraction(0)
_ABOVE_EVERY_RATING = Fraction(10**9)
_OPEN = Span(None, None)
_NO_ADDER = Span(_NOTHING, _NOTHING)
MATERIALS = ("copper", "aluminum", "copper_clad_aluminum")
_YES = exactly(True)


@dataclass(frozen=True, slots=True)
class Run:
    """The conductors of a run: between which sizes, of which metals, temperatures of insulation and columns of
    terminals (°C) they can be, how many in parallel, and what lies around them; an end that is None is open.
    """

    sizes: Span
    materials: tuple[str, ...]
    insulations: tuple[Fraction, ...]
    columns: tuple[Fraction, ...]
    sets: Span
    ambient: Span
    roof: Span
    together: Span
    length: Span


def of_wire(name: str, wire: str) -> str:
    """The fact of another conductor of the run that this one of the phase conductors stands for; all else as it is."""
    whole, dot, part = name.partition(".")
    return f"{wire}{dot}{part}" if whole == PHASE else name


def not_shown(size: Possible) -> bool:
    """Whether nothing is said of a size."""
    return size.hull is None or size.hull.low is None


def facts_of(context: Context, run: Subject, wire: str = PHASE) -> Mapping[str, Known]:
    """What has to be known of a run, for its phase conductors or its neutral, which then stands in their place. What
    does not matter is not read, so that nobody is asked for it: the place where the insulation bears the same anywhere,
    the circuit where the terminals are marked, the roof in outdoor air off any roof, the hottest day where it bounds
    nothing.
    """
    facts = {name: context.known(run, of_wire(name, wire)) for name in _ALWAYS}
    if _depends_on_the_place(insulation_temperatures(context.numbers), facts[INSULATION].value):
        facts[WET] = context.known(run, WET)
    if _may_be_unmarked(facts[TERMINALS].value):
        facts[DEVICE] = context.known(run, DEVICE)
    if relate("is", facts[OUTDOORS].value, _YES) is Truth.YES:
        facts[HOTTEST] = context.known(SITE, HOTTEST)
    else:
        facts[ROOF] = context.known(run, ROOF)
    return facts


def _depends_on_the_place(table: Mapping[tuple[str, bool], Fraction], insulation: Possible) -> bool:
    letters = _letters(insulation) or ()
    return any(table.get((part, True)) != table.get((part, False)) for each in letters for part in each.split("/"))


def run_of(context: Context, facts: Mapping[str, Known], columns: tuple[Fraction, ...]) -> Run:
    """The run; ``columns`` are the temperatures for which there are ampacities. OutsideLimits where what is said fits
    no number of the documents in force.
    """
    values = {name: known.value for name, known in facts.items()}
    letters = _letters(values[INSULATION])
    return Run(
        sizes=_ends(values[SIZE]),
        materials=tuple(each for each in MATERIALS if _may_be(values[MATERIAL], each)),
        insulations=_insulations(insulation_temperatures(context.numbers), letters, values.get(WET, EITHER_FLAG)),
        columns=_of_cables(
            set(_columns(values, columns, terminal_numbers(context.numbers))), letters, cable_column(context.numbers)
        ),
        sets=_ends(values[SETS]),
        ambient=_ambient(values[AMBIENT], values.get(HOTTEST)),
        roof=_roof(values[ROOF], letters, roof_numbers(context.numbers)) if ROOF in values else _NO_ADDER,
        together=_ends(values[TOGETHER]),
        length=_ends(values[LENGTH]),
    )


def _ends(value: Possible) -> Span:
    return value.hull or _OPEN


def _may_be(value: Possible, word: str) -> bool:
    return value.anything or bool(value.undefined) or word in value.atoms


# --- insulation ------------------------------------------------------------------------------------------------------


def _letters(value: Possible) -> tuple[str, ...] | None:
    """The types of insulation that are possible, each as typed; None where it may be any."""
    return None if value.anything or not value.atoms else tuple(sorted(map(str, value.atoms)))


def _insulations(
    table: Mapping[tuple[str, bool], Fraction], letters: tuple[str, ...] | None, wet: Possible
) -> tuple[Fraction, ...]:
    """The temperatures that the insulation can have. One that is marked as several types has the best of them that
    holds in its place.
    """
    if letters is None:
        return tuple(sorted(set(table.values())))
    places = [place for place in (True, False) if place in wet.atoms or not wet.atoms]
    found = {
        max(temperatures)
        for each in letters
        for place in places
        if (temperatures := [table[part, place] for part in each.split("/") if (part, place) in table])
    }
    if not found:
        named = " or ".join(letters)
        where = " in a wet place" if wet == _YES else ""
        raise OutsideLimits(f"no temperature of the insulation {named}{where} is known here; state the ampacity")
    return tuple(sorted(found))


# --- terminals -------------------------------------------------------------------------------------------------------


def _columns(
    values: Mapping[str, Possible], columns: tuple[Fraction, ...], numbers: TerminalNumbers
) -> Iterator[Fraction]:
    """The columns that the terminals allow: those as marked, each the highest not above the marking; without a marking
    those by the rating of the circuit.
    """
    marked = values[TERMINALS]
    for span in marked.spans:
        below = [each for each in columns if span.low is None or each <= span.low]
        yield from (each for each in columns if _between(each, span))
        yield from below[-1:]
    if _may_be_unmarked(marked):
        for circuit in _circuits(values[DEVICE]):
            yield from (terminal_column((None,), circuit, size, numbers) for size in _sizes(values[SIZE]))


def _of_cables(columns: set[Fraction], letters: tuple[str, ...] | None, cables: CableColumn) -> tuple[Fraction, ...]:
    """The columns that count, those of cables with one of their own not above it."""
    lower = {min(column, cables.column) for column in columns}
    of_cables = [each in cables.cables for each in letters or ()]
    if of_cables and all(of_cables):
        return tuple(sorted(lower))
    return tuple(sorted(columns | lower if letters is None or any(of_cables) else columns))


def _may_be_unmarked(marked: Possible) -> bool:
    return marked.absent or not marked.spans


def _between(column: Fraction, span: Span) -> bool:
    return (span.low is None or column >= span.low) and (span.high is None or column <= span.high)


def _circuits(device: Possible) -> Iterator[Fraction | None]:
    """The least and the greatest rating that the circuit can have; None where there may be no device."""
    hull = device.hull
    if hull is not None or device.undefined:
        low, high = (None, None) if hull is None or device.undefined else (hull.low, hull.high)
        yield low or _NOTHING
        yield _ABOVE_EVERY_RATING if high is None else high
    if device.absent or device.undefined or hull is None:
        yield None


def _sizes(value: Possible) -> tuple[WireSize, WireSize]:
    """The smallest and the largest size that is possible."""
    hull, every = value.hull or _OPEN, tuple(SIZES.values())
    possible = [size for size in every if _between(size.circular_mils, hull)] or list(every)
    return possible[0], possible[-1]


# --- surroundings ----------------------------------------------------------------------------------------------------


def _ambient(ambient: Possible, hottest: Possible | None) -> Span:
    """The temperature around the run; in outdoor air it is never above the hottest day of the site."""
    stated = _ends(ambient)
    most = None if hottest is None else _ends(hottest).high
    if most is None:
        return Span(stated.low, stated.high)
    if stated.low is not None and stated.low > most:
        raise OutsideLimits("all of the run lies in outdoor air, and yet more is said than the hottest day of the site")
    return Span(stated.low, most if stated.high is None else min(stated.high, most))


def _roof(height: Possible, letters: tuple[str, ...] | None, numbers: RoofNumbers) -> Span:
    """What the sun on a roof adds; nothing to an insulation that is exempt."""
    if height.only_absent:
        return _NO_ADDER
    free = [bool(numbers.exempt & set(each.split("/"))) for each in letters or ()]
    hull = _ends(height)
    most = roof_adder(hull.low or _NOTHING, numbers.rows, insulation_is_exempt=bool(free) and all(free))
    may_be_free = letters is None or any(free)
    far = None if height.absent else hull.high
    least = _NOTHING if far is None else roof_adder(far, numbers.rows, insulation_is_exempt=may_be_free)
    return Span(least, most)
