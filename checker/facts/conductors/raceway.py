"""What lies in one raceway of a run, as far as it is known: conductors, those that carry current, and their areas."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from checker.engineering.calculation import OutsideLimits
from checker.engineering.conductors.counting import CountedCircuit, current_carrying
from checker.engineering.conductors.raceway_fill import RACEWAY_FILL, Filled, that_fit
from checker.engineering.worked import Worked
from checker.engineering.worksheet import Worksheet
from checker.facts.conductors.numbers import (
    MOST_OF_A_NIPPLE,
    NONLINEAR,
    ONE_MORE,
    RacewayAreas,
    fill_share,
    raceway_areas,
)
from checker.facts.conductors.run import NEUTRAL, PHASE
from checker.facts.conductors.sized import given_lines
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.known import Known
from checker.facts.numbers import number_in_force
from checker.facts.two_ends import TwoEnds, step_lines
from checker.site.model import Subject
from checker.values.possible import ABSENT, Possible, Span, between, exactly, number
from checker.values.relations import relate
from checker.values.truth import Truth

KIND, TRADE_SIZE, ALONE, RACEWAYS = "raceway_kind", "raceway_size", "alone_in_raceway", "raceways"
GROUNDING, LENGTH = "grounding", "length"
UNGROUNDED, CONNECTION, NONLINEAR_SHARE = "system.ungrounded", "system.connection", "nonlinear_share"

COUNT_READS = (PHASE, NEUTRAL, RACEWAYS, ALONE, "system", NONLINEAR_SHARE)
FILL_READS = (PHASE, NEUTRAL, GROUNDING, RACEWAYS, ALONE, "system", KIND, TRADE_SIZE)
FIT_READS = (*FILL_READS, LENGTH)

_NOTHING, _ONE = Fraction(0), Fraction(1)
_COUNTS_A_NEUTRAL = ("wye", "wye_legs")
_YES, _NO = exactly(True), exactly(False)


@dataclass(frozen=True, slots=True)
class Wires:
    """Conductors of one kind in the raceway that holds most of them: how many, and the area of each (in2)."""

    count: Span
    area: Span


# --- current-carrying conductors -------------------------------------------------------------------------------------


def conductors_that_carry(context: Context, subject: Subject, name: str) -> Derived:
    """Current-carrying conductors in one raceway: those of the run at the least, and no more where it lies alone."""
    try:
        from_share = number_in_force(context.numbers, NONLINEAR)
        least = _carrying(context, subject, from_share, upper=False) or _ONE
        most = _carrying(context, subject, from_share, upper=True) if _is_alone(context, subject) else None
    except OutsideLimits as limit:
        return no_answer(str(limit))
    return Derived(between(least, most))


def _carrying(context: Context, subject: Subject, nonlinear_from: Fraction, *, upper: bool) -> Fraction | None:
    phases = _end(context.read(subject, UNGROUNDED), upper=upper)
    sets = _sets_here(context, subject, PHASE, upper=upper)
    if phases is None or sets is None or phases < 1 or sets < 1:
        return None if upper else _NOTHING
    carries = [
        current_carrying(CountedCircuit(int(phases), neutral, connection, share, int(sets)), nonlinear_from)
        for connection in sorted(map(str, context.read(subject, CONNECTION).atoms))
        for neutral in _neutrals(context, subject, connection, phases)
        for share in _shares(context, subject, connection)
    ]
    found = (max(carries) if upper else min(carries)) if carries else None
    return None if found is None else Fraction(found)


def _neutrals(context: Context, subject: Subject, connection: str, phases: Fraction) -> Sequence[bool]:
    """Whether there is a neutral; of other circuits nobody asks, as it is not counted."""
    if phases > 1 and connection not in _COUNTS_A_NEUTRAL:
        return [False]
    neutral = context.read(subject, NEUTRAL)
    if neutral.only_absent:
        return [False]
    return [False, True] if neutral.absent else [True]


def _shares(context: Context, subject: Subject, connection: str) -> Iterator[Fraction | None]:
    """The shares of nonlinear load that make a difference; they make none but on all of a wye."""
    if connection != "wye":
        yield _NOTHING
        return
    share = context.read(subject, NONLINEAR_SHARE)
    yield _end(share, upper=False) or _NOTHING
    yield _end(share, upper=True)


# --- fill ------------------------------------------------------------------------------------------------------------


def fill(context: Context, subject: Subject, name: str) -> Derived:
    """The share of the raceway that is filled: by the run at the least, and by no more where it lies alone. None where
    no raceway is said.
    """
    if context.read(subject, KIND).only_absent:
        return Derived(ABSENT)
    try:
        areas = raceway_areas(context.numbers)
        inside, wires = _inside(context, subject, areas), _wires(context, subject, areas)
        ends = fill_ends(wires, inside, is_alone=_is_alone(context, subject))
    except OutsideLimits as limit:
        return no_answer(str(limit))
    most = None if ends.most is None else ends.most.value
    return Derived(between(ends.least.value, most), worksheet=_sheet(context, subject, name, ends))


def fill_ends(wires: Sequence[Wires], inside: Span, *, is_alone: bool) -> TwoEnds:
    """The fill at the least, in the largest raceway; and at the most, in the smallest, where it is alone."""
    least = _worked([(each.count.low, each.area.low) for each in wires], inside.high)
    if least is None:
        raise OutsideLimits("the size of the raceway has no end")
    most = _worked([(each.count.high, each.area.high) for each in wires], inside.low) if is_alone else None
    return TwoEnds(least, most)


def _worked(wires: Sequence[tuple[Fraction | None, Fraction | None]], inside: Fraction | None) -> Worked | None:
    areas: list[Fraction] = []
    for count, area in wires:
        if count is None or area is None:
            return None
        areas += [area] * int(count)
    return None if inside is None else RACEWAY_FILL(Filled(areas, inside))


def conductors(context: Context, subject: Subject, name: str) -> Derived:
    """Conductors in the raceway, grounding conductors too."""
    if context.read(subject, KIND).only_absent:
        return Derived(ABSENT)
    try:
        raceway_areas(context.numbers)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    counts = [_count(context, subject, wire) for wire in (PHASE, NEUTRAL, GROUNDING)]
    least = sum((each.low or _NOTHING for each in counts), _NOTHING)
    ends = [each.high for each in counts]
    known = [each for each in ends if each is not None]
    most = sum(known, _NOTHING) if len(known) == len(ends) and _is_alone(context, subject) else None
    return Derived(between(max(_ONE, least), most))


def that_fit_by_number(context: Context, subject: Subject, name: str) -> Derived:
    """How many conductors fit where all in the raceway are of one area: by number what is left over may count as one
    more. None where they are not all alike, or others lie there.
    """
    if context.read(subject, KIND).only_absent or relate("is", context.read(subject, ALONE), _NO) is Truth.YES:
        return Derived(ABSENT)
    try:
        areas = raceway_areas(context.numbers)
        inside, wires = _inside(context, subject, areas), _wires(context, subject, areas)
        there = [each for each in wires if each.count.high != 0]
        if _differ([each for each in there if each.count.low]):
            return Derived(ABSENT)
        area, count = _same(there)
        room = inside.low if inside.low == inside.high else None
        short = _is_nipple(context, subject)
        if area is None or count is None or room is None or short is Truth.UNKNOWN or not _is_alone(context, subject):
            return no_answer("whether all conductors in the raceway are of one size is not shown")
        share = fill_share(context.numbers, int(count), nipple=short is Truth.YES)
        return Derived(number(Fraction(that_fit(area, room, share, number_in_force(context.numbers, ONE_MORE)))))
    except OutsideLimits as limit:
        return no_answer(str(limit))


def _differ(wires: Sequence[Wires]) -> bool:
    """Whether two that are surely there surely have different areas."""
    lows = [each.area.low for each in wires if each.area.low is not None]
    highs = [each.area.high for each in wires if each.area.high is not None]
    return bool(lows) and bool(highs) and max(lows) > min(highs)


def _same(wires: Sequence[Wires]) -> tuple[Fraction | None, Fraction | None]:
    """The one area of all conductors and their number; None where either is open."""
    areas = {end for each in wires for end in (each.area.low, each.area.high)}
    counts = [each.count.low if each.count.low == each.count.high else None for each in wires]
    known = [each for each in counts if each is not None]
    area = areas.pop() if len(areas) == 1 else None
    return area, sum(known, _NOTHING) if len(known) == len(counts) else None


def _is_nipple(context: Context, subject: Subject) -> Truth:
    return relate("at_most", context.read(subject, LENGTH), number(number_in_force(context.numbers, MOST_OF_A_NIPPLE)))


# --- what is known ---------------------------------------------------------------------------------------------------


def _is_alone(context: Context, subject: Subject) -> bool:
    return relate("is", context.read(subject, ALONE), _YES) is Truth.YES


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low


def _sets_here(context: Context, subject: Subject, wire: str, *, upper: bool) -> Fraction | None:
    """Of so many conductors in parallel those in the raceway that holds most; one conductor lies in one raceway."""
    sets = _end(context.read(subject, f"{wire}.parallel_sets"), upper=upper)
    if sets is None:
        return None if upper else _ONE
    if sets <= 1:
        return _ONE
    raceways = _end(context.read(subject, RACEWAYS), upper=not upper)
    if raceways is None:
        return sets if upper else _ONE
    return Fraction(ceil(sets / max(_ONE, raceways)))


def _count(context: Context, subject: Subject, wire: str) -> Span:
    """How many conductors of one kind lie in the raceway."""
    value = context.read(subject, wire)
    if value.only_absent:
        return Span(_NOTHING, _NOTHING)
    low, high = (_sets_here(context, subject, wire, upper=upper) for upper in (False, True))
    if wire == PHASE:
        phases = context.read(subject, UNGROUNDED)
        first, last = _end(phases, upper=False) or _ONE, _end(phases, upper=True)
        return Span(first * (low or _ONE), None if high is None or last is None else last * high)
    return Span(_NOTHING if value.absent else low, high)


def _wires(context: Context, subject: Subject, areas: RacewayAreas) -> Sequence[Wires]:
    found = ((wire, _count(context, subject, wire)) for wire in (PHASE, NEUTRAL, GROUNDING))
    return [
        Wires(count, Span(_NOTHING, _NOTHING) if count.high == 0 else _area(context, subject, wire, areas))
        for wire, count in found
    ]


def _area(context: Context, subject: Subject, wire: str, areas: RacewayAreas) -> Span:
    """The area of a conductor between the least and the most that size and insulation allow."""
    bare = context.read(subject, f"{wire}.bare").atoms
    letters = context.read(subject, f"{wire}.insulation")
    coverings = areas.bare if bare == {True} else areas.coverings(letters, may_be_bare=True in bare)
    size = context.read(subject, f"{wire}.size").hull or Span(None, None)
    found = [area for mils, covering, area in areas.conductors if covering in coverings and size.holds(mils)]
    if not found:
        raise OutsideLimits(f"{areas.source} has no area for these conductors; their fill is not worked out.")
    return Span(min(found), max(found))


def _inside(context: Context, subject: Subject, areas: RacewayAreas) -> Span:
    kinds = context.read(subject, KIND).atoms
    size = context.read(subject, TRADE_SIZE).hull or Span(None, None)
    found = [area for trade, kind, area in areas.raceways if kind in kinds and size.holds(trade)]
    if not found:
        raise OutsideLimits(f"{areas.source} has no area for such a raceway; its fill is not worked out.")
    return Span(min(found), max(found))


def _sheet(context: Context, subject: Subject, name: str, ends: TwoEnds) -> Worksheet | None:
    """The worksheet, where the size of the raceway is shown."""
    if not context.read(subject, TRADE_SIZE).is_exact:
        return None
    facts: dict[str, Known] = {each: context.known(subject, each) for each in (KIND, TRADE_SIZE, ALONE)}
    for wire in (PHASE, NEUTRAL, GROUNDING):
        if not context.read(subject, wire).only_absent:
            facts |= {part: context.known(subject, part) for part in (f"{wire}.size", f"{wire}.insulation")}
    lines = (*given_lines(context, facts), *step_lines(ends))
    return Worksheet(f"{subject.id}.{name}", RACEWAY_FILL.title, subject.id, lines, RACEWAY_FILL.limits)
