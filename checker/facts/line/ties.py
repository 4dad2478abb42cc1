"""Whether a source can be tied to the utility or to a set, and what stays alive or starts when a disconnect is opened.

All of it is looked for along routes, lines in either direction on which two places can be joined: a route stands where
every switch on it can be in the position that it needs and no interlock keeps two of its devices apart. Nothing is
enumerated, so that ten switches cost little more than one. A bypass inside a transfer switch is not looked at here:
rules ask for it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.drawing import ALTERNATE, NO_CORD, OPEN_END, Drawing, Leg
from checker.facts.line.interlocks import Apart, interlocks_of
from checker.facts.line.roles import flag
from checker.facts.line.routes import (
    Arrives,
    Passes,
    Route,
    TooManyRoutes,
    Weigh,
    first_route,
    is_side_to_side,
    perhaps,
    surely,
    turns_in,
)
from checker.facts.line.supplies import goes_over_closed
from checker.site.model import SITE, Subject
from checker.values.possible import exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of, truth_of

_NOT_DRAWN = "something that is not drawn"
_NO_CORD = "whatever is plugged in"


@dataclass(frozen=True, slots=True)
class _Limits:
    """What a route may use: what stands surely or perhaps, which devices are kept apart, and whether it may come into a
    board by one feed and leave it by another.
    """

    weigh: Weigh
    apart: Apart = ()
    turns_in_boards: bool = True


Look = Callable[[_Limits], Route | None]
"""Looks for a route within limits."""


# --- ties ------------------------------------------------------------------------------------------------------------


def ties_to_utility(context: Context, subject: Subject, name: str) -> Derived:
    """Whether any position of switches, breakers and interlocks ties a set or an inverter to a utility supply for good.

    The short overlap of a closed transition is another fact. While it is not known that there are no sources beside
    those on the drawing, nobody can say that there is no tie; the same goes for a line that ends in the air.
    """
    if not context.drawing.out_of(subject.id):
        return feeds_nothing(subject)

    def look(limits: _Limits) -> Route | None:
        arrives = _meets_utility(context, limits.weigh)
        return first_route(context.drawing, subject.id, _one_side_at_a_time(context, limits), arrives, limits.apart)

    tied, route = _best(context, look)
    if tied is Truth.NO:
        tied = _unless_other_sources(context)
    return Derived(flag(tied), state=None if route is None else _words(route, "closed on both sides"))


def joins_a_set(context: Context, subject: Subject, name: str) -> Derived:
    """Whether any position of switches, breakers and interlocks joins an inverter to a set for good.

    An inlet in which no cord is counts as a set, since it is there for one.
    """
    drawing = context.drawing
    if not drawing.out_of(subject.id):
        return feeds_nothing(subject)

    def look(limits: _Limits) -> Route | None:
        open_ends = (OPEN_END,) if limits.weigh(Truth.UNKNOWN) else ()

        def arrives(legs: Sequence[Leg]) -> bool:
            end = legs[-1].end
            return end == NO_CORD or end in open_ends or drawing.is_of(end, "generator")

        return first_route(drawing, subject.id, _one_side_at_a_time(context, limits), arrives, limits.apart)

    joined, route = _best(context, look)
    if joined is Truth.NO:
        joined = _unless_other_sources(context)
    return Derived(flag(joined), state=None if route is None else _words(route, "closed on both sides"))


def overlaps_with_utility(context: Context, subject: Subject, name: str) -> Derived:
    """Whether a closed transition ties the set to a utility supply for a moment."""
    drawing = context.drawing
    if not drawing.out_of(subject.id):
        return feeds_nothing(subject)

    def look(limits: _Limits) -> Route | None:
        meets, one_side = _meets_utility(context, limits.weigh), _one_side_at_a_time(context, limits)

        def passes(tag: str, came: Leg | None, goes: Leg) -> bool:
            if is_side_to_side(came, goes) and drawing.is_of(tag, "transfer_switch"):
                return limits.weigh(goes_over_closed(context, tag))
            return one_side(tag, came, goes)

        def arrives(legs: Sequence[Leg]) -> bool:
            return meets(legs) and any(drawing.is_of(tag, "transfer_switch") for tag in turns_in(legs))

        return first_route(drawing, subject.id, passes, arrives, limits.apart)

    overlap, route = _best(context, look)
    return Derived(flag(overlap), state=None if route is None else _words(route, "on both supplies for a moment"))


def feeds_nothing(subject: Subject) -> Derived:
    """Nothing can be said of a set that feeds nothing on the drawing."""
    return no_answer(f"{subject} feeds nothing on the drawing")


def _one_side_at_a_time(context: Context, limits: _Limits) -> Passes:
    """A listed transfer switch is built so that it cannot stay on both sides; a board can be fed by two feeds at
    once.
    """

    def passes(tag: str, came: Leg | None, goes: Leg) -> bool:
        if not is_side_to_side(came, goes):
            return True
        return limits.turns_in_boards and not context.drawing.is_of(tag, "transfer_switch")

    return passes


def _meets_utility(context: Context, weigh: Weigh) -> Arrives:
    """An open end may be the utility."""
    open_ends = (OPEN_END,) if weigh(Truth.UNKNOWN) else ()

    def arrives(legs: Sequence[Leg]) -> bool:
        end = legs[-1].end
        return end in open_ends or context.drawing.is_of(end, "utility_supply")

    return arrives


def _words(route: Route, how: str) -> str:
    undrawn = {OPEN_END: _NOT_DRAWN, NO_CORD: _NO_CORD}
    tags = (undrawn.get(tag, tag) for tag in route.tags)
    return f"{' and '.join(route.turns)} {how}: {', '.join(tags)}"


def _unless_other_sources(context: Context) -> Truth:
    """No, where it is known that there are no sources beside those on the drawing."""
    return truth_of(False) if context.read(SITE, "other_sources").only_absent else Truth.UNKNOWN


# --- routes that interlocks leave ------------------------------------------------------------------------------------


def _best(context: Context, look: Look) -> tuple[Truth, Route | None]:
    """Whether there is a route that the interlocks leave, with the route. Interlocks are read only where one is.

    An interlock that is not listed would stand between two feeds of a board; it is not looked for along one line.
    """
    try:
        if look(_Limits(perhaps)) is None:
            return Truth.NO, None
        listed = interlocks_of(context)
        sure = look(_Limits(surely, listed.possible, turns_in_boards=listed.complete))
        if sure is not None:
            return Truth.YES, sure
        possible = look(_Limits(perhaps, listed.sure))
        return (Truth.NO if possible is None else Truth.UNKNOWN), possible
    except TooManyRoutes:
        return Truth.UNKNOWN, None


# --- opened by hand --------------------------------------------------------------------------------------------------


def live_again_when_opened(context: Context, subject: Subject, name: str) -> Derived:
    """Whether anything past the disconnect can be live again after it was opened by hand with the utility live.

    What is past it is what hangs on it at rest; it is live also where it is fed back from below. An inverter that only
    follows the utility makes nothing live by itself: with nothing else live on its line it feeds nothing.
    """
    opened = context.drawing.legs(subject.id)[0]
    again, route = _live_again(context, (subject.id, *context.drawing.below(subject.id)), opened)
    if again is Truth.YES and route is not None:
        live = f"{route.start} is live from {route.end}"
        return Derived(exactly(True), state=f"{subject.id} opened by hand, utility live: {live}")
    return Derived(flag(_unless_other_sources(context) if again is Truth.NO else again))


def _live_again(context: Context, past: tuple[str, ...], opened: Leg) -> tuple[Truth, Route | None]:
    """Whether one of these pieces can be live with one line opened; a search that is given up ends the looking."""
    drawing = context.drawing
    together = drawing.hanging_with(opened.feed.to, without=opened.feed)
    found: tuple[Truth, Route | None] = (Truth.NO, None)
    if not any(_can_feed(context, tag, perhaps) for tag in together):
        return found
    for tag in past:
        live, route = _best(context, _live_from_anything(context, tag, opened))
        if live is Truth.YES or (live is Truth.UNKNOWN and route is None):
            return live, route
        if live is Truth.UNKNOWN:
            found = live, route
    return found


def _live_from_anything(context: Context, start: str, opened: Leg) -> Look:
    """Looks for a route to a source that does not lead through what was opened. A cord may be put in at any time."""
    drawing = context.drawing

    def look(limits: _Limits) -> Route | None:
        one_side = _one_side_at_a_time(context, limits)
        return first_route(
            drawing,
            start,
            lambda tag, came, goes: goes.feed != opened.feed and one_side(tag, came, goes),
            lambda legs: _can_feed(context, legs[-1].end, limits.weigh),
            limits.apart,
        )

    return look


def _can_feed(context: Context, end: str, weigh: Weigh) -> bool:
    """Whether the end of a route can make it live with nothing else live on it."""
    if end in (OPEN_END, NO_CORD):
        return weigh(Truth.UNKNOWN)
    if not context.drawing.is_of(end, "inverter"):
        return context.drawing.is_of(end, "source")
    return weigh(relate("is", context.read(context.drawing.pieces[end], "forms_its_own_grid"), exactly(True)))


def starts_a_set_when_opened(context: Context, subject: Subject, name: str) -> Derived:
    """Whether opening it by hand with the utility live makes a set start by itself: an automatic switch past it loses
    normal.

    A switch that is fed by a set and on which nothing hangs at rest is dead already and loses nothing.
    """
    drawing = context.drawing
    past = (tag for tag in (subject.id, *drawing.below(subject.id)) if drawing.is_of(tag, "transfer_switch"))
    answers = {tag: _calls_for_a_set(context, tag) for tag in past if _may_lose_something(drawing, tag)}
    answer = any_of(answers.values())
    calling = next((tag for tag, calls in answers.items() if calls is Truth.YES), None)
    state = None if calling is None else f"{subject.id} opened by hand, utility live: {calling} loses its normal supply"
    return Derived(flag(answer), state=state)


def _may_lose_something(drawing: Drawing, switch: str) -> bool:
    """Whether its normal supply is live at rest: the utility's, a set's on which something hangs, or one not drawn."""
    source = drawing.source_of(switch)
    return source is None or drawing.is_of(source, "utility_supply") or bool(drawing.below(switch))


def _calls_for_a_set(context: Context, switch: str) -> Truth:
    """Whether a switch that loses its normal supply starts a set; not decided where a line that matters is not
    drawn.
    """
    drawing = context.drawing
    ends = drawing.ends_above(switch, ALTERNATE)
    if any(drawing.is_of(end, "generator") for end in ends):
        has_set = truth_of(True) if drawing.source_of(switch) is not None else Truth.UNKNOWN
    else:
        has_set = Truth.UNKNOWN if OPEN_END in ends else truth_of(False)
    if has_set is Truth.NO:
        return has_set
    return all_of((has_set, relate("is", context.read(drawing.pieces[switch], "operation"), exactly("automatic"))))
