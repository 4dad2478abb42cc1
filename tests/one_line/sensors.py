"""The second way to work out what the neutral does to a sensor of ground-fault protection: position by position.

The sensor is taken into the net as a link of its own between the line into the piece (with the bond of the piece) and
everything else there. Then a residual or zero-sequence sensor is defeated where, that link cut, a bond hangs on its
load side, and one on the jumper where the jumper is not the one place at which its neutral is bonded.
"""

from __future__ import annotations

from collections.abc import Iterable

from checker.site.model import Feed, Subject
from tests.one_line.enumeration import Net, Plant, Positions

Link = tuple[str, str]


def defeated(plant: Plant) -> dict[str, bool]:
    """Whether each sensor is defeated in some position of the switches."""
    return {tag: any(_Sensor(plant, tag, each).is_defeated() for each in _positions(plant)) for tag in sensed(plant)}


def trips(plant: Plant) -> dict[str, bool]:
    """Whether each sensor has the fault current of a set in it that cannot feed through it, in some position."""
    return {
        tag: any(_Sensor(plant, tag, each).trips_for_a_set() for each in _positions(plant)) for tag in sensed(plant)
    }


def sensed(plant: Plant) -> list[str]:
    """The pieces that are said to have ground-fault protection."""
    return [tag for tag, kind in plant.kinds.items() if plant.is_said(Subject(kind, tag), "ground_fault_protection")]


def _positions(plant: Plant) -> list[Positions]:
    return list(plant.positions(momentary=False))


class _Sensor:
    """One sensor with the switches in one position."""

    def __init__(self, plant: Plant, tag: str, positions: Positions) -> None:
        self._plant = plant
        self._tag = tag
        self._feed = self._main()
        self._net = plant.neutral_net(positions, without=self._feed)
        self._here = f"{tag}.normal" if tag in plant.switches else tag
        self._line = f"{tag} ahead of its sensor"
        if self._feed is not None and plant.carries_neutral(self._feed):
            self._net.join(self._feed.source, self._line)

    def _main(self) -> Feed | None:
        inputs = self._plant.inputs(self._tag)
        return self._plant.feed(self._tag, inputs[0]) if inputs else None

    @property
    def _is_at_the_jumper(self) -> bool:
        return self._plant.of_piece(self._tag, "ground_fault_protection.sensor") == "ground_return"

    def is_defeated(self) -> bool:
        if not self._is_at_the_jumper:
            return any(True for _ in self._bonded(self._net.reached(self._here)))
        self._net.join(self._here, self._line)
        places = {self._plant.place(tag) for tag in self._bonded(self._net.reached(self._line))}
        return len(places) != 1 or not self._plant.is_bonded(self._tag)

    def trips_for_a_set(self) -> bool:
        inputs = self._plant.inputs(self._tag)
        ahead = self._plant.ends_above(self._tag, inputs[0], frozenset()) if inputs else {self._tag}
        sets = [tag for tag in self._plant.of("generator") if tag not in ahead]
        self._net.join(self._here, self._line)
        if self._is_at_the_jumper:
            return self._plant.is_bonded(self._tag) and any(self._line in self._net.reached(tag) for tag in sets)
        link = (self._here, self._line)
        return any(
            any(True for _ in self._bonded(_ends_of_paths_over(self._net, tag, link)))
            for tag in sets
            if tag != self._tag
        )

    def _bonded(self, points: Iterable[str]) -> Iterable[str]:
        """The pieces bonded at these points; the piece itself is so ahead of its sensor."""
        tags = (self._tag if point == self._line else point for point in points if point != self._tag)
        return (tag for tag in tags if tag in self._plant.kinds and self._plant.is_bonded(tag))


def _ends_of_paths_over(net: Net, start: str, link: Link) -> set[str]:
    """Where paths end that pass a link and no point twice."""
    found: set[str] = set()
    waiting: list[tuple[tuple[str, ...], bool]] = [((start,), False)]
    while waiting:
        path, passed = waiting.pop()
        if passed:
            found.add(path[-1])
        further = [point for point in net.neighbors.get(path[-1], ()) if point not in path]
        waiting += [((*path, point), passed or {path[-1], point} == set(link)) for point in further]
    return found
