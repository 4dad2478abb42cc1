"""Single-phase loads on a three-phase set: the current of the phase that carries most, and how uneven the three are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.generator.phase_load import PHASE_CURRENTS, PhaseLoads, SinglePhaseLoad
from checker.engineering.powers import square_root
from checker.engineering.worked import Worked
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import between, exactly, number
from checker.values.relations import relate
from checker.values.truth import Truth, all_of

READS = ("system", "load_power", "connected_to", "kept_off", "at", "name")

_THREE = Fraction(3)
_ROOT_3 = square_root(_THREE)
_NOTHING, _MOST_UNEVEN = Fraction(0), Fraction(2)
_BALANCED = "three_phase"
_NO_PHASES = "currents of phases are worked out for a set of three phases of which the voltage is known"


@dataclass(frozen=True, slots=True)
class _OnPhases:
    """A load in VA between its ends, where it is connected (None where that is open), and whether it is on the set."""

    subject: Subject
    name: str
    least: Fraction
    most: Fraction | None
    connection: str | None
    counts: Truth


def greatest_phase_current(context: Context, subject: Subject, name: str) -> Derived:
    """The phasor sum of all loads in the phase that carries most, in A.

    It rises with every load, since no two currents of a phase lie more than 60 degrees apart. A load of which the
    phase is not known adds to every phase at the most, and to none at the least.
    """
    voltage = _voltage(context, subject)
    if voltage is None:
        return no_answer(_NO_PHASES)
    loads, complete = _loads(context, subject)
    try:
        least = _worked(voltage, [each for each in loads if each.counts is Truth.YES], upper=False)
        most = _worked(voltage, loads, upper=True)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    high = None if not complete else _with_open_phases(most.value, loads, voltage)
    value = between(rounded(least.value), None if high is None else rounded(high))
    return Derived(value, worksheet=_sheet(context, subject, name, loads, least))


def phase_imbalance(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest distance of a phase from the mean of the three, over that mean; open until every load is known."""
    voltage = _voltage(context, subject)
    if voltage is None:
        return no_answer(_NO_PHASES)
    loads, complete = _loads(context, subject)
    known = all(each.counts is Truth.YES and each.connection is not None and each.least == each.most for each in loads)
    if not complete or not known:
        return Derived(between(_NOTHING, _MOST_UNEVEN))
    worked = _worked(voltage, loads, upper=True)
    found = next(step.value for step in worked.steps if step.quantity == "imbalance")
    return Derived(number(rounded(found)), worksheet=_sheet(context, subject, name, loads, worked))


def _voltage(context: Context, subject: Subject) -> Fraction | None:
    phases, voltage = context.read(subject, "system.phases"), context.read(subject, "system.voltage").number
    return voltage if phases.number == _THREE and voltage else None


def _loads(context: Context, subject: Subject) -> tuple[list[_OnPhases], bool]:
    """The loads that are or may be on the set, and whether those are all."""
    reached = set(context.drawing.fed_in_any_way(subject.id))
    listed = context.members("loads")
    found = [_load(context, each, reached) for each in listed.members]
    return [each for each in found if each.counts is not Truth.NO], listed.complete


def _load(context: Context, load: Subject, reached: set[str]) -> _OnPhases:
    at, name = context.read(load, "at").atom, context.read(load, "name").atom
    here = Truth.UNKNOWN if at is None else Truth.YES if str(at) in reached else Truth.NO
    off = context.read(load, "kept_off")
    stays = Truth.YES if off.only_absent else relate("is_not", off, exactly("while_the_set_runs"))
    connection = context.read(load, "connected_to").atom
    hull = context.read(load, "load_power").hull
    return _OnPhases(
        load,
        str(load) if name is None else str(name),
        _NOTHING if hull is None or hull.low is None else hull.low,
        None if hull is None else hull.high,
        None if connection is None else str(connection),
        all_of((here, stays)),
    )


def _worked(voltage: Fraction, loads: Sequence[_OnPhases], *, upper: bool) -> Worked:
    """The loads of which the phase is known, at the most or at the least; one without an end counts as nothing here."""
    powers = [(each, (each.most or _NOTHING) if upper else each.least) for each in loads]
    balanced = sum((power for each, power in powers if each.connection == _BALANCED), _NOTHING)
    single = tuple(
        SinglePhaseLoad(each.name, each.connection, power)
        for each, power in powers
        if each.connection is not None and each.connection != _BALANCED
    )
    return PHASE_CURRENTS(PhaseLoads(voltage, balanced, single))


def _with_open_phases(known: Fraction, loads: Sequence[_OnPhases], voltage: Fraction) -> Fraction | None:
    """Those of which the phase is open added in full; none where a load has no end."""
    if any(each.most is None for each in loads):
        return None
    open_ones = (each.most for each in loads if each.connection is None)
    return known + sum(((power or _NOTHING) * _ROOT_3 / voltage for power in open_ones), _NOTHING)


def _sheet(context: Context, subject: Subject, name: str, loads: Sequence[_OnPhases], worked: Worked) -> Worksheet:
    lines = list(_given(context, subject, loads))
    for step in worked.steps:
        amount = f"{float(step.value):,.2f}".rstrip("0").rstrip(".")
        lines.append(Line(step.letter, step.quantity, step.how, amount, "" if step.unit == "pu" else step.unit, ""))
    return Worksheet(
        f"{subject}.{name}", PHASE_CURRENTS.title, subject.id, tuple(lines), PHASE_CURRENTS.limits, worked.assumptions
    )


def _given(context: Context, subject: Subject, loads: Sequence[_OnPhases]) -> Iterator[Line]:
    of_loads = ((each.subject, "load_power", each.name, _place(context, each)) for each in loads)
    rows = [(subject, "system.voltage", "voltage", ""), *of_loads]
    for place, (owner, name, title, how) in enumerate(rows, start=1):
        fact, known = context.catalog.facts[name], context.known(owner, name)
        yield Line(str(place), title, how, value_text(fact, known.value, known.unit), "", source_text(known))


def _place(context: Context, load: _OnPhases) -> str:
    choices = context.catalog.facts["connected_to"].choices
    return choices.get(load.connection or "", "phase not shown")
