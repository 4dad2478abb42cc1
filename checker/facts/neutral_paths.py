"""The neutral as a net: which neutrals hang together in a state, where they are bonded, and where they make a ring.

Neutral bars are the pieces; a neutral conductor joins two of them. A transfer switch that carries its neutral solid
joins both its sides in every position; one that opens it joins its load to the side on which it is; one without a
neutral joins nothing. What is not known is counted both ways, so that a ring or a bond is sure, possible or excluded.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import ALTERNATE, NORMAL
from checker.facts.roles import SERVICE, flag
from checker.facts.states import State, walked_states
from checker.site.model import Feed, Subject
from checker.values.possible import between, exactly, number, several
from checker.values.relations import present, relate
from checker.values.truth import Truth, all_of, any_of

_OPENS = several(("switched", "overlapping"))
_AHEAD = several(("emergency_disconnect", "meter_disconnect"))


@dataclass(frozen=True, slots=True)
class Joint:
    """Two neutral bars and whether they are joined."""

    one: str
    other: str
    joined: Truth


def _joints(context: Context, state: State) -> tuple[Joint, ...]:
    """Every neutral joint of the drawing in one state. A switch has a bar for its load and one for each side."""
    joints = [_of_feed(context, feed) for feed in context.drawing.feeds]
    for tag in context.drawing.of("transfer_switch"):
        joints += _in_switch(context, tag, state)
    return tuple(joints)


def _of_feed(context: Context, feed: Feed) -> Joint:
    end = f"{feed.to}.{feed.input}" if context.drawing.is_of(feed.to, "transfer_switch") else feed.to
    joined = all_of((_has_neutral(context, feed), present(context.read(feed.subject, "neutral_conductor"))))
    return Joint(feed.source, end, joined)


def _has_neutral(context: Context, feed: Feed) -> Truth:
    return present(context.read(feed.subject, "system.to_neutral"))


def _in_switch(context: Context, tag: str, state: State) -> list[Joint]:
    neutral = context.read(context.drawing.pieces[tag], "neutral")
    solid, opens = relate("is", neutral, exactly("solid")), relate("one_of", neutral, _OPENS)
    position = state.input_of(context.drawing, tag)
    return [
        Joint(tag, f"{tag}.{side}", any_of((solid, opens if side == position else Truth.NO)))
        for side in (NORMAL, ALTERNATE)
    ]


class _Net:
    """Bars that hang together, found by joining one joint after the other."""

    def __init__(self) -> None:
        self._leader: dict[str, str] = {}
        self.rings: list[Joint] = []

    def leader(self, bar: str) -> str:
        found = bar
        while self._leader.get(found, found) != found:
            found = self._leader[found]
        return found

    def join(self, joint: Joint) -> None:
        one, other = self.leader(joint.one), self.leader(joint.other)
        if one == other:
            self.rings.append(joint)
        else:
            self._leader[other] = one


def _net(joints: Iterable[Joint], *, possible: bool) -> _Net:
    """The net of the joints that are sure, or of all that are possible."""
    net = _Net()
    for joint in joints:
        if joint.joined is Truth.YES or (possible and joint.joined is Truth.UNKNOWN):
            net.join(joint)
    return net


def neutral_ring(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the neutral of the set is part of a ring through several switches in one of the walked states.

    The neutral current of the utility then divides between both sides of the ring all day, whether the set runs or not.
    """
    answer, where = Truth.NO, None
    for state in walked_states(context.drawing):
        joints = _joints(context, state)
        ring = _ring_at(joints, subject.id)
        if ring is Truth.YES and answer is not Truth.YES:
            where = state.name
        answer = any_of((answer, ring))
    return Derived(flag(answer), state=where)


def _ring_at(joints: tuple[Joint, ...], bar: str) -> Truth:
    """Whether a ring runs through a bar: taking the bar away leaves two of its neighbors still joined."""
    if _in_ring(joints, bar, possible=False):
        return Truth.YES
    return Truth.UNKNOWN if _in_ring(joints, bar, possible=True) else Truth.NO


def _in_ring(joints: tuple[Joint, ...], bar: str, *, possible: bool) -> bool:
    counts = [joint for joint in joints if joint.joined is Truth.YES or (possible and joint.joined is Truth.UNKNOWN)]
    neighbors = [joint.other if joint.one == bar else joint.one for joint in counts if bar in (joint.one, joint.other)]
    net = _net((joint for joint in counts if bar not in (joint.one, joint.other)), possible=True)
    leaders = [net.leader(neighbor) for neighbor in neighbors]
    return len(leaders) != len(set(leaders))


def bonds_on_neutral(context: Context, subject: Subject, name: str) -> Derived:
    """How many places tie the neutral of the set to ground while it feeds its switches; the service counts as one
    place.

    Service disconnects in enclosures of their own have a bonding jumper each; together they are the one bond of the
    service.
    """
    least = most = None
    where = None
    for state in _feeding_states(context, subject.id):
        low, high = _bonds_in(context, state, subject.id)
        if least is None or low < least:
            least = low
        if most is None or high > most:
            most, where = high, state.name
    if least is None or most is None:
        return Derived(between(0, None))
    return Derived(number(least) if least == most else between(least, most), state=where)


def _feeding_states(context: Context, generator: str) -> tuple[State, ...]:
    """The walked states in which the set feeds a piece, and where there is none, the state at rest."""
    drawing = context.drawing
    states = walked_states(drawing)
    fed = set(drawing.switches_fed(generator))
    return tuple(state for state in states if fed & state.positions.keys()) or states[:1]


def _bonds_in(context: Context, state: State, generator: str) -> tuple[int, int]:
    joints = _joints(context, state)
    sure, possible = _net(joints, possible=False), _net(joints, possible=True)
    service_least = service_most = False
    least = most = 0
    for tag, piece in context.drawing.pieces.items():
        bonded = _bonded(context, piece)
        if bonded is Truth.NO or possible.leader(tag) != possible.leader(generator):
            continue
        surely = bonded is Truth.YES and sure.leader(tag) == sure.leader(generator)
        role = context.read(piece, "role") if context.drawing.is_of(tag, "disconnecting") else None
        if role is not None and relate("one_of", role, _AHEAD) is Truth.YES:
            continue
        if role is not None and relate("is", role, exactly(SERVICE)) is not Truth.NO:
            is_service = relate("is", role, exactly(SERVICE)) is Truth.YES
            service_least = service_least or (surely and is_service)
            service_most = True
            if not is_service:
                most += 1
            continue
        least, most = least + int(surely), most + 1
    return least + int(service_least), most + int(service_most)


def _bonded(context: Context, piece: Subject) -> Truth:
    if context.catalog.fact("neutral_bond", piece.type) is None:
        return Truth.NO
    return relate("is", context.read(piece, "neutral_bond"), exactly("bonded"))
