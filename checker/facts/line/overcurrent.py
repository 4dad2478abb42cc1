"""Overcurrent devices ahead of a place, looking through what lies between."""

from __future__ import annotations

from checker.catalog.names import MAIN_WAY
from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.facts.drawing import NORMAL, PLAIN, Path
from checker.site.model import Feed, Site, Subject
from checker.values.possible import ABSENT, Possible, exactly

DEVICE = "overcurrent"


PASSES_STRAIGHT = ("transfer_switch", "disconnect")
"""Kinds whose load side is one line: what feeds on from them without a way has no further device of theirs."""


def way_of(context: Context, feed: Feed) -> Subject | None:
    """The way from which a feed leaves: as named, or, from a piece that can have devices in its ways, one not shown."""
    if feed.way is not None:
        return Subject("way", f"{feed.source}/{feed.way}")
    kind = context.drawing.pieces[feed.source].type
    if kind in PASSES_STRAIGHT or not context.catalog.kinds[kind].has_ways:
        return None
    return Subject("way", f"{feed.source}/to {feed.to}")


def built_in_way(context: Context, tag: str, entry: str) -> Subject | None:
    """The way that holds the device built into a piece on the side of this input, for kinds that can have one."""
    if not context.drawing.is_of(tag, "disconnecting"):
        return None
    return Subject("way", f"{tag}/{MAIN_WAY if entry == PLAIN else entry}")


def devices_ahead(context: Context, path: Path) -> tuple[Subject, ...]:
    """The ways with an overcurrent device, or room for one, along a path from its lower end up, the nearest first.

    A transformer ends it: amperes ahead of one are amperes at another voltage.
    """
    found: list[Subject] = []
    for index, feed in enumerate(path.feeds):
        way = way_of(context, feed)
        if way is not None:
            found.append(way)
        if context.drawing.is_of(feed.source, "transformer"):
            break
        following = path.feeds[index + 1] if index + 1 < len(path.feeds) else None
        inside = built_in_way(context, feed.source, following.input) if following is not None else None
        if inside is not None and inside != way:
            found.append(inside)
    return tuple(found)


def ahead_of_side(context: Context, side: Subject) -> tuple[Subject, ...] | None:
    """The devices ahead of one side of a switch, its own first; None where the line runs in a ring or ends in
    nothing.
    """
    tag, entry = side.id.rsplit(".", 1)
    path = context.drawing.path(tag, entry)
    if path.source is None:
        return None
    own = built_in_way(context, tag, entry)
    return (*((own,) if own else ()), *devices_ahead(context, path))


def ahead_of_connection(context: Context, connection: Subject) -> tuple[Subject, ...] | None:
    """The devices ahead of a connection, the one in its own way first; None where the line has no source."""
    feed = context.drawing.feed(connection)
    path = context.drawing.path(feed.to, feed.input)
    return None if path.source is None else devices_ahead(context, path)


def ahead_of(context: Context, subject: Subject) -> tuple[Subject, ...] | None:
    """The devices ahead of a side or a connection, every other switch on normal."""
    return ahead_of_side(context, subject) if subject.type == "side" else ahead_of_connection(context, subject)


def nearest_device(context: Context, subject: Subject, name: str) -> Derived:
    """The nearest overcurrent device ahead: the first that is there; every one up to it while it may be missing."""
    ways = ahead_of(context, subject)
    if ways is None:
        return no_line(subject)
    part_may_be_none = context.catalog.facts[name].may_be_none
    possible: Possible | None = None
    for way in ways:
        whole, value = context.read(way, DEVICE), context.read(way, name)
        if not whole.absent:
            return Derived(value if possible is None else possible.union(value))
        # The device may be missing; its part counts only where the device is there.
        there = value if part_may_be_none and name != DEVICE else value.present()
        if there is not None and not whole.only_absent:
            possible = there if possible is None else possible.union(there)
    return Derived(ABSENT if possible is None else possible.union(ABSENT))


def drawn_ways(site: Site, tag: str) -> tuple[Subject, ...]:
    """The ways of a piece of which the file says something."""
    return tuple(each for each in site.things if each.type == "way" and each.id.rpartition("/")[0] == tag)


def holds_devices(context: Context, subject: Subject, _name: str) -> Derived:
    """Whether overcurrent devices stand in it: of a board always, of another piece where a side or a drawn way of it
    has one.
    """
    if context.drawing.is_of(subject.id, "board"):
        return Derived(exactly(True))
    sides = (built_in_way(context, subject.id, each) for each in context.drawing.inputs(subject.id))
    ways = dict.fromkeys((*sides, *drawn_ways(context.site, subject.id)))
    found = [context.read(way, DEVICE) for way in ways if way is not None]
    if any(not each.absent for each in found):
        return Derived(exactly(True))
    can_be_none = exactly(False)
    return Derived(can_be_none if all(each.only_absent for each in found) else can_be_none.union(exactly(True)))


def incoming_device(context: Context, subject: Subject, name: str) -> Derived:
    """The device built into a piece on its supply side."""
    way = built_in_way(context, subject.id, context.drawing.entry(subject.id) or NORMAL)
    if way is None:
        return Derived(ABSENT)
    part = name.partition(".")[2]
    return Derived(context.read(way, f"{DEVICE}.{part}" if part else DEVICE))


def on_normal_side(part: str) -> Work:
    """Work that reads one part of the nearest device on the normal side of a switch."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        known = context.known(Subject("side", f"{subject.id}.{NORMAL}"), f"{DEVICE}.{part}")
        return Derived(known.value, unit=known.unit, reasons=known.reasons)

    return work


def no_line(subject: Subject) -> Derived:
    """Nothing can be said of a place that no source feeds."""
    return no_answer(f"{subject} is not fed by any source on the drawing")
