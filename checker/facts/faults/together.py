"""Fault currents of all sources that feed a piece at once, over every state.

Everything here is built on one fact of the pair of a piece and a source, ``P1~UTIL.available_fault_current``: what is
available at the piece from that source. A person states it, from a study; otherwise ``checker.facts.faults`` works it
out along the runs. The rules and the comparison with a stated figure follow by themselves.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.drawing import MAIN, NO_CORD, OPEN_END, PLAIN
from checker.facts.faults.ways import passing
from checker.facts.line.carrying import TOO_MANY, all_between
from checker.facts.line.interlocks import interlocks_of, listed_interlocks
from checker.facts.line.overcurrent import no_line
from checker.facts.line.roles import flag
from checker.facts.line.routes import (
    Arrives,
    Route,
    TooManyRoutes,
    Weigh,
    every_route,
    first_route,
    perhaps,
    surely,
    turns_in,
)
from checker.facts.line.supplies import BOTH, MOST_SUPPLIES, NoCurrents, Supplies, Supply, TooManySupplies
from checker.facts.pairs import fault_source
from checker.site.model import SITE, Subject
from checker.values.arithmetic import largest, smallest, total
from checker.values.possible import ABSENT, Possible, Span, number, undefined
from checker.values.truth import Truth

AVAILABLE, TO_NEUTRAL = "available_fault_current", "fault_current_to_neutral"

Combination = frozenset[str]
"""Sources that can drive a fault at one place together; an end of a line that is not drawn counts as one."""

_NO_SUPPLY = Supply(frozenset(), ABSENT)


@dataclass(frozen=True, slots=True)
class _WayBack:
    """Sources that come back, where the switches stand for it, and the ways whose devices are closed."""

    sources: Combination
    positions: frozenset[tuple[str, str]]
    devices: frozenset[str]

    def with_(self, other: _WayBack) -> _WayBack:
        """Both at once."""
        return _WayBack(self.sources | other.sources, self.positions | other.positions, self.devices | other.devices)

    def asks_more_than(self, other: _WayBack) -> bool:
        """Whether the same sources come with less."""
        more = other.positions <= self.positions and other.devices <= self.devices
        return more and self != other and self.sources == other.sources


# --- all sources -----------------------------------------------------------------------------------------------------


def greatest(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest current that all sources together can drive into a fault at a piece, over every state.

    Sources that can feed it at once add: sets on one bus, and both sides of a closed transition while it lasts. A
    source that can come back from below in a tie or an overlap may add to what comes from above. Unknown while there
    may be sources that are not on the drawing.
    """
    if context.drawing.source_of(subject.id) is None:
        return no_line(subject)
    return _greatest_of(context, subject.id, None)


def on_normal_side(context: Context, subject: Subject, name: str) -> Derived:
    """The greatest current that the sources of the normal side can drive into a fault at a switch: of a chain of
    switches the greatest of its sources, of a bus their sum.
    """
    if context.drawing.source_of(subject.id, "normal") is None:
        return no_line(subject)
    return _greatest_of(context, subject.id, "normal")


def _greatest_of(context: Context, tag: str, entry: str | None) -> Derived:
    try:
        sure, possible = (combinations_at(context, tag, entry, weigh) for weigh in (surely, perhaps))
    except (TooManySupplies, TooManyRoutes):
        return no_answer(TOO_MANY)
    least, most = (_largest_sum(context, tag, each) if each else number(0) for each in (sure, possible))
    value = least if sure == possible else all_between(least, most)
    if entry is None and not context.read(SITE, "other_sources").only_absent:
        reason = "there may be other sources than those on the drawing"
        low = value.hull.low if value.hull is not None else None
        value = Possible(spans=(Span(low, None),), undefined=(*value.undefined, reason))
    return Derived(value, unit="kA", state=_words(possible), reasons=value.undefined)


def _largest_sum(context: Context, tag: str, combinations: Iterable[Combination]) -> Possible:
    sums = [
        _together([_from(context, tag, source) for source in sorted(sources)])
        for sources in sorted(combinations, key=sorted)
    ]
    return largest(sums, skip_absent=False)


def _together(currents: Sequence[Possible]) -> Possible:
    """The sum. Currents that are worked out each by itself may come by one run, past which both together are less than
    their sum, and no less than the larger of them.
    """
    summed = total(currents)
    if len(currents) == 1 or summed.is_exact or not summed.spans or summed.undefined or summed.absent:
        return summed
    lows = [each.hull.low for each in currents if each.hull is not None and each.hull.low is not None]
    (first, *_), hull = summed.spans, summed.hull
    low = max(lows, default=first.low)
    return Possible(spans=(Span(low, None if hull is None else hull.high, False, hull is not None and hull.high_open),))


def _from(context: Context, tag: str, source: str) -> Possible:
    if source not in context.drawing.pieces:
        return undefined(f"it is not drawn what can feed {tag}")
    pair = fault_source(tag, source)
    return largest([context.read(pair, AVAILABLE), context.read(pair, TO_NEUTRAL)], skip_absent=True)


def _words(combinations: Iterable[Combination]) -> str | None:
    """The sources that feed it at once, where several do."""
    most = max(combinations, key=lambda each: (len(each), sorted(each)), default=frozenset())
    return f"{', '.join(sorted(most))} at once" if len(most) > 1 else None


def least(context: Context, subject: Subject, name: str) -> Derived:
    """The least of what single sources drive into a fault at a piece: of every source that can feed it alone."""
    drawing = context.drawing
    if drawing.source_of(subject.id) is None:
        return no_line(subject)
    sources = drawing.sources_reaching(subject.id)
    return Derived(
        smallest([context.read(fault_source(subject.id, source), name) for source in sources], skip_absent=False),
        unit="kA",
    )


def several_at_once(context: Context, subject: Subject, name: str) -> Derived:
    """Whether more than one source can drive a fault at the piece at the same time, if only for a moment."""
    if context.drawing.source_of(subject.id) is None:
        return no_line(subject)
    try:
        for weigh, answer in ((surely, Truth.YES), (perhaps, Truth.UNKNOWN)):
            combinations = combinations_at(context, subject.id, None, weigh, built_for=False)
            several = [each for each in combinations if len(each) > 1]
            if several:
                return Derived(flag(answer), state=_words(several) if answer is Truth.YES else None)
    except (TooManySupplies, TooManyRoutes):
        return Derived(flag(Truth.UNKNOWN))
    return Derived(flag(Truth.NO))


def combinations_at(
    context: Context, tag: str, entry: str | None, weigh: Weigh, *, built_for: bool = True
) -> frozenset[Combination]:
    """The sources that drive a fault at a place together. Sources that only come back from below are added to each: of
    what is sure those for which no switch has to stand in two positions, of what is possible all.

    Where interlocks never let a line be closed, what it is built for may count, or nothing of it. Of what is sure there
    may be none.
    """
    supplies = Supplies(context, NoCurrents(), weigh, in_transfer=True)
    if entry is not None:
        return frozenset(_without_dead_cords(each) for each in supplies.whole(supplies.of_input(tag, entry)))
    found = supplies.of_piece(tag)
    closed = supplies.closed(found)
    if weigh(Truth.UNKNOWN):
        back = frozenset(_coming_back(context, tag))
        starting = closed or (found if built_for else (_NO_SUPPLY,))
        return frozenset(_without_dead_cords(each) | back for each in starting) - {frozenset()}
    ways_back = _ways_back(context, tag)
    sure = closed or (_of_no_closed_line(context, tag, found) if built_for else (_NO_SUPPLY,))
    return frozenset(each for supply in sure for each in _joined_by(context, supply, ways_back)) - {frozenset()}


def _of_no_closed_line(context: Context, tag: str, found: Sequence[Supply]) -> Sequence[Supply]:
    """Where interlocks leave no line closed: what it is built for, if nothing else can come and nothing is open about
    the interlocks; otherwise only what comes back is sure.
    """
    listed = interlocks_of(context)
    is_open = not listed.complete or len(listed.sure) < len(listed.possible)
    return (_NO_SUPPLY,) if is_open or any(_coming_back(context, tag)) else found


def _joined_by(context: Context, supply: Supply, ways_back: Iterable[_WayBack]) -> Iterator[Combination]:
    """The sources of a supply with those that can come back together while it stands: every such choice to which none
    can be added. The first way that is found will not do, since it may keep another source from coming.
    """
    together = {_WayBack(frozenset(), supply.positions, supply.devices)}
    for way in ways_back:
        if not way.sources <= supply.sources:
            together |= {each.with_(way) for each in together if _go_together(context, each, way)}
        if len(together) > MOST_SUPPLIES:
            raise TooManySupplies
    added = {each.sources for each in together}
    own = _without_dead_cords(supply)
    yield from (own | each for each in added if not any(each < other for other in added))


def _go_together(context: Context, one: _WayBack, other: _WayBack) -> bool:
    """Whether no switch has to stand in two positions, and no interlock keeps two devices apart. One that is not listed
    may stand between any two feeds of boards.
    """
    stands = dict(one.positions)
    if any(stands.get(tag, entry) != entry for tag, entry in other.positions):
        return False
    listed = interlocks_of(context)
    devices = one.devices | other.devices
    if not listed.complete and len(devices & _feeds_of_boards(context)) > 1:
        return False
    return not any(pair <= devices for pair in listed.possible)


def _feeds_of_boards(context: Context) -> frozenset[str]:
    """The devices by which boards with several feeds are fed."""
    drawing = context.drawing
    boards = (tag for tag in drawing.selectors if not drawing.is_of(tag, "transfer_switch"))
    return frozenset(f"{tag}/{MAIN if entry == PLAIN else entry}" for tag in boards for entry in drawing.inputs(tag))


def _positions_on(context: Context, route: Route) -> frozenset[tuple[str, str]]:
    """Where the transfer switches on a route stand."""
    stands: dict[str, str] = {}
    for leg in route.legs:
        if context.drawing.is_of(leg.feed.to, "transfer_switch"):
            entry = leg.feed.input
            stands[leg.feed.to] = entry if stands.get(leg.feed.to, entry) == entry else BOTH
    return frozenset(stands.items())


def _without_dead_cords(supply: Supply) -> Combination:
    """An inlet without a cord adds nothing to what else feeds; alone it stands for the set that will be put to it."""
    live = supply.sources - {NO_CORD}
    return live or supply.sources


def _ends(context: Context) -> tuple[str, ...]:
    """What can come back: the sources, and a line that ends in the air, which counts as one."""
    return (*context.drawing.of("source"), OPEN_END)


def _coming_back(context: Context, tag: str) -> Iterator[str]:
    """Sources that may reach a place another way than it is drawn to be fed, while something is closed on both
    sides.
    """
    apart = listed_interlocks(context).sure
    for end in _ends(context):
        if first_route(context.drawing, tag, passing(context, perhaps), _arriving((end,)), apart) is not None:
            yield end


def _ways_back(context: Context, tag: str) -> tuple[_WayBack, ...]:
    """Every way by which a source surely can come back, but those that ask for more than another one does."""
    apart = listed_interlocks(context).possible
    routes = every_route(context.drawing, tag, passing(context, surely), _arriving(_ends(context)), apart)
    found = tuple(
        dict.fromkeys(
            _WayBack(
                frozenset({route.end}),
                _positions_on(context, route),
                frozenset[str]().union(*(context.drawing.devices(leg.feed) for leg in route.legs)),
            )
            for route in routes
        )
    )
    return tuple(each for each in found if not any(each.asks_more_than(other) for other in found))


def _arriving(ends: Sequence[str]) -> Arrives:
    return lambda legs: legs[-1].end in ends and bool(turns_in(legs))
