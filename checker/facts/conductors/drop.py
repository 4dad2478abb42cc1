"""The share of the voltage that is lost along a run, in both ways, as bounds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from itertools import product
from typing import cast

from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.run_drop import RUN_DROP, RunDrop, run_drop
from checker.engineering.powers import square_root
from checker.engineering.worked import Method
from checker.facts.conductors.numbers import Impedance, direct_current_resistances, impedances
from checker.facts.conductors.run import LENGTH, MATERIAL, SETS, SIZE
from checker.facts.conductors.sized import Work, both_ends, hull_of, metals_of, no_size, with_sheet
from checker.facts.derivation import Context, Derived
from checker.facts.derivation import Work as Derivation
from checker.facts.known import Known
from checker.facts.two_ends import TwoEnds
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.values.possible import Possible, Span, between

LOAD, CARRIES, POWER_FACTOR, RACEWAY = "load_current", "current_to_carry", "load_power_factor", "run_raceway"
VOLTAGE, PHASES = "system.voltage", "system.phases"
READS = ("phase", LENGTH, LOAD, CARRIES, POWER_FACTOR, RACEWAY, "system")

_NOTHING, _ONE = Fraction(0), Fraction(1)
_LEAST_FACTOR = Fraction(1, 1000)
"""Stands for a power factor that is open below: there a load draws its current all the same."""
_NUMBERS_OF_PHASES = (1, 3)
_RACEWAYS = ("pvc", "aluminum", "steel")


@dataclass(frozen=True, slots=True)
class Line:
    """What the drop goes by beside the conductor, as far as it is known."""

    current: Span
    length: Span
    sets: Span
    voltage: Span
    phases: tuple[int, ...]
    power_factor: Span


def voltage_drop(*, resistance_alone: bool) -> Derivation:
    """The work of one way: by effective impedance with the power factor of the load, or by resistance alone."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        try:
            table = _table(context.numbers, resistance_alone=resistance_alone)
        except OutsideLimits as limit:
            return no_size(str(limit))
        if any(_is_open(context.read(subject, each)) for each in (LENGTH, SIZE)):
            # Whatever else is known, there is no most; nobody is asked for the rest before these two.
            return Derived(between(_NOTHING, None))
        facts = _facts(context, subject, resistance_alone=resistance_alone)
        values = {each: known.value for each, known in facts.items()}
        line = Line(
            _current(values),
            hull_of(values[LENGTH]),
            hull_of(values[SETS]),
            hull_of(values[VOLTAGE]),
            tuple(
                each for each in _NUMBERS_OF_PHASES if any(span.holds(Fraction(each)) for span in values[PHASES].spans)
            ),
            Span(_ONE, _ONE) if resistance_alone else hull_of(values[POWER_FACTOR]),
        )
        try:
            wires = _wires(table, values)
            ends = drop_ends(line, wires)
        except OutsideLimits as limit:
            return no_size(str(limit))
        return with_sheet(context, subject, name, cast(Method[object], RUN_DROP), facts, ends)

    return work


def _is_open(value: Possible) -> bool:
    return hull_of(value).high is None or hull_of(value).low is None


def _facts(context: Context, run: Subject, *, resistance_alone: bool) -> Mapping[str, Known]:
    """What is read; what the devices ahead let through only where the load of the run is not said."""
    names = [SIZE, MATERIAL, SETS, LENGTH, VOLTAGE, PHASES, LOAD]
    names += [] if resistance_alone else [RACEWAY, POWER_FACTOR]
    facts = {each: context.known(run, each) for each in names}
    if hull_of(facts[LOAD].value).high is None:
        facts[CARRIES] = context.known(run, CARRIES)
    return facts


def _current(values: Mapping[str, Possible]) -> Span:
    """The current of the load; where it is not said, nothing at the least and what the run has to carry at the most."""
    said = hull_of(values[LOAD])
    carried = values.get(CARRIES)
    if carried is None or carried.absent or carried.undefined:
        return said
    return Span(said.low, hull_of(carried).high)


def _table(numbers: NumbersInForce, *, resistance_alone: bool) -> Sequence[Impedance]:
    return direct_current_resistances(numbers) if resistance_alone else impedances(numbers)


def _wires(table: Sequence[Impedance], values: Mapping[str, Possible]) -> Sequence[Impedance]:
    """Every conductor of the table that is possible."""
    size, metals = hull_of(values[SIZE]), metals_of(values[MATERIAL])
    raceways = values[RACEWAY].atoms if RACEWAY in values else frozenset(_RACEWAYS)
    found = [
        each
        for each in table
        if each.metal in metals
        and _holds(size, each.size.circular_mils)
        and (each.raceway is None or each.raceway in raceways)
    ]
    if not found:
        raise OutsideLimits("the tables of chapter 9 have no resistance for these conductors")
    return found


def _holds(span: Span, number: Fraction) -> bool:
    return (span.low is None or number >= span.low) and (span.high is None or number <= span.high)


# --- both ends -------------------------------------------------------------------------------------------------------


def drop_ends(line: Line, wires: Sequence[Impedance]) -> TwoEnds:
    """The share that is lost at the least and at the most over these conductors."""
    return both_ends(_least(line, wires), _most(line, wires) if _has_end(line) else None)


def _has_end(line: Line) -> bool:
    return None not in (line.current.high, line.length.high, line.voltage.low) and bool(line.phases)


def _least(line: Line, wires: Sequence[Impedance]) -> Iterator[Work]:
    """The least current over the shortest run; nothing where one of the ends that it takes is open.

    Between two power factors the impedance that counts is greater than at the lesser of both ends.
    """
    low, high = line.power_factor.low, line.power_factor.high
    is_open = line.sets.high is None or line.voltage.high is None or not line.phases
    length = _NOTHING if is_open else line.length.low or _NOTHING
    factors = (_NOTHING if low is None else low, _ONE if high is None else high)
    for wire, factor, phases in product(wires, dict.fromkeys(factors), line.phases or (1,)):
        yield _work(
            wire,
            factor,
            phases,
            (line.current.low or _NOTHING, length, line.sets.high or _ONE, line.voltage.high or _ONE),
        )


def _most(line: Line, wires: Sequence[Impedance]) -> Iterator[Work]:
    """The greatest current over the longest run, at the power factor at which the impedance counts in full, where the
    load can have it.
    """
    low, high = line.power_factor.low or _LEAST_FACTOR, line.power_factor.high or _ONE
    for wire, phases in product(wires, line.phases):
        worst = _ONE if wire.reactance is None else wire.resistance / _size(wire.resistance, wire.reactance)
        factor = min(max(worst, low), high)
        ends = (line.current.high or _NOTHING, line.length.high or _NOTHING, line.sets.low or _ONE)
        yield _work(wire, factor, phases, (*ends, line.voltage.low or _ONE))


def _size(resistance: Fraction, reactance: Fraction) -> Fraction:
    return square_root(resistance**2 + reactance**2)


def _work(wire: Impedance, factor: Fraction, phases: int, ends: tuple[Fraction, Fraction, Fraction, Fraction]) -> Work:
    current, length, sets, voltage = ends
    case = RunDrop(
        wire.resistance, wire.reactance, factor, current, length, max(1, int(sets)), phases, voltage, wire.source
    )
    return partial(run_drop, case)
