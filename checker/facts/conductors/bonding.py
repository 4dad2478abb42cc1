"""Bonding jumpers ahead of the overcurrent device and grounding electrode conductors, as bounds (NFPA 70, 250)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
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
from checker.facts.conductors.sized import (
    Work,
    both_ends,
    hull_of,
    metals_of,
    no_size,
    size_with,
    with_sheet,
    with_sheet_of_lines,
)
from checker.facts.derivation import Context, Derived
from checker.facts.derivation import Work as Derivation
from checker.facts.known import Known
from checker.facts.two_ends import TwoEnds
from checker.rules.model.in_force import NumbersInForce
from checker.site.model import Subject
from checker.values.possible import Possible, Span, exactly
from checker.values.relations import relate
from checker.values.truth import Truth
from checker.values.wire_sizes import WireSize

ELECTRODE, GOES_TO = "electrode_conductor.material", "electrode_conductor_to"
JUMPER_READS, NEUTRAL_READS = ("phase", "grounding"), ("phase", "neutral_conductor")
OF_THE_UTILITY = "of_the_utility"
ELECTRODE_READS = ("phase", "electrode_conductor", GOES_TO, OF_THE_UTILITY)
WATER_PIPE, OF_NEUTRAL = "water_pipe_bond", "neutral_jumper"
WATER_PIPE_READS = ("phase", WATER_PIPE, OF_THE_UTILITY)
NEUTRAL_JUMPER_READS = ("phase", OF_NEUTRAL, OF_THE_UTILITY)

_ONE, _NOTHING = Fraction(1), Fraction(0)
_NO_LINE = "no line is drawn by whose phase conductors the {} goes"
_TOGETHER = (
    "Of several lines one conductor for all goes by the area of all of them together; at the least one has a conductor "
    "of its own, by the smallest line."
)

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
    """The smallest grounding electrode conductor by the phase conductors: those into the first disconnects of a
    service, those of the lines from a set. 250.66.
    """
    goes_to = context.known(subject, GOES_TO)
    try:
        limits = _limits(context.numbers, goes_to.value)
    except OutsideLimits as limit:
        return no_size(str(limit))

    def of(phase: str, metal: str, conductors: PhaseConductors, upper: bool) -> Work:
        table = electrode_rows(context.numbers, phase, metal)
        return partial(electrode_conductor, ElectrodeCase(conductors, table, _limit(limits[metal], upper=upper)))

    title = cast(Method[object], ELECTRODE_CONDUCTOR)
    return _at_the_piece(context, subject, name, "electrode_conductor", title, of, {GOES_TO: goes_to})


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
    context: Context,
    subject: Subject,
    name: str,
    second: str,
    title: Method[object],
    of: ForMetals,
    more: Mapping[str, Known] | None = None,
) -> Derived:
    """A conductor at a service or a set by all phase conductors of its lines. Of several lines it is at the least that
    of the smallest one alone, and at the most that of all of them together (note 1 of Table 250.66, 250.64(D)).
    """
    lines = _lines_of(context, subject)
    if not lines:
        return no_size(_NO_LINE.format(context.catalog.facts[second].title))
    metal = f"{second}.material"
    own = {metal: context.known(subject, metal), **(more or {})}
    of_lines, shared = _conductors(context, lines), _conductors(context, _shared_ahead(context, subject, lines))
    try:
        ends = _ends_of_lines(tuple(of_lines.values()), tuple(shared.values()), own[metal].value, of)
    except OutsideLimits as limit:
        return no_size(str(limit))
    if len(lines) == 1:
        return with_sheet(context, subject, name, title, {**of_lines[lines[0].id], **own}, ends)
    return with_sheet_of_lines(context, subject, name, title, {**of_lines, **shared, subject.id: own}, ends, _TOGETHER)


def _conductors(context: Context, lines: Iterable[Subject]) -> Mapping[str, Mapping[str, Known]]:
    return {line.id: {each: context.known(line, each) for each in (SIZE, MATERIAL, SETS)} for line in lines}


def _shared_ahead(context: Context, subject: Subject, lines: Sequence[Subject]) -> Iterator[Subject]:
    """The lines of the premises from which several of these are fed; they can be larger than those together."""
    if subject.type == "utility_supply":
        feeds = [context.drawing.feed(line) for line in lines]
        ahead = [feed for line in feeds for feed in context.drawing.path(line.source).feeds]
        for feed in dict.fromkeys(each for each in ahead if ahead.count(each) > 1):
            if relate("is", context.read(feed.subject, OF_THE_UTILITY), exactly(True)) is not Truth.YES:
                yield feed.subject


def _lines_of(context: Context, subject: Subject) -> Sequence[Subject]:
    """The lines of which the phase conductors count."""
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


def _ends_of_lines(
    lines: Sequence[Mapping[str, Known]], shared: Sequence[Mapping[str, Known]], other: Possible, of: ForMetals
) -> TwoEnds:
    """Both ends over the metals that are possible: the least of what each line wants alone, the most of the areas of
    all lines together or of one from which several are fed, of the metal for which the table gives most.
    """
    others = metals_of(other)
    phases = {metal for line in (*lines, *shared) for metal in metals_of(line[MATERIAL].value)}

    def least() -> Iterator[Work]:
        for line in lines:
            size, sets = hull_of(line[SIZE].value), hull_of(line[SETS].value)
            conductors = PhaseConductors(size_with(size.low or _ONE), max(1, int(sets.low or _ONE)))
            for phase in metals_of(line[MATERIAL].value):
                yield from (of(phase, metal, conductors, False) for metal in others)

    area = _area_at_the_most(lines, shared)
    if area is None:
        return both_ends(least(), None)
    conductors = PhaseConductors(size_with(area), 1)
    return both_ends(least(), [of(phase, metal, conductors, True) for phase in sorted(phases) for metal in others])


def _area_at_the_most(lines: Sequence[Mapping[str, Known]], shared: Sequence[Mapping[str, Known]]) -> Fraction | None:
    """In circular mils; None where one of them has no end."""
    together, ahead = ([_area(line) for line in each] for each in (lines, shared))
    known, known_ahead = ([area for area in each if area is not None] for each in (together, ahead))
    if len(known) < len(together) or len(known_ahead) < len(ahead):
        return None
    return max(sum(known, _NOTHING), *known_ahead, _ONE)


def _area(line: Mapping[str, Known]) -> Fraction | None:
    size, sets = hull_of(line[SIZE].value).high, hull_of(line[SETS].value).high
    return None if size is None or sets is None else size * max(_ONE, sets)


def _by_each(phases: Possible, others: Possible) -> Span:
    """How many of the parallel phase conductors go with each of the others: all of them with a single one."""
    phase, other = hull_of(phases), hull_of(others)
    low = None if other.high is None or phase.low is None else phase.low / max(other.high, _ONE)
    high = None if phase.high is None else phase.high / max(other.low or _ONE, _ONE)
    return Span(low, high)
