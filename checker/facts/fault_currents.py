"""Fault currents: what each source can drive into a fault at a piece, and all of them that feed it at once.

**Where a calculation goes.** Everything here is built on one fact of the pair of a piece and a source,
``P1~UTIL.available_fault_current``: what is available at the piece from that source. A person states it, from a study;
otherwise ``of_pair`` derives it. Today it derives only a bound from above. A calculation along the runs replaces the
body of ``of_pair`` (and of ``least_of_pair`` for the least current): same arguments, the figure with its worksheet as
the result. The sums over sources, the rules and the comparison with a stated figure follow by themselves.

A figure that is too low hurts people, so that from above only that bounds which nothing past it can add to: impedance
ahead of a fault takes current away and never adds, while motors feed a fault back (the site says how much), a
transformer turns volts into amperes (nothing is said past one), and another source is a pair of its own.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from checker.facts.carrying import TOO_MANY, all_between
from checker.facts.derivation import Context, Derived
from checker.facts.drawing import NO_CORD, OPEN_END, Leg
from checker.facts.interlocks import interlocks_of, listed_interlocks
from checker.facts.overcurrent import no_line
from checker.facts.pairs import fault_source, halves
from checker.facts.roles import flag
from checker.facts.routes import Route, TooManyRoutes, Weigh, first_route, is_side_to_side, perhaps, surely, turns_in
from checker.facts.supplies import BOTH, NoCurrents, Supplies, Supply, TooManySupplies, goes_over_closed
from checker.site.model import SITE, Subject
from checker.values.arithmetic import largest, smallest, total
from checker.values.possible import Possible, Span, between, number, undefined
from checker.values.truth import Truth

AVAILABLE, LEAST = "available_fault_current", "least_fault_current"
_GIVEN_BY = {"utility_supply": AVAILABLE, "generator": "greatest_fault_current"}

NOWHERE: Mapping[str, str] = {}
"""No switch has to stand anywhere."""

Combination = frozenset[str]
"""Sources that can drive a fault at one place together; an end of a line that is not drawn counts as one."""


# --- one source ------------------------------------------------------------------------------------------------------


def of_pair(context: Context, subject: Subject, name: str) -> Derived:
    """At most what the source gives at its own terminals (of a utility: at the service point) and what the motors of
    the site add; nothing past a transformer, and nothing of an inverter, whose figure the catalog does not have.

    It is the current of the fault for which the figure of the source is given. Source: impedance in series takes
    current away; NFPA 70 definition of available fault current.
    """
    if name != AVAILABLE:
        return Derived(context.catalog.facts[name].anything())
    tag, source = halves(subject)
    giver = context.drawing.pieces.get(source)
    fact = None if giver is None else _GIVEN_BY.get(giver.type)
    if giver is None or fact is None or tag not in context.drawing.pieces:
        return Derived(between(0, None))
    if _transformer_between(context, tag, source):
        reason = f"a transformer may lie between {source} and {tag}, and what comes through it is not worked out"
        return Derived(between(0, None), reasons=(reason,))
    return Derived(_at_most(total([context.read(giver, fact), _motors(context)])), unit="kA")


def least_of_pair(context: Context, subject: Subject, name: str) -> Derived:
    """At most what is available at the piece, and at most the least current of the set at its terminals; how far it
    falls along the run is not worked out.
    """
    source = context.drawing.pieces.get(halves(subject)[1])
    bounds = [context.read(subject, AVAILABLE)]
    if source is not None and source.type == "generator":
        bounds.append(context.read(source, LEAST))
    return Derived(_at_most(smallest(bounds, skip_absent=True)), unit="kA")


def _motors(context: Context) -> Possible:
    """What the motors of the site add; none is nothing."""
    motors = context.read(SITE, "motor_fault_current")
    return number(0) if motors.only_absent else _or_nothing(motors)


def _or_nothing(value: Possible) -> Possible:
    there = value.present()
    return there.union(number(0)) if value.absent and there is not None else value


def _at_most(value: Possible) -> Possible:
    """From nothing to the greatest that is possible."""
    hull = value.hull
    if hull is None or value.undefined:
        return between(0, None)
    return Possible(spans=(Span(number(0).spans[0].low, hull.high, False, hull.high_open),))


def _transformer_between(context: Context, tag: str, source: str) -> bool:
    """Whether a transformer is on a line from the source down to the piece; for a source that can only come back from
    below, whether there is one at all.
    """
    drawing = context.drawing
    transformers = drawing.of("transformer")
    if source not in drawing.sources_reaching(tag):
        return bool(transformers)
    past_source = drawing.fed_in_any_way(source)
    return any(each in past_source and tag in drawing.fed_in_any_way(each) for each in transformers)


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
        return Derived(undefined(TOO_MANY), reasons=(TOO_MANY,))
    least, most = (_largest_sum(context, tag, each) for each in (sure, possible))
    value = least if sure == possible else all_between(least, most)
    if entry is None and not context.read(SITE, "other_sources").only_absent:
        reason = "there may be other sources than those on the drawing"
        low = value.hull.low if value.hull is not None else None
        value = Possible(spans=(Span(low, None),), undefined=(*value.undefined, reason))
    return Derived(value, unit="kA", state=_words(possible), reasons=value.undefined)


def _largest_sum(context: Context, tag: str, combinations: Iterable[Combination]) -> Possible:
    sums = [
        total([_from(context, tag, source) for source in sorted(sources)])
        for sources in sorted(combinations, key=sorted)
    ]
    return largest(sums, skip_absent=False)


def _from(context: Context, tag: str, source: str) -> Possible:
    if source not in context.drawing.pieces:
        return undefined(f"it is not drawn what can feed {tag}")
    return context.read(fault_source(tag, source), AVAILABLE)


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
            combinations = combinations_at(context, subject.id, None, weigh)
            several = [each for each in combinations if len(each) > 1]
            if several:
                return Derived(flag(answer), state=_words(several) if answer is Truth.YES else None)
    except (TooManySupplies, TooManyRoutes):
        return Derived(flag(Truth.UNKNOWN))
    return Derived(flag(Truth.NO))


def combinations_at(context: Context, tag: str, entry: str | None, weigh: Weigh) -> frozenset[Combination]:
    """The sources that drive a fault at a place together. Sources that only come back from below are added to each: of
    what is sure those for which no switch has to stand in two positions, of what is possible all.
    """
    supplies = Supplies(context, NoCurrents(), weigh, in_transfer=True)
    found = supplies.whole(supplies.of_piece(tag) if entry is None else supplies.of_input(tag, entry))
    is_bound = weigh(Truth.UNKNOWN)
    back = frozenset(_coming_back(context, tag, weigh)) if entry is None and is_bound else frozenset()
    combinations = (
        _without_dead_cords(each) | (back if entry is not None or is_bound else _agreeing(context, tag, each))
        for each in found
    )
    return frozenset(combinations) - {frozenset()}


def _agreeing(context: Context, tag: str, supply: Supply) -> Combination:
    """The sources that surely can come back while switches stand, and devices are closed, as the supply needs them."""
    stands, devices, added = dict(supply.positions), supply.devices, set[str]()
    for source in _ends(context):
        route = _route_back(context, tag, source, surely, stands, devices)
        if route is not None:
            stands |= _positions_on(context, route)
            devices = devices.union(*(context.drawing.devices(leg.feed) for leg in route.legs))
            added.add(source)
    return frozenset(added)


def _positions_on(context: Context, route: Route) -> dict[str, str]:
    """Where the transfer switches on a route stand."""
    stands: dict[str, str] = {}
    for leg in route.legs:
        if context.drawing.is_of(leg.feed.to, "transfer_switch"):
            entry = leg.feed.input
            stands[leg.feed.to] = entry if stands.get(leg.feed.to, entry) == entry else BOTH
    return stands


def _without_dead_cords(supply: Supply) -> Combination:
    """An inlet without a cord adds nothing to what else feeds; alone it stands for the set that will be put to it."""
    live = supply.sources - {NO_CORD}
    return live or supply.sources


def _ends(context: Context) -> tuple[str, ...]:
    """What can come back: the sources, and a line that ends in the air, which counts as one."""
    return (*context.drawing.of("source"), OPEN_END)


def _coming_back(context: Context, tag: str, weigh: Weigh) -> Iterator[str]:
    """Sources that can reach a place another way than it is drawn to be fed, while something is closed on both
    sides.
    """
    yield from (end for end in _ends(context) if _route_back(context, tag, end, weigh) is not None)


def _route_back(
    context: Context,
    tag: str,
    source: str,
    weigh: Weigh,
    stands: Mapping[str, str] = NOWHERE,
    devices: frozenset[str] = frozenset(),
) -> Route | None:
    """A route by which a source comes back to a place while some switches stand and some devices are closed."""
    drawing = context.drawing

    def passes(piece: str, came: Leg | None, goes: Leg) -> bool:
        if not _agrees(context, piece, came, goes, stands):
            return False
        if not is_side_to_side(came, goes):
            return True
        if drawing.is_of(piece, "transfer_switch"):
            return weigh(goes_over_closed(context, piece))
        return weigh(Truth.UNKNOWN) or interlocks_of(context).complete

    def arrives(legs: Sequence[Leg]) -> bool:
        return legs[-1].end == source and bool(turns_in(legs))

    listed = listed_interlocks(context)
    apart = listed.sure if weigh(Truth.UNKNOWN) else listed.possible
    return first_route(drawing, tag, passes, arrives, apart, devices)


def _agrees(context: Context, piece: str, came: Leg | None, goes: Leg, stands: Mapping[str, str]) -> bool:
    """Whether a switch that a route passes can stand for it as it already stands."""
    if not context.drawing.is_of(piece, "transfer_switch"):
        return True
    if is_side_to_side(came, goes):
        wanted = BOTH
    elif goes.up:
        wanted = goes.feed.input
    elif came is not None and not came.up:
        wanted = came.feed.input
    else:
        return True
    return stands.get(piece, wanted) == wanted
