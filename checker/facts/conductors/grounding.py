"""The equipment grounding conductor that a run has to have, as bounds (NFPA 70, 250.122)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial
from typing import cast

from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.ampacity import AmpacityTables
from checker.engineering.conductors.grounding import EQUIPMENT_GROUNDING_CONDUCTOR, GroundedCircuit
from checker.engineering.conductors.grounding import equipment_grounding_conductor as worked_out
from checker.engineering.conductors.tables import SizesBy
from checker.engineering.worked import Method
from checker.facts.conductors.ampacity import (
    Limits,
    columns_of,
    must_carry_something,
    smallest_behind,
    smallest_by_ampacity,
)
from checker.facts.conductors.numbers import ampacity_tables, grounding_rows, small_limits
from checker.facts.conductors.run import MATERIAL, SETS, SIZE, Run, facts_of, run_of
from checker.facts.conductors.run import READS as OF_THE_RUN
from checker.facts.conductors.sized import Work as Sizing
from checker.facts.conductors.sized import both_ends, metals_of, no_size, size_with, with_sheet
from checker.facts.derivation import Context, Derived, Work
from checker.facts.two_ends import TwoEnds
from checker.site.model import Subject
from checker.values.possible import Span
from checker.values.wire_sizes import WireSize

LIMIT, METAL, AMPACITY = "overcurrent_limit", "grounding.material", "ampacity"
READS = (*OF_THE_RUN, LIMIT, "grounding", AMPACITY)

_NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class Circuit:
    """What the size goes by, as far as it is known."""

    device: Span
    metals: tuple[str, ...]
    phases: tuple[str, ...]
    run: Run
    ampacities: AmpacityTables
    limits: Limits
    tables: Mapping[str, SizesBy]

    said: Span

    @property
    def smallest_of_all(self) -> WireSize:
        """The smallest phase conductor that has an ampacity in any of the metals."""
        return min(column.sizes[0] for column in self.ampacities.ampacities.columns)

    def at_the_hardest(self, device: Fraction) -> WireSize | None:
        """The smallest phase conductor for a device where the run is hardest on it."""
        return smallest_behind(self.run, self.ampacities, self.limits, device, kindest=False)

    def at_the_kindest(self, device: Fraction) -> WireSize | None:
        """The smallest phase conductor for a device where the run is kindest to it; what is said of the ampacity can
        leave no such kindness.
        """
        smallest = smallest_behind(self.run, self.ampacities, self.limits, device, kindest=True)
        by_what_is_said = smallest_by_ampacity(self.run, self.ampacities, self.said, device)
        known = [size for size in (smallest, by_what_is_said) if size is not None]
        return max(known, default=None)


def grounding_wanted(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest equipment grounding conductor of the metal that is there, larger by as much as the phase conductors
    are larger than the smallest that carry the device ahead in full.

    A still smaller conductor that the next larger device may protect is left out: it would ask for more, and only
    where the load allows it.
    """
    return _wanted(context, subject, name, metals_of(context.read(subject, METAL)), (LIMIT, METAL))


def grounding_wanted_in(metal: str) -> Work:
    """The same for a conductor of this metal, whatever is there. Its worksheet is told where none is there, since the
    other one tells of what is.
    """

    def of_metal(context: Context, subject: Subject, name: str) -> Derived:
        found = _wanted(context, subject, name, (metal,), (LIMIT,))
        return found if context.read(subject, METAL).only_absent else replace(found, worksheet=None)

    return of_metal


def _wanted(context: Context, subject: Subject, name: str, metals: tuple[str, ...], facts: tuple[str, ...]) -> Derived:
    given = {each: context.known(subject, each) for each in facts}
    device = given[LIMIT].value.hull
    if device is None:
        return no_size("no overcurrent device ahead is known, by which the grounding conductor goes")
    try:
        of_run = facts_of(context, subject)
        ampacities = ampacity_tables(context.numbers)
        circuit = Circuit(
            device,
            metals,
            metals_of(of_run[MATERIAL].value),
            run_of(context, of_run, columns_of(ampacities)),
            ampacities,
            small_limits(context.numbers),
            {each: grounding_rows(context.numbers, each) for each in metals},
            _said(context, subject),
        )
        ends = grounding_ends(circuit)
    except OutsideLimits as limit:
        return no_size(str(limit))
    shown = {**given, **{each: of_run[each] for each in (SIZE, MATERIAL, SETS)}}
    return with_sheet(context, subject, name, cast(Method[object], EQUIPMENT_GROUNDING_CONDUCTOR), shown, ends)


def _said(context: Context, subject: Subject) -> Span:
    """Between what the ampacity lies that is written on the drawing, with what it may differ from the one that is
    worked out; open where none is written.
    """
    stated, within = context.stated(subject, AMPACITY).hull, context.catalog.facts[AMPACITY].agrees_within or _NOTHING
    if stated is None:
        return Span(None, None)
    low = None if stated.low is None else stated.low / (1 + within)
    return Span(low, None if stated.high is None else stated.high / (1 - within))


def grounding_ends(circuit: Circuit) -> TwoEnds:
    """The size at the least and at the most; OutsideLimits where the conductors that are there carry nothing."""
    must_carry_something(circuit.run, circuit.ampacities)
    run, device = circuit.run, circuit.device
    has_end = None not in (device.high, run.sizes.high, run.sets.high)
    return both_ends(_at_the_least(circuit), _at_the_most(circuit) if has_end else None)


def _at_the_least(circuit: Circuit) -> Iterator[Sizing]:
    """The smallest device and phase conductors, and the largest that could be wanted for the greatest device."""
    run, device = circuit.run, circuit.device
    # The smallest that there is, where nothing says how small: a grounding conductor is never wanted larger.
    installed = size_with(run.sizes.low) if run.sizes.low is not None else circuit.smallest_of_all
    wanted = None if device.high is None or run.sizes.low is None else device.high
    smallest = None if wanted is None else circuit.at_the_hardest(wanted)
    for metal in circuit.metals:
        case = GroundedCircuit(
            device.low or _NOTHING,
            installed,
            smallest,
            _count(run.sets.low),
            circuit.tables[metal],
            same_metal=metal in circuit.phases,
        )
        yield partial(worked_out, case)


def _at_the_most(circuit: Circuit) -> Iterator[Sizing]:
    """The greatest device and phase conductors, and the smallest that could carry the least device."""
    run, device = circuit.run, circuit.device
    installed = None if run.sizes.high is None else size_with(run.sizes.high)
    smallest = circuit.at_the_kindest(device.low or _NOTHING)
    for metal in circuit.metals:
        case = GroundedCircuit(
            device.high or _NOTHING,
            installed,
            smallest,
            _count(run.sets.high),
            circuit.tables[metal],
            same_metal=circuit.phases == (metal,),
        )
        yield partial(worked_out, case)


def _count(sets: Fraction | None) -> int:
    return max(1, int(sets or 1))
