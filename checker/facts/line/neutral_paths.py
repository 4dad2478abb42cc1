"""The neutral as a net: which neutrals hang together, where they are bonded, and where they make a ring.

Neutral bars are the pieces; a neutral conductor joins two of them. A transfer switch that carries its neutral solid
joins both its sides in every position; one that opens it joins its load to the side on which it is; one without a
neutral joins nothing. A transformer with two windings ends the neutral of its primary. What is not known is counted
both ways, so that a ring or a bond is sure, possible or excluded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import ALTERNATE, NORMAL, OPEN_END, Drawing, Leg
from checker.facts.line.roles import FEEDER, SERVICE, flag
from checker.facts.line.routes import Route, TooManyRoutes, Weigh, first_route, is_side_to_side, perhaps, surely
from checker.facts.line.states import AT_REST, State
from checker.facts.line.ties import feeds_nothing
from checker.site.model import Feed, Subject
from checker.values.possible import Possible, between, exactly, number, several
from checker.values.relations import present, relate
from checker.values.truth import Truth, all_of, any_of, truth_of

_CARRIED = several(("solid", "switched", "overlapping"))
_SIDES = (NORMAL, ALTERNATE)

EVERY_POSITION = "every position of the switches"

MOST_COMBINATIONS = 256
"""With so many positions of the switches at most, each is looked at; with more, those in which few stand apart."""
_APART = 2


class Neutrals:
    """What carries a neutral, each answer worked out once."""

    def __init__(self, context: Context) -> None:
        self.drawing: Drawing = context.drawing
        self._read = context.read
        self._lines: dict[Feed, Truth] = {}
        self._solid: dict[str, Truth] = {}
        self._carried: dict[str, Truth] = {}

    def line(self, feed: Feed) -> Truth:
        """Whether a connection has a neutral: its system has one, and it is run."""
        if feed.source not in self.drawing.pieces:
            return Truth.NO
        if feed not in self._lines:
            self._lines[feed] = self._has_neutral(feed)
        return self._lines[feed]

    def _has_neutral(self, feed: Feed) -> Truth:
        """On a line that nothing feeds the conductor alone decides."""
        system = self._read(feed.subject, "system.to_neutral")
        has_one = Truth.YES if system.undefined else present(system)
        return has_one if has_one is Truth.NO else all_of((has_one, self._is_run(feed)))

    def _is_run(self, feed: Feed) -> Truth:
        return present(self._read(feed.subject, "neutral_conductor"))

    def is_solid(self, switch: str) -> Truth:
        """Whether a switch joins the neutrals of both its sides and its load in every position."""
        if switch not in self._solid:
            neutral = self._read(self.drawing.pieces[switch], "neutral")
            self._solid[switch] = relate("is", neutral, exactly("solid"))
        return self._solid[switch]

    def is_carried(self, switch: str) -> Truth:
        """Whether a switch joins the neutral of its load to that of the side on which it is."""
        if switch not in self._carried:
            neutral = self._read(self.drawing.pieces[switch], "neutral")
            self._carried[switch] = relate("one_of", neutral, _CARRIED)
        return self._carried[switch]

    def through(self, tag: str, came: Leg | None, goes: Leg) -> Truth:
        """Whether a piece joins the neutrals of two of its lines, in one position at least."""
        if self.drawing.is_of(tag, "transformer"):
            return Truth.NO if goes.up or (came is not None and not came.up) else Truth.YES
        if came is None or not self.drawing.is_of(tag, "transfer_switch") or (came.up and not goes.up):
            return Truth.YES
        return self.is_solid(tag) if is_side_to_side(came, goes) else self.is_carried(tag)


# --- rings -----------------------------------------------------------------------------------------------------------


def neutral_ring(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the neutral of the set is part of a ring of neutral conductors in some position of the switches.

    The neutral current of the utility then divides between both sides of the ring, whether the set runs or not.
    """
    if not context.drawing.out_of(subject.id):
        return feeds_nothing(subject)
    neutrals = Neutrals(context)
    try:
        sure = _ring(neutrals, subject.id, surely)
        if sure is not None:
            return Derived(exactly(True), state=positions_on(neutrals, sure))
        possible = _ring(neutrals, subject.id, perhaps)
        return Derived(flag(Truth.NO if possible is None else Truth.UNKNOWN))
    except TooManyRoutes:
        return Derived(flag(Truth.UNKNOWN))


def _ring(neutrals: Neutrals, bar: str, weigh: Weigh) -> Route | None:
    def passes(tag: str, came: Leg | None, goes: Leg) -> bool:
        return weigh(neutrals.line(goes.feed)) and weigh(neutrals.through(tag, came, goes))

    return first_route(neutrals.drawing, bar, passes, lambda legs: legs[-1].end == bar)


def positions_on(neutrals: Neutrals, route: Route) -> str:
    """The positions in which a route of neutrals stands, and the pieces on it."""
    positions = sorted(_positions_on(neutrals, route))
    return f"{', '.join(positions) or EVERY_POSITION}: {', '.join(route.tags)}"


def _positions_on(neutrals: Neutrals, route: Route) -> Iterator[str]:
    """The positions that the switches must have that do not carry their neutral solid."""
    for leg in route.legs:
        is_switch = neutrals.drawing.is_of(leg.feed.to, "transfer_switch")
        if is_switch and neutrals.is_solid(leg.feed.to) is not Truth.YES:
            yield f"{leg.feed.to} on {leg.feed.input}"


# --- bonds -----------------------------------------------------------------------------------------------------------


def bonds_on_neutral(context: Context, subject: Subject, name: str) -> Derived:
    """How many places tie the neutral of the set to ground while it feeds: in the state that is furthest from one
    place.

    That is the greatest number where it is more than one in some state, and otherwise the least. Everything from a
    service point up to its service disconnects is one place, since each service is tied to ground there once or
    oftener.
    """
    if not context.drawing.out_of(subject.id):
        return feeds_nothing(subject)
    neutrals, bonds = Neutrals(context), Bonds(context)
    sure, possible = (_Bars(neutrals, weigh, bonds.hangs_on_the_normal_side) for weigh in (surely, perhaps))
    counts = [
        (
            bonds.least(sure.hanging_with(subject.id, state)),
            bonds.most(possible.hanging_with(subject.id, state)),
            state.name,
        )
        for state in _feeding_states(context.drawing, subject.id)
    ]
    return _furthest_from_one(counts)


def bonded_ahead_of_its_switches(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the neutral of the set is tied to ground while every switch is on its normal side: in the set, on its
    line up to the switches, or by a switch that carries it solid to another bond (NFPA 70, 250.30(A)(1)).
    """
    if not context.drawing.out_of(subject.id):
        return feeds_nothing(subject)
    neutrals, bonds, at_rest = Neutrals(context), Bonds(context), State(AT_REST, {})
    sure, possible = (
        _Bars(neutrals, weigh, bonds.hangs_on_the_normal_side).hanging_with(subject.id, at_rest)
        for weigh in (surely, perhaps)
    )
    if bonds.least(sure):
        return Derived(exactly(True))
    return Derived(flag(Truth.UNKNOWN if bonds.most(possible) else Truth.NO))


def _furthest_from_one(counts: list[tuple[int, int, str]]) -> Derived:
    """Of the least and the most in each state, what the count of the state that is furthest from one can be."""
    greatest = max(counts, key=lambda count: count[1])
    fewest = min(counts, key=lambda count: count[0])
    surely_most = max(least for least, _, _ in counts)
    low = surely_most if surely_most > 1 else fewest[0]
    high = greatest[1] if greatest[1] > 1 else min(most for _, most, _ in counts)
    return Derived(_whole(low, high), state=(greatest if high > 1 else fewest)[2] or None)


def _whole(low: int, high: int) -> Possible:
    return number(low) if low == high else between(low, high)


def _feeding_states(drawing: Drawing, generator: str) -> tuple[State, ...]:
    """The states in which the set feeds a switch, or a board from which no switch is fed; all, where there is none."""
    states = tuple(_states(drawing))
    boards = {tag for tag in drawing.of("board") if not _switches_among(drawing, drawing.fed_in_any_way(tag))}
    feeding = tuple(state for state in states if _feeds(drawing, generator, state, boards))
    return feeding or states


def _states(drawing: Drawing) -> Iterator[State]:
    """Positions of the switches, those with few on alternate first; with many switches at most two stand apart from the
    others.
    """
    switches = drawing.of("transfer_switch")
    numbers = list(range(len(switches) + 1))
    if 2 ** len(switches) > MOST_COMBINATIONS:
        numbers = [*numbers[: _APART + 1], *numbers[-_APART - 1 :]]
    for how_many in numbers:
        for on_alternate in combinations(switches, how_many):
            yield State(_name(on_alternate, len(switches)), dict.fromkeys(on_alternate, ALTERNATE))


def _name(on_alternate: Sequence[str], of: int) -> str:
    names = [f"{switch} on alternate" for switch in on_alternate]
    if len(on_alternate) < of:
        names.append("the rest on normal" if on_alternate else AT_REST)
    return ", ".join(names)


def _feeds(drawing: Drawing, generator: str, state: State, boards: set[str]) -> bool:
    fed = drawing.downward(
        generator,
        lambda feed: not drawing.is_of(feed.to, "transfer_switch") or feed.input == state.input_of(drawing, feed.to),
    )
    return bool(_switches_among(drawing, fed)) or not boards.isdisjoint(fed)


def _switches_among(drawing: Drawing, tags: Iterable[str]) -> list[str]:
    return [tag for tag in tags if drawing.is_of(tag, "transfer_switch")]


@dataclass(frozen=True, slots=True)
class _Contact:
    """The neutral of a switch that joins its load to one side at a time."""

    switch: str
    side: str


class _Bars:
    """Neutral bars that hang together: some in every position, and some through switches that open the neutral."""

    def __init__(self, neutrals: Neutrals, weigh: Weigh, on_normal_side: Callable[[str], Truth]) -> None:
        self._drawing = neutrals.drawing
        self._leader: dict[str, str] = {}
        self._contacts: list[_Contact] = []
        self._pieces: dict[str, set[str]] = {}
        for feed in self._drawing.feeds:
            if weigh(neutrals.line(feed)):
                self._join(feed.source, self._end(feed))
        for switch in self._drawing.of("transfer_switch"):
            if weigh(neutrals.is_solid(switch)):
                self._join(switch, _bar(switch, NORMAL))
                self._join(switch, _bar(switch, ALTERNATE))
            elif weigh(neutrals.is_carried(switch)):
                self._contacts += [_Contact(switch, side) for side in _SIDES]
        for tag in self._drawing.pieces:
            for bar in _bonded_bars(self._drawing, tag, weigh, on_normal_side):
                self._pieces.setdefault(self._group(bar), set()).add(tag)

    def hanging_with(self, tag: str, state: State) -> frozenset[str]:
        """The pieces whose bars hang together with that of a piece in one state."""
        closed = [each for each in self._contacts if state.input_of(self._drawing, each.switch) == each.side]
        found, before = {self._group(tag)}, 0
        while len(found) > before:
            before = len(found)
            for each in closed:
                both = {self._group(each.switch), self._group(_bar(each.switch, each.side))}
                if both & found:
                    found |= both
        return frozenset().union(*(self._pieces.get(group, ()) for group in found))

    def _end(self, feed: Feed) -> str:
        if self._drawing.is_of(feed.to, "transfer_switch") or self._drawing.is_of(feed.to, "transformer"):
            return _bar(feed.to, feed.input)
        return feed.to

    def _group(self, bar: str) -> str:
        found = bar
        while (above := self._leader.get(found, found)) != found:
            found = above
        self._leader[bar] = found
        return found

    def _join(self, one: str, other: str) -> None:
        self._leader[self._group(other)] = self._group(one)


def _bonded_bars(drawing: Drawing, tag: str, weigh: Weigh, on_normal_side: Callable[[str], Truth]) -> Iterator[str]:
    """The bars of a piece on which its bond hangs, or may hang: in a switch that of its load or of its normal side."""
    on_normal = on_normal_side(tag) if drawing.is_of(tag, "transfer_switch") else Truth.NO
    if weigh(~on_normal):
        yield tag
    if weigh(on_normal):
        yield _bar(tag, NORMAL)


def _bar(tag: str, side: str) -> str:
    return f"{tag}.{side}"


@dataclass(frozen=True, slots=True)
class Bond:
    """A piece: whether its neutral is bonded, whether that is a bond of a service, and of which."""

    bonded: Truth
    of_service: Truth
    service: str

    def is_apart_from(self, other: Bond) -> Truth:
        """Whether both are places of their own; bonds of one service are one place."""
        if self.service != other.service:
            return Truth.YES
        return ~all_of((self.of_service, other.of_service))


class Bonds:
    """Places at which neutrals are tied to ground."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._bonds: dict[str, Bond] = {}

    def least(self, tags: Iterable[str]) -> int:
        """So many places at least among these pieces: every bond that may be of a service is."""
        bonds = [bond for bond in self._of(tags) if bond.bonded is Truth.YES]
        services = {bond.service for bond in bonds if bond.of_service is not Truth.NO}
        return len(services) + sum(bond.of_service is Truth.NO for bond in bonds)

    def most(self, tags: Iterable[str]) -> int:
        """So many places at most: every bond that may be one of its own is."""
        bonds = [bond for bond in self._of(tags) if bond.bonded is not Truth.NO]
        services = {bond.service for bond in bonds if bond.of_service is Truth.YES}
        return len(services) + sum(bond.of_service is not Truth.YES for bond in bonds)

    def _of(self, tags: Iterable[str]) -> Iterator[Bond]:
        return (self.at(tag) for tag in tags)

    def at(self, tag: str) -> Bond:
        """What is known of the bond at one piece."""
        if tag not in self._bonds:
            self._bonds[tag] = self._bond(tag)
        return self._bonds[tag]

    def _bond(self, tag: str) -> Bond:
        context, piece = self._context, self._context.drawing.pieces[tag]
        if context.catalog.fact("neutral_bond", piece.type) is None:
            return Bond(Truth.NO, Truth.NO, tag)
        bonded = relate("is", context.read(piece, "neutral_bond"), exactly("bonded"))
        of_service = Truth.NO if bonded is Truth.NO else self._is_of_service(piece)
        return Bond(bonded, of_service, context.drawing.source_of(tag) or OPEN_END)

    def hangs_on_the_normal_side(self, tag: str) -> Truth:
        """Whether what is bonded at a switch is the neutral of its normal side, in every position of the switch.

        A main bonding jumper joins the grounded conductor of the service to ground (250.24, 250.28), so at a switch
        that is the service disconnect and opens the neutral it stays with the utility. Any other bond there is taken
        to be at the bar of the load.
        """
        context = self._context
        listed = context.members("bonds")
        here = [bond for bond in listed.members if context.read(bond, "at").atom == tag]
        jumpers = [(self._is_removed(bond), self._is_main_jumper(bond)) for bond in here]
        if all(removed is Truth.YES or jumper is Truth.NO for removed, jumper in jumpers):
            return Truth.NO
        no_other = all_of(any_of(each) for each in jumpers)
        return all_of((no_other, Truth.YES if listed.complete else Truth.UNKNOWN, self._has_role(tag, SERVICE)))

    def _is_removed(self, bond: Subject) -> Truth:
        return relate("is", self._context.read(bond, "bond_status"), exactly("to_be_removed"))

    def _is_main_jumper(self, bond: Subject) -> Truth:
        return relate("is", self._context.read(bond, "bond"), exactly("main_bonding_jumper"))

    def _is_of_service(self, piece: Subject) -> Truth:
        """Whether it stands between a service point and its service disconnects, these included (250.142(A)).

        A line that ends in the air may hang on a service.
        """
        drawing = self._context.drawing
        on_service = Truth.UNKNOWN
        if drawing.source_of(piece.id) is not None:
            on_service = truth_of(drawing.utility_of(piece.id) is not None)
        if on_service is Truth.NO or not drawing.is_of(piece.id, "disconnecting"):
            return Truth.NO
        past = any_of(self._has_role(tag, SERVICE) for tag in drawing.ahead(piece.id))
        return all_of((on_service, ~past, ~self._has_role(piece.id, FEEDER)))

    def _has_role(self, tag: str, role: str) -> Truth:
        """Whether a piece has a role; what cannot disconnect has none."""
        if not self._context.drawing.is_of(tag, "disconnecting"):
            return Truth.NO
        return relate("is", self._context.read(self._context.drawing.pieces[tag], "role"), exactly(role))
