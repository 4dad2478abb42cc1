"""Bonding jumpers ahead of the overcurrent device and grounding electrode conductors, as bounds (NFPA 70, 250)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from functools import partial
from typing import cast

from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.bonding import (
    BONDING_JUMPER,
    ELECTRODE_CONDUCTOR,
    WATER_PIPE_BOND,
    ElectrodeCase,
    JumperCase,
    PhaseConductors,
    WaterPipeCase,
    bonding_jumper,
    electrode_conductor,
    water_pipe_bond,
)
from checker.engineering.worked import Method
from checker.facts.conductors.numbers import (
    electrode_limits,
    electrode_rows,
    jumper_rows,
    jumper_share,
    water_pipe_limit,
)
from checker.facts.conductors.run import MATERIAL, SETS, SIZE
from checker.facts.conductors.sized import Work, both_ends, hull_of, metals_of, no_size, size_with, with_sheet
from checker.facts.derivation import Context, Derived
from checker.facts.derivation import Work as Derivation
from checker.facts.known import Known
from checker.facts.two_ends import TwoEnds
from checker.rules.model import NumbersInForce
from checker.site.model import Subject
from checker.values.possible import Possible, Span
from checker.values.wire_sizes import WireSize

ELECTRODE, GOES_TO = "electrode_conductor.material", "electrode_conductor_to"
JUMPER_READS, NEUTRAL_READS = ("phase", "grounding"), ("phase", "neutral_conductor")
ELECTRODE_READS = ("phase", "electrode_conductor", GOES_TO)
WATER_PIPE, OF_NEUTRAL = "water_pipe_bond", "neutral_jumper"
WATER_PIPE_READS, NEUTRAL_JUMPER_READS = ("phase", WATER_PIPE), ("phase", OF_NEUTRAL)

_ONE = Fraction(1)
_ONE_LINE = "the {} is worked out for one line of phase conductors only"

ForMetals = Callable[[str, str, PhaseConductors, bool], Work]
"""The work for phase conductors and for a second conductor of given metals, at the upper end or not."""


def by_phase_conductors(second: str, *, is_grounded: bool) -> Derivation:
    """Work for the smallest conductor along the phase conductors by their area, of the metal that is there: a
    supply-side bonding jumper, or the grounded conductor of a service, which need not be larger than they. Where there
    are several each goes by the phase conductors of its own raceway. 250.102(C) and 250.24(C).
    """
    metal, count = f"{second}.material", f"{second}.parallel_sets"

    def work(context: Context, subject: Subject, name: str) -> Derived:
        facts = {each: context.known(subject, each) for each in (SIZE, MATERIAL, SETS, metal, count)}
        together = _by_each(facts[SETS].value, facts[count].value)

        def of(phase: str, other: str, conductors: PhaseConductors, _upper: bool) -> Work:
            table, share = jumper_rows(context.numbers, phase, other), jumper_share(context.numbers)
            case = JumperCase(conductors, table, share, phase != other, is_grounded_conductor=is_grounded)
            return partial(bonding_jumper, case)

        try:
            ends = _ends(facts, metal, together, of)
        except OutsideLimits as limit:
            return no_size(str(limit))
        return with_sheet(context, subject, name, cast(Method[object], BONDING_JUMPER), facts, ends)

    return work


def electrode_wanted(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest grounding electrode conductor by the phase conductors: those into the first disconnect of a
    service, those of the line from a set. 250.66.
    """
    lines = _lines_of(context, subject)
    if len(lines) != 1:
        return no_size(_ONE_LINE.format("electrode conductor"))
    facts = {
        **{each: context.known(lines[0], each) for each in (SIZE, MATERIAL, SETS)},
        **{each: context.known(subject, each) for each in (ELECTRODE, GOES_TO)},
    }
    try:
        limits = _limits(context.numbers, facts[GOES_TO].value)

        def of(phase: str, metal: str, conductors: PhaseConductors, upper: bool) -> Work:
            limit = _limit(limits[metal], upper=upper)
            case = ElectrodeCase(conductors, electrode_rows(context.numbers, phase, metal), limit)
            return partial(electrode_conductor, case)

        ends = _ends(facts, ELECTRODE, hull_of(facts[SETS].value), of)
    except OutsideLimits as limit:
        return no_size(str(limit))
    return with_sheet(context, subject, name, cast(Method[object], ELECTRODE_CONDUCTOR), facts, ends)


def water_pipe_wanted(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest bond of the metal water pipe by the phase conductors into the first disconnect of a service, or of
    the line from a set; never above its limit. 250.104(A)(1) and (D).
    """

    def of(phase: str, metal: str, conductors: PhaseConductors, _upper: bool) -> Work:
        table, limit = jumper_rows(context.numbers, phase, metal), water_pipe_limit(context.numbers, metal)
        return partial(water_pipe_bond, WaterPipeCase(conductors, table, limit))

    title = cast(Method[object], WATER_PIPE_BOND)
    return _at_the_piece(context, subject, name, WATER_PIPE, title, of)


def neutral_jumper_wanted(context: Context, subject: Subject, name: str) -> Derived:
    """The smallest jumper between the neutral of a set and its frame by the phase conductors of its line, all that are
    in parallel together. 250.28(D) and 250.30(A)(1).
    """

    def of(phase: str, metal: str, conductors: PhaseConductors, _upper: bool) -> Work:
        table, share = jumper_rows(context.numbers, phase, metal), jumper_share(context.numbers)
        return partial(bonding_jumper, JumperCase(conductors, table, share, phase != metal))

    title = cast(Method[object], BONDING_JUMPER)
    return _at_the_piece(context, subject, name, OF_NEUTRAL, title, of)


def _at_the_piece(
    context: Context, subject: Subject, name: str, second: str, title: Method[object], of: ForMetals
) -> Derived:
    """A conductor at a service or a set by all phase conductors of its one line together."""
    lines = _lines_of(context, subject)
    if len(lines) != 1:
        return no_size(_ONE_LINE.format(context.catalog.facts[second].title))
    metal = f"{second}.material"
    facts = {
        **{each: context.known(lines[0], each) for each in (SIZE, MATERIAL, SETS)},
        metal: context.known(subject, metal),
    }
    try:
        ends = _ends(facts, metal, hull_of(facts[SETS].value), of)
    except OutsideLimits as limit:
        return no_size(str(limit))
    return with_sheet(context, subject, name, title, facts, ends)


def _lines_of(context: Context, subject: Subject) -> Sequence[Subject]:
    """The line of which the phase conductors count; none or several where that is not clear."""
    drawing = context.drawing
    if subject.type != "utility_supply":
        return [feed.subject for feed in drawing.feeds if feed.source == subject.id]
    first = drawing.first_disconnecting(subject.id)
    return [feed.subject for feed in drawing.feeds if feed.to in first and feed.input == drawing.inputs(feed.to)[0]]


def _limits(numbers: NumbersInForce, goes_to: Possible) -> Mapping[str, Sequence[WireSize | None]]:
    """For each metal the limits of the electrodes to which the conductor may go; None where one has no limit."""
    known = electrode_limits(numbers)
    metals = metals_of(Possible(anything=True))
    return {metal: [known.get((str(each), metal)) for each in sorted(map(str, goes_to.atoms))] for metal in metals}


def _limit(limits: Sequence[WireSize | None], *, upper: bool) -> WireSize | None:
    """The limit that counts: for the most none where one of those that are possible has none."""
    known = [size for size in limits if size is not None]
    if upper:
        return max(known) if known and len(known) == len(limits) else None
    return min(known, default=None)


def _ends(facts: Mapping[str, Known], second: str, sets: Span, of: ForMetals) -> TwoEnds:
    """Both ends over the metals that are possible; sizes rise with the phase conductors."""
    size = hull_of(facts[SIZE].value)
    pairs = [(one, other) for one in metals_of(facts[MATERIAL].value) for other in metals_of(facts[second].value)]

    def works(upper: bool) -> Iterator[Work]:
        area = (size.high if upper else size.low) or _ONE
        count = (sets.high if upper else sets.low) or _ONE
        for phase, metal in pairs:
            yield of(phase, metal, PhaseConductors(size_with(area), max(1, int(count))), upper)

    has_end = size.high is not None and sets.high is not None
    return both_ends(works(False), works(True) if has_end else None)


def _by_each(phases: Possible, others: Possible) -> Span:
    """How many of the parallel phase conductors go with each of the others: all of them with a single one."""
    phase, other = hull_of(phases), hull_of(others)
    low = None if other.high is None or phase.low is None else phase.low / max(other.high, _ONE)
    high = None if phase.high is None else phase.high / max(other.low or _ONE, _ONE)
    return Span(low, high)
