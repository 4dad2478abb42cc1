"""Currents of a drawing by listing every position: which sources meet at a place, and how much reaches it.

Sources give amounts of which every sum is another number, so that a figure says which of them were counted.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.site.model import Site, Stated, Subject, Thing
from checker.values.positions import Position
from checker.values.possible import Possible, number
from tests.one_line.enumeration import (
    BOARDS,
    DISCONNECTING,
    FREE_END,
    SOURCES,
    Fact,
    NotExact,
    Plant,
    Positions,
    Value,
)

_PLACE = Position("figures", 1, 1)
_RATINGS = (30, 60, 100, 150, 200, 400, 600)


def with_figures(site: Site) -> Site:
    """The drawing with a greatest current for every set, a rating for every device, and for every piece what each
    source drives into a fault at it; the motors add nothing.
    """
    plant, facts = Plant(site), dict[Subject, dict[str, Possible]]()
    for place, tag in enumerate(plant.of(*SOURCES)):
        piece = Subject(plant.kinds[tag], tag)
        current = {"generator": "greatest_current", "inverter": "rated_current"}.get(piece.type)
        if current is not None:
            facts.setdefault(piece, {})[current] = number(50 * 2**place + 1)
        for other in plant.of(*DISCONNECTING):
            pair = Subject("fault_source", f"{other}~{tag}")
            facts[pair] = {"available_fault_current": number(1000 * 2**place)}
    for place, way in enumerate(devices(plant)):
        facts[way] = {"overcurrent.rated_current": number(_RATINGS[place * 5 % len(_RATINGS)])}
    return _stating(site, facts)


def _stating(site: Site, facts: Mapping[Subject, Mapping[str, Possible]]) -> Site:
    things = dict(site.things)
    for subject, values in facts.items():
        old = things.get(subject, Thing(subject, _PLACE, {}))
        added = {name: Stated(value, "figure", _PLACE) for name, value in values.items()}
        things[subject] = Thing(subject, old.at, {**old.facts, **added})
    return replace(site, things=things)


def devices(plant: Plant) -> list[Subject]:
    """Every place for an overcurrent device: where a line leaves a piece with ways, and where it lands."""
    found: dict[Subject, None] = {}
    for feed in plant.feeds:
        way = leaves_by(plant, feed.source, feed.way, feed.to)
        if way is not None:
            found[way] = None
        if plant.kinds[feed.to] in DISCONNECTING:
            found[lands_on(feed.to, feed.input)] = None
    return list(found)


def leaves_by(plant: Plant, source: str, way: str | None, to: str) -> Subject | None:
    """The way of a line at its upper end; all that leaves a switch without naming one is one line."""
    if way is not None:
        return Subject("way", f"{source}/{way}")
    has_ways = plant.kinds[source] in (*SOURCES, *BOARDS, "transformer") and plant.kinds[source] != "utility_supply"
    return Subject("way", f"{source}/to {to}") if has_ways else None


def lands_on(tag: str, entry: str) -> Subject:
    """The way of the device built into a piece."""
    return Subject("way", f"{tag}/{'main' if entry == 'fed_from' else entry}")


@dataclass(frozen=True, slots=True)
class Meeting:
    """What meets at a piece in the positions in which that is most, and whether a line from nowhere ever does."""

    most: int
    at_once: bool
    unknown: bool


def faults(plant: Plant) -> dict[str, Meeting]:
    """For every piece with a fault rating the greatest sum of thousands of amperes, over every position."""
    found = {tag: Meeting(0, at_once=False, unknown=False) for tag in plant.of(*DISCONNECTING)}
    weight = {tag: 2**place for place, tag in enumerate(plant.of(*SOURCES))}
    for positions in plant.positions(momentary=True):
        for closed in plant.closed_devices():
            net = plant.net(positions, closed)
            for tag, so_far in found.items():
                joined = net.reached(tag)
                meeting = [weight[each] for each in joined if each in weight]
                found[tag] = Meeting(
                    max(so_far.most, sum(meeting)),
                    so_far.at_once or len(meeting) > 1,
                    so_far.unknown or any(each.startswith(FREE_END) for each in joined),
                )
    return found


def all_faults(site: Site) -> dict[str, set[Meeting]]:
    """The same for every way to fill in what is not known."""
    found: dict[str, set[Meeting]] = {}
    waiting: list[dict[Fact, Value]] = [{}]
    while waiting:
        filled = waiting.pop()
        try:
            for tag, meeting in faults(Plant(site, filled)).items():
                found.setdefault(tag, set()).add(meeting)
        except NotExact as error:
            waiting += ({**filled, error.fact: choice} for choice in error.choices)
    return found


Capacity = Fraction | None
"""What a line lets through; None is everything."""


def carried(site: Site, plant: Plant, tag: str) -> Capacity:
    """The most that can flow down into a piece for good, over every position, by the cut that lets least through."""
    flows = [
        _least_cut(site, plant, tag, positions, closed)
        for positions in plant.positions(momentary=False)
        for closed in plant.closed_devices()
    ]
    numbers = [flow for flow in flows if flow is not None]
    return max(numbers) if len(numbers) == len(flows) else None


def _least_cut(site: Site, plant: Plant, tag: str, positions: Positions, closed: frozenset[str]) -> Capacity:
    """Every set of pieces with the place in it and no source's own supply: what crosses into it, at its smallest."""
    arcs = list(_arcs(site, plant, positions, closed))
    above = sorted(_above(arcs, tag) - {tag})
    least: Capacity = None
    for choice in range(2 ** len(above)):
        inside = {tag, *(each for place, each in enumerate(above) if choice >> place & 1)}
        crossing = [capacity for upper, lower, capacity in arcs if lower in inside and upper not in inside]
        if None in crossing:
            continue
        summed = sum((capacity for capacity in crossing if capacity is not None), Fraction(0))
        least = summed if least is None else min(least, summed)
    return least


def _above(arcs: list[tuple[str, str, Capacity]], tag: str) -> set[str]:
    found, waiting = {tag}, [tag]
    while waiting:
        here = waiting.pop()
        for upper, lower, _ in arcs:
            if lower == here and upper not in found and upper != "supply":
                found.add(upper)
                waiting.append(upper)
    return found


def _arcs(
    site: Site, plant: Plant, positions: Positions, closed: frozenset[str]
) -> Iterator[tuple[str, str, Capacity]]:
    """Lines that are closed, downward, each with the smaller of its two devices; above every source its supply."""
    opened = frozenset(plant._worked) - closed
    for source in plant.of(*SOURCES):
        name = {"generator": "greatest_current", "inverter": "rated_current"}.get(plant.kinds[source])
        piece = Subject(plant.kinds[source], source)
        yield "supply", source, None if name is None else _figure(site, piece, name)
    for feed in plant.feeds:
        line = plant._line(feed)
        if line.devices & opened or positions.get(feed.to, feed.input) != feed.input:
            continue
        ways = [leaves_by(plant, feed.source, feed.way, feed.to)]
        ways += [lands_on(feed.to, feed.input)] if plant.kinds[feed.to] in DISCONNECTING else []
        ratings = [_figure(site, way, "overcurrent.rated_current") for way in ways if way is not None]
        yield feed.source, feed.to, min(ratings, default=None)


def _figure(site: Site, subject: Subject, name: str) -> Fraction:
    stated = site.stated(subject, name)
    assert stated is not None
    assert stated.value.number is not None
    return stated.value.number
