"""The gas line as it is described: pieces of pipe from tee to tee, where each starts and ends, and what hangs there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context
from checker.facts.fuel.ends import Ends, ends_of
from checker.site.model import Subject

READS = ("starts_at", "ends_at", "pipe_length", "fittings_length", "name")

CAP = "cap"
"""The word for an end at which nothing hangs."""


@dataclass(frozen=True, slots=True)
class Pipe:
    """One piece of pipe: from which place to which, and its length with fittings in feet.

    ``start`` and ``end`` are the places as they are compared, ``places`` as they are written.
    """

    subject: Subject
    start: str
    end: str
    length: Ends
    places: tuple[str, str]


@dataclass(frozen=True, slots=True)
class Line:
    """All pieces of pipe that are listed, with the places that are known by name, and whether those are all."""

    pipes: tuple[Pipe, ...]
    starts: Mapping[str, Subject]
    sets: Mapping[str, Subject]
    appliances: Mapping[str, tuple[Subject, ...]]
    unnamed: tuple[Subject, ...]
    all_pipes: bool
    all_appliances: bool

    def of(self, subject: Subject) -> Pipe:
        """The piece of a subject."""
        return next(pipe for pipe in self.pipes if pipe.subject == subject)

    def next(self, pipe: Pipe) -> Iterator[Pipe]:
        """The pieces that start where this one ends."""
        return (each for each in self.pipes if each.start == pipe.end)

    def before(self, pipe: Pipe) -> Pipe | None:
        """The piece that ends where this one starts."""
        return next((each for each in self.pipes if each.end == pipe.start), None)

    def past(self, pipe: Pipe) -> Iterator[Pipe]:
        """This piece and every one past it."""
        yield pipe
        for each in self.next(pipe):
            yield from self.past(each)

    def run(self, pipe: Pipe) -> tuple[Pipe, ...]:
        """The pieces from the meter, tank or regulator to the end of this one."""
        if pipe.start in self.starts:
            return (pipe,)
        before = self.before(pipe)
        return (pipe,) if before is None else (*self.run(before), pipe)

    def source(self, pipe: Pipe) -> Subject | None:
        """The meter, tank or regulator at which the run of this piece begins."""
        return self.starts.get(self.run(pipe)[0].start)

    def ends_past(self, pipe: Pipe) -> Iterator[Pipe]:
        """The last pieces before an end or the next regulator, at or past this one."""
        following = () if pipe.end in self.starts else tuple(self.next(pipe))
        if not following:
            yield pipe
        for each in following:
            yield from self.ends_past(each)

    def first(self, pipe: Pipe) -> Iterator[Pipe]:
        """The pieces that leave the meter, tank or regulator of this one."""
        start = self.run(pipe)[0].start
        return (each for each in self.pipes if each.start == start)

    def is_open(self, pipe: Pipe) -> bool:
        """Whether something may hang at its end that is not on the lists."""
        known = pipe.end in (*self.sets, *self.appliances, *self.starts, CAP)
        return not known and not any(True for _ in self.next(pipe))


def line(context: Context) -> Line:
    """The gas line; raises OutsideLimits where its pieces do not hang together, with the piece and the place."""
    pipes = context.members("gas_pipes")
    appliances = context.members("gas_appliances")
    named: dict[str, tuple[Subject, ...]] = {}
    unnamed: list[Subject] = []
    for each in appliances.members:
        name = context.read(each, "name").atom
        if name is None:
            unnamed.append(each)
        else:
            named[_place(name)] = (*named.get(_place(name), ()), each)
    drawing = context.drawing
    found = Line(
        tuple(_pipe(context, each) for each in pipes.members),
        {_place(tag): drawing.pieces[tag] for tag in drawing.of("gas_source")},
        {_place(tag): drawing.pieces[tag] for tag in drawing.of("generator")},
        named,
        tuple(unnamed),
        pipes.complete,
        appliances.complete,
    )
    _check(found)
    return found


def _pipe(context: Context, subject: Subject) -> Pipe:
    start, end = (context.read(subject, name).atom for name in ("starts_at", "ends_at"))
    if start is None or end is None:
        raise OutsideLimits(f"{subject} does not say from where to where it runs")
    length = ends_of(context.read(subject, "pipe_length")) + ends_of(context.read(subject, "fittings_length"))
    return Pipe(subject, _place(start), _place(end), length, (str(start), str(end)))


def _place(name: object) -> str:
    """A place as it is compared: letters of either case, single spaces."""
    return " ".join(str(name).casefold().split())


def _check(found: Line) -> None:
    ends = [pipe.end for pipe in found.pipes if pipe.end != CAP]
    for pipe in found.pipes:
        if ends.count(pipe.end) > 1:
            raise OutsideLimits(f"more than one piece of gas pipe ends at {pipe.places[1]}")
        if pipe.start not in found.starts and pipe.start not in ends:
            raise OutsideLimits(
                f"{pipe.subject} starts at {pipe.places[0]}, which is no gas meter, regulator or tank on the drawing, "
                "and no piece of gas pipe ends there"
            )
        _check_ring(found, pipe)
        if found.is_open(pipe) and found.all_pipes and found.all_appliances:
            raise OutsideLimits(
                f"{pipe.subject} ends at {pipe.places[1]}, which is no set, regulator or appliance on the lists, and "
                "no piece of gas pipe starts there; write cap where it is capped"
            )


def _check_ring(found: Line, pipe: Pipe) -> None:
    here: Pipe | None = pipe
    for _ in found.pipes:
        here = None if here is None else found.before(here)
        if here is pipe:
            raise OutsideLimits(f"{pipe.subject} comes after itself")
