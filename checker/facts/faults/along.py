"""Fault current at a piece from one source: what is left at the end of the runs between, and what motors add there.

Impedance ahead of a fault takes current away and never adds, so that a run of which something is open takes nothing at
the least. Past a transformer its own impedance bounds the current, whatever is ahead of it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.engineering.faults.along import Conductors
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.faults import starts
from checker.facts.faults.numbers import RunNumbers, run_numbers
from checker.facts.faults.runs import READS as OF_RUNS
from checker.facts.faults.runs import RunFound, run_found, whole
from checker.facts.faults.sheet import Counted, fault_sheet
from checker.facts.faults.sources import (
    AVAILABLE,
    GIVEN_BY,
    LEAST,
    LEAST_GIVEN_BY,
    OF_PHASES,
    TRANSFORMER,
    is_stated,
    transformer_start,
)
from checker.facts.faults.starts import Start, kinds_of, least_at_end, most_at_end, ratios
from checker.facts.faults.ways import Way, Ways, ways_of
from checker.facts.line.interlocks import READS as OF_INTERLOCKS
from checker.facts.line.interlocks import listed_interlocks
from checker.facts.pairs import fault_source, halves
from checker.site.model import SITE, Subject
from checker.values.arithmetic import rounded, smallest, total
from checker.values.possible import ABSENT, Possible, Span, between, number

READS = (
    *(AVAILABLE, "greatest_fault_current", "motor_fault_current", "transition"),
    *(*OF_INTERLOCKS, *OF_RUNS, *starts.READS, *TRANSFORMER),
)
LEAST_READS = (AVAILABLE, LEAST, "transition", *OF_INTERLOCKS, *OF_RUNS, *starts.READS)

_NOTHING = Fraction(0)


@dataclass(frozen=True, slots=True)
class Left:
    """What is left at the end: at least, at most (None: no end), and how the most was found."""

    least: Fraction
    most: Fraction | None
    counted: Counted


# --- available -------------------------------------------------------------------------------------------------------


def of_pair(context: Context, subject: Subject, name: str) -> Derived:
    """What the source drives into a fault at the piece: past the runs between, with what the motors of the site add.

    It is the current of the kind of fault of which the figure of the source is; where that is not said, the greatest
    over all kinds. Nothing is said of an inverter, whose figure the catalog does not have.
    """
    if name != AVAILABLE:
        return Derived(context.stated(subject, name))
    tag, source = halves(subject)
    giver = context.drawing.pieces.get(source)
    if giver is None or giver.type not in GIVEN_BY or tag not in context.drawing.pieces:
        return Derived(between(0, None))
    if transformer_between(context, tag, source):
        return _past_transformer(context, subject)
    motors, figure = motors_of(context), context.known(giver, GIVEN_BY[giver.type])
    hull = figure.value.hull
    # What a run takes from a current without an end is nothing to ask for.
    numbers = None if hull is None or hull.high is None else run_numbers(context.numbers)
    found = None if numbers is None else left_of(context, tag, start_at(context, giver), numbers)
    if numbers is None or found is None:
        return Derived(_at_most(total([figure.value, motors])), unit="kA")
    if found.most is None:
        return Derived(between(rounded(found.least), None), unit="kA")
    value = with_motors(found.least, found.most, motors)
    return Derived(value, unit="kA", worksheet=fault_sheet(context, subject, name, found.counted, motors, numbers))


def start_at(context: Context, giver: Subject) -> Start:
    """The terminals of the source."""
    fact = GIVEN_BY[giver.type]
    known = context.known(giver, fact)
    if giver.type != "utility_supply":
        return Start(giver.id, fact, known, kinds_of(context, giver, None))
    said = context.read(giver, f"{AVAILABLE}.between") if is_stated(context, giver, AVAILABLE) else OF_PHASES
    return Start(giver.id, fact, known, kinds_of(context, giver, said), angle=giver)


def with_motors(least: Fraction, most: Fraction, motors: Possible) -> Possible:
    """Motors add to the most; at the least they may stand still."""
    high = motors.hull.high if motors.hull is not None and not motors.undefined else None
    return between(rounded(least), None if high is None else rounded(most + high))


def motors_of(context: Context) -> Possible:
    """What the motors of the site add; none is nothing."""
    motors = context.read(SITE, "motor_fault_current")
    if motors.only_absent:
        return number(0)
    there = motors.present()
    return there.union(number(0)) if motors.absent and there is not None else motors


def _at_most(value: Possible) -> Possible:
    """From nothing to the greatest that is possible."""
    hull = value.hull
    if hull is None or value.undefined:
        return between(0, None)
    return Possible(spans=(Span(_NOTHING, hull.high, False, hull.high_open),))


# --- along the ways --------------------------------------------------------------------------------------------------


def left_of(context: Context, tag: str, start: Start, numbers: RunNumbers) -> Left | None:
    """What is left of a start at a piece, over every way; None where the ways are not followed."""
    ways = ways_of(context, tag, start.tag)
    if ways is None:
        return None
    counted = ways.ways if ways.one_at_a_time else (ways.shared,)
    found = [_by_way(context, start, way, numbers, alone=len(counted) == 1) for way in counted]
    most = [each.most for each in found]
    worst = found[0] if None in most else max(found, key=lambda each: each.most or _NOTHING)
    least = _least_of_ways(context, tag, start, ways, found, numbers)
    highest = worst.most
    return Left(least if highest is None else min(least, highest), highest, worst.counted)


def _by_way(context: Context, start: Start, way: Way, numbers: RunNumbers, *, alone: bool) -> Left:
    """By one way: from the source, and from each figure that is stated for a piece on it, whatever tells more."""
    runs = runs_of(context, way, numbers, start)
    found = [_from(context, start, runs)]
    for place, tag in enumerate(way.tags[1:-1], start=1):
        stated = _stated_at(context, tag, start) if len(way.tags) == len(runs) + 1 else None
        if stated is not None:
            each = _from(context, stated, runs[place:])
            found.append(each if alone else Left(_NOTHING, each.most, each.counted))
    known = [each for each in found if each.most is not None]
    best = min(known, key=lambda each: each.most or _NOTHING) if known else found[0]
    return Left(max(each.least for each in found), best.most, best.counted)


def _from(context: Context, start: Start, runs: tuple[RunFound, ...]) -> Left:
    adds = whole(runs)
    start = _with_angle(context, start, adds)
    least, most = least_at_end(start, adds), most_at_end(start, adds)
    return Left(least, most, Counted(start, runs, least, most))


def _with_angle(context: Context, start: Start, adds: Conductors) -> Start:
    """The start with its X/R, where the runs take something of which it says more."""
    ends = [adds.round_of(kind.fault) for kind in start.kinds]
    if start.angle is None or all(not each.least.magnitude and each.most is None for each in ends):
        return start
    return replace(start, x_over_r=ratios(context.read(start.angle, f"{AVAILABLE}.x_over_r")))


def _stated_at(context: Context, tag: str, start: Start) -> Start | None:
    """A figure that somebody states for a piece on the way, with the same source, and that covers the same kinds."""
    pair = fault_source(tag, start.tag)
    if not context.drawing.is_of(tag, "rated_for_fault") or not is_stated(context, pair, AVAILABLE):
        return None
    kinds = kinds_of(context, context.drawing.pieces[start.tag], context.read(pair, f"{AVAILABLE}.between"))
    if not {kind.fault for kind in start.kinds} <= {kind.fault for kind in kinds}:
        return None
    motors = motors_of(context).hull
    less = None if motors is None else motors.high
    return Start(pair.id, AVAILABLE, context.known(pair, AVAILABLE), kinds, angle=pair, less=less)


def _least_of_ways(
    context: Context, tag: str, start: Start, ways: Ways, found: Sequence[Left], numbers: RunNumbers
) -> Fraction:
    """The least over every way by itself, as two together only give more; nothing while an interlock may stand open."""
    if start.tag not in context.drawing.sources_reaching(tag) or listed_interlocks(context).possible:
        return _NOTHING
    if ways.one_at_a_time:
        return min(each.least for each in found)
    return min(_from(context, start, runs_of(context, way, numbers, start)).least for way in ways.ways)


def runs_of(
    context: Context, way: Way, numbers: RunNumbers, start: Start, *, hot: bool = False
) -> tuple[RunFound, ...]:
    """The runs of a way with what each adds."""
    return tuple(run_found(context, feed, numbers, with_neutral=start.with_neutral, hot=hot) for feed in way.feeds)


# --- past a transformer ----------------------------------------------------------------------------------------------


def transformer_between(context: Context, tag: str, source: str) -> bool:
    """Whether a transformer is on a line from the source down to the piece; for a source that can only come back from
    below, whether there is one at all.
    """
    return any(True for _ in _transformers(context, tag, source))


def _transformers(context: Context, tag: str, source: str) -> Iterator[str]:
    drawing = context.drawing
    if source not in drawing.sources_reaching(tag):
        yield from drawing.of("transformer")
        return
    past_source = drawing.fed_in_any_way(source)
    yield from (
        each for each in drawing.of("transformer") if each in past_source and tag in drawing.fed_in_any_way(each)
    )


def _past_transformer(context: Context, subject: Subject) -> Derived:
    """At most what the transformer on every way to the piece lets through with nothing ahead to hold it back."""
    tag, source = halves(subject)
    reason = f"a transformer may lie between {source} and {tag}, and what comes through it is not worked out"
    nothing = Derived(between(0, None), reasons=(reason,))
    if source not in context.drawing.sources_reaching(tag):
        return nothing
    last, numbers = last_transformer(context, tag, source), run_numbers(context.numbers)
    start = None if last is None else transformer_start(context, last)
    found = None if start is None or numbers is None else left_of(context, tag, start, numbers)
    if found is None or found.most is None or numbers is None:
        return nothing
    motors = motors_of(context)
    sheet = fault_sheet(context, subject, AVAILABLE, found.counted, motors, numbers)
    return Derived(with_motors(_NOTHING, found.most, motors), unit="kA", worksheet=sheet)


def last_transformer(context: Context, tag: str, source: str) -> Subject | None:
    """The one transformer that is nearest to the piece on every way, and feeds down to it."""
    ways = ways_of(context, tag, source)
    last = {_last_on(context, way) for way in ways.ways} if ways is not None else set()
    found = last.pop() if len(last) == 1 else None
    return None if found is None else context.drawing.pieces[found]


def _last_on(context: Context, way: Way) -> str | None:
    for feed in reversed(way.feeds):
        if context.drawing.is_of(feed.source, "transformer"):
            return feed.source
    return None


# --- least -----------------------------------------------------------------------------------------------------------


def least_of_pair(context: Context, subject: Subject, name: str) -> Derived:
    """From what is left of the least current of a source at the end of hot runs, to what it gives at the least at its
    terminals and what is available at the piece. Of a utility only its letter tells; past a transformer nothing does.
    """
    tag, source = halves(subject)
    giver = context.drawing.pieces.get(source)
    bounds = [context.read(subject, AVAILABLE)]
    least = _NOTHING
    if giver is not None and giver.type in LEAST_GIVEN_BY:
        if not transformer_between(context, tag, source):
            bounds.append(context.read(giver, LEAST_GIVEN_BY[giver.type]))
        least = _least_of_source(context, tag, giver)
    value = _at_most(smallest(bounds, skip_absent=True))
    high = value.hull.high if value.hull is not None else None
    return Derived(between(rounded(least if high is None else min(least, high)), high), unit="kA")


def _least_of_source(context: Context, tag: str, giver: Subject) -> Fraction:
    """At the end of every way by itself, over every kind of fault that the run can have at its end."""
    fact = LEAST_GIVEN_BY[giver.type]
    numbers, known = run_numbers(context.numbers), context.known(giver, fact)
    if known.value.hull is None or not known.value.hull.low:
        return _NOTHING
    if numbers is None or tag not in context.drawing.pieces or transformer_between(context, tag, giver.id):
        return _NOTHING
    ways = ways_of(context, tag, giver.id)
    is_fed = giver.id in context.drawing.sources_reaching(tag) and not listed_interlocks(context).possible
    if ways is None or not is_fed:
        return _NOTHING
    start = Start(giver.id, fact, known, kinds_of(context, giver, None))
    return min(least_at_end(start, whole(runs_of(context, way, numbers, start, hot=True))) for way in ways.ways)


def least_from_utility(context: Context, subject: Subject, name: str) -> Derived:
    """At the far end of a run: the least of what the utilities that can feed it drive into a fault there, of those that
    say it. None where none does, so that nobody is asked for what a letter seldom tells.
    """
    feed, drawing = context.drawing.feed(subject), context.drawing
    if not drawing.is_of(feed.to, "rated_for_fault"):
        return Derived(ABSENT)
    reaching = drawing.sources_reaching(feed.source) or (feed.source,)
    utilities = [tag for tag in reaching if drawing.is_of(tag, "utility_supply")]
    saying = [tag for tag in utilities if is_stated(context, drawing.pieces[tag], LEAST_GIVEN_BY["utility_supply"])]
    if not saying:
        return Derived(ABSENT)
    pairs = [fault_source(feed.to, tag) for tag in saying]
    return Derived(smallest([context.read(pair, LEAST) for pair in pairs], skip_absent=False), unit="kA")


def least_of_run(context: Context, subject: Subject, name: str) -> Derived:
    """At the far end of a run: the least of what single sources drive into a fault there."""
    feed = context.drawing.feed(subject)
    drawing = context.drawing
    sources = drawing.sources_reaching(feed.source) or ((feed.source,) if drawing.is_of(feed.source, "source") else ())
    if not sources or not drawing.is_of(feed.to, "rated_for_fault"):
        reason = f"what is left at the end of {subject} is worked out only where a source feeds equipment with a rating"
        return no_answer(reason)
    pairs = [context.read(fault_source(feed.to, source), LEAST) for source in sources]
    return Derived(smallest(pairs, skip_absent=False), unit="kA")
