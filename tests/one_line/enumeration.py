"""A second way to work out what a one-line drawing does: every position of everything, one after the other.

Every switch stands on normal, on alternate, or, where it goes over closed, on both for a moment; every breaker by
which a board with several feeds is fed, and every device that an interlock names, is open or closed, as the interlocks
allow. In each position what hangs together is found by a plain search. Nothing of ``checker.facts`` is used, and
nothing is clever: the number of positions doubles with every switch and every breaker.

Where a fact that matters is not known exactly, every value that it can have is tried, one after the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from itertools import combinations, product

from checker.site.model import SITE, Feed, Site, Subject

NORMAL, ALTERNATE, BOTH = "normal", "alternate", "both"
SIDES = (NORMAL, ALTERNATE)
SOURCES = ("utility_supply", "generator", "inverter")
BOARDS = ("panelboard", "switchboard")
DISCONNECTING = ("disconnect", "transfer_switch", *BOARDS)
KEEPS_APART = ("panel_kit", "mechanical", "key", "electrical")
BESIDE_THE_LINE = ("surge_protective_device", "stop", "load_manager", "gas_meter", "gas_regulator", "fuel_tank")
FREE_END, INLET_END = "(open end)", "(inlet without a cord)"


THERE, NOT_THERE = "there", None
Value = str | bool | None
"""A fact that is known exactly; None is one that is not there."""

CHOICES: Mapping[str, tuple[Value, ...]] = {
    "transition": ("open", "delayed", "closed"),
    "operation": ("automatic", "manual", "nonautomatic_electric"),
    "neutral": ("solid", "switched", "overlapping", "not_carried"),
    "interlock": (*KEEPS_APART, "procedure"),
    "role": ("service_disconnect", "emergency_disconnect", "meter_disconnect", None),
    "bond_status": ("existing", "to_be_removed"),
    "neutral_conductor": (THERE, NOT_THERE),
    "grounding": (THERE, NOT_THERE),
    "raceway_grounds": (True, False),
    "forms_its_own_grid": (True, False),
    "system.to_neutral": (THERE, NOT_THERE),
    "ground_fault_protection.sensor": ("ground_return", "residual", "zero_sequence"),
}
"""What a fact can be that is not written."""

Fact = tuple[Subject, str]


class NotExact(Exception):
    """A fact that matters is not known exactly; ``choices`` are the values that it can have."""

    def __init__(self, fact: Fact, choices: Iterable[Value]) -> None:
        super().__init__(f"{fact[0]}.{fact[1]}")
        self.fact = fact
        self.choices = tuple(choices)


@dataclass(frozen=True, slots=True)
class Link:
    """Two points joined while all these devices are closed. ``position`` is the switch and the side on which it must
    be.
    """

    one: str
    other: str
    devices: frozenset[str] = frozenset()
    position: tuple[str, str] | None = None


def _open_ends(points: Iterable[str], *kinds: str) -> set[str]:
    """The open ends among points; each is a point of its own."""
    return {point for point in points if point.startswith(kinds)}


Positions = Mapping[str, str]
"""Where each switch stands."""


@dataclass(slots=True)
class Net:
    """Points that are joined to one another."""

    neighbors: dict[str, list[str]] = field(default_factory=dict)

    def join(self, one: str, other: str) -> None:
        self.neighbors.setdefault(one, []).append(other)
        self.neighbors.setdefault(other, []).append(one)

    def reached(self, start: str, without: str | None = None) -> set[str]:
        """Everything that hangs together with a point, one point taken out if named."""
        found, waiting = {start}, [start]
        while waiting:
            for point in self.neighbors.get(waiting.pop(), ()):
                if point not in found and point != without:
                    found.add(point)
                    waiting.append(point)
        return found

    def in_ring(self, point: str) -> bool:
        """Whether two lines that leave a point meet again somewhere else."""
        ends = self.neighbors.get(point, [])
        return any(other in self.reached(one, without=point) for one, other in combinations(ends, 2))


class Plant:
    """One drawing with every position that it allows."""

    def __init__(self, site: Site, filled: Mapping[Fact, Value] | None = None) -> None:
        self._site = site
        self._filled = filled or {}
        aside = {
            tag for tag, piece in site.pieces.items() if self._said(piece, "status") in ("to_be_removed", "future")
        }
        self.kinds = {tag: piece.type for tag, piece in site.pieces.items() if tag not in aside}
        self.feeds = [feed for feed in site.feeds if not {feed.source, feed.to} & aside]
        self.switches = self.of("transfer_switch")

    # --- what is written ---------------------------------------------------------------------------------------------

    def _said(self, subject: Subject, fact: str) -> Value:
        stated = self._site.stated(subject, fact)
        return None if stated is None else stated.value.atom

    def exact(self, subject: Subject, fact: str) -> Value:
        """What is written of a fact, or what it was filled in with."""
        stated = self._site.stated(subject, fact)
        if stated is not None and stated.value.is_exact:
            return stated.value.atom
        if (subject, fact) in self._filled:
            return self._filled[subject, fact]
        choices = CHOICES[fact]
        if stated is not None and not stated.value.anything:
            choices = (
                *(each for each in choices if each in stated.value.atoms),
                *((None,) if stated.value.absent else ()),
            )
        raise NotExact((subject, fact), choices)

    def there(self, subject: Subject, fact: str) -> bool:
        """Whether something is there, whatever it is."""
        stated = self._site.stated(subject, fact)
        if stated is not None and (stated.value.only_absent or not stated.value.absent):
            return not stated.value.only_absent
        if (subject, fact) not in self._filled:
            raise NotExact((subject, fact), CHOICES[fact])
        return self._filled[subject, fact] is not NOT_THERE

    def is_said(self, subject: Subject, fact: str) -> bool:
        """Whether something is written to be there."""
        stated = self._site.stated(subject, fact)
        return stated is not None and not stated.value.absent

    def of_piece(self, tag: str, fact: str) -> Value:
        return self.exact(Subject(self.kinds[tag], tag), fact)

    def of(self, *kinds: str) -> list[str]:
        return [tag for tag, kind in self.kinds.items() if kind in kinds]

    def inputs(self, tag: str) -> list[str]:
        """The inputs of a piece, the normal one first."""
        if self.kinds[tag] in (*SOURCES, *BESIDE_THE_LINE):
            return []
        if self.kinds[tag] == "transfer_switch":
            return list(SIDES)
        return sorted(
            (feed.input for feed in self.feeds if feed.to == tag), key=lambda name: (name != "main", name)
        ) or ["fed_from"]

    def feed(self, tag: str, entry: str) -> Feed | None:
        return next((feed for feed in self.feeds if (feed.to, feed.input) == (tag, entry)), None)

    # --- lines, as they are drawn ------------------------------------------------------------------------------------

    def line_up(self, tag: str, first: str | None = None) -> list[str]:
        """The pieces up to the source with everything on its normal input; the last one is where the line ends."""
        found = [tag]
        while inputs := self.inputs(tag):
            feed = self.feed(tag, first or inputs[0])
            first = None
            if feed is None or feed.source in found:
                return [*found, FREE_END]
            tag = feed.source
            found.append(tag)
        return found

    def below(self, tag: str) -> list[str]:
        """Everything past a piece with everything on its normal input."""
        return [other for other in self.kinds if other != tag and tag in self.line_up(other)]

    def utility(self, tag: str) -> str | None:
        end = self.line_up(tag)[-1]
        return end if self.kinds.get(end) == "utility_supply" else None

    # --- phases ------------------------------------------------------------------------------------------------------

    @cached_property
    def links(self) -> list[Link]:
        """Every line and every contact."""
        found = [self._line(feed) for feed in self.feeds]
        for tag in self.switches:
            found += [Link(f"{tag}.{side}", tag, position=(tag, side)) for side in SIDES]
        return [*found, *self._open_ends()]

    def _line(self, feed: Feed) -> Link:
        devices = {f"{feed.to}/{'main' if feed.input == 'fed_from' else feed.input}"}
        if feed.way is not None:
            devices.add(f"{feed.source}/{feed.way}")
        if self.kinds[feed.source] not in SOURCES:
            devices.add(f"{feed.source}/load")
        return Link(feed.source, self.end(feed.to, feed.input), frozenset(devices))

    def end(self, tag: str, entry: str) -> str:
        return f"{tag}.{entry}" if tag in self.switches else tag

    def _open_ends(self) -> Iterator[Link]:
        """Where a line ends in the air or runs in a ring, so that something that is not drawn may hang there."""
        for tag in self.kinds:
            for entry in self.inputs(tag):
                if self.feed(tag, entry) is None:
                    end = INLET_END if self.kinds[tag] == "inlet" else FREE_END
                    end = f"{end} above {self.end(tag, entry)}"
                    device = "main" if entry == "fed_from" else entry
                    yield Link(end, self.end(tag, entry), frozenset({f"{tag}/{device}"}))
            if self._is_in_ring(tag):
                yield Link(f"{FREE_END} above {tag}", tag)

    def _is_in_ring(self, tag: str) -> bool:
        """Whether the line up from a piece comes back to it."""
        here = tag
        for _ in self.kinds:
            inputs = self.inputs(here)
            feed = self.feed(here, inputs[0]) if inputs else None
            if feed is None:
                return False
            here = feed.source
            if here == tag:
                return True
        return False

    @cached_property
    def _apart(self) -> list[frozenset[str]]:
        """The pairs of devices that cannot be closed together."""
        listed = self._site.members("interlocks")
        pairs = [
            (self.exact(each, "interlock"), self.exact(each, "first"), self.exact(each, "second"))
            for each in listed.members
        ]
        if not listed.complete:
            pairs += self._not_listed()
        return [frozenset({str(one), str(other)}) for kind, one, other in pairs if kind in KEEPS_APART]

    def _not_listed(self) -> list[tuple[Value, Value, Value]]:
        """One interlock more, between two breakers by which boards are fed, or none.

        Nobody keeps two breakers apart that lie behind one another in one line, and would make that line useless.
        """
        fact = (SITE, "interlocks")
        if fact not in self._filled:
            pairs = (pair for pair in combinations(self._by_hand, 2) if not self._are_in_line(*pair))
            raise NotExact(fact, (None, *("|".join(pair) for pair in pairs)))
        first, _, second = str(self._filled[fact] or "").partition("|")
        return [("key", first, second)] if second else []

    def _are_in_line(self, one: str, other: str) -> bool:
        return any(
            board.partition("/")[0] in self._pieces_above(*device.split("/"))
            for device, board in ((one, other), (other, one))
        )

    def _pieces_above(self, tag: str, entry: str) -> set[str]:
        """Every piece above one input, whatever the switches do."""
        feed = self.feed(tag, entry)
        return set() if feed is None else {feed.source, *self._above(feed.source, frozenset())}

    @cached_property
    def _by_hand(self) -> list[str]:
        """The breakers by which boards with several feeds are fed."""
        boards = [tag for tag in self.of(*BOARDS) if len(self.inputs(tag)) > 1]
        return sorted(f"{tag}/{entry}" for tag in boards for entry in self.inputs(tag))

    @cached_property
    def _worked(self) -> list[str]:
        """The devices that somebody opens and closes."""
        drawn = {device for link in self.links for device in link.devices}
        return sorted({*self._by_hand} | {device for pair in self._apart for device in pair if device in drawn})

    def closed_devices(self, forced_open: str | None = None, *, interlocked: bool = True) -> Iterator[frozenset[str]]:
        """Every choice of devices that are closed, among those that are worked."""
        worked = [device for device in self._worked if device != forced_open]
        for choice in product((True, False), repeat=len(worked)):
            closed = frozenset(device for device, is_closed in zip(worked, choice, strict=True) if is_closed)
            if not interlocked or not any(pair <= closed for pair in self._apart):
                yield closed

    def positions(self, *, momentary: bool) -> Iterator[Positions]:
        """Every choice of positions of the switches."""
        ways = [
            (*SIDES, BOTH) if momentary and self.of_piece(tag, "transition") == "closed" else SIDES
            for tag in self.switches
        ]
        for choice in product(*ways):
            yield dict(zip(self.switches, choice, strict=True))

    def net(self, positions: Positions, closed: frozenset[str], without: Link | None = None) -> Net:
        """What hangs together in one state."""
        opened = frozenset(self._worked) - closed
        net = Net()
        for link in self.links:
            stands = link.position is None or positions[link.position[0]] in (link.position[1], BOTH)
            if stands and link != without and not link.devices & opened:
                net.join(link.one, link.other)
        return net

    # --- what follows ------------------------------------------------------------------------------------------------

    def reach(self) -> dict[str, set[str]]:
        """The sources that can feed each piece, following the feeds as they are drawn."""
        tags = [tag for tag in self.kinds if self.kinds[tag] not in SOURCES]
        return {
            tag: set().union(*(self.ends_above(tag, entry, frozenset()) for entry in self.inputs(tag))) - {FREE_END}
            for tag in tags
        }

    def feeds_something(self, source: str) -> bool:
        return any(feed.source == source for feed in self.feeds)

    def ties(self) -> dict[str, bool | None]:
        """Whether each set can be tied to a utility for good; None where it meets an open end, or feeds nothing."""
        return self._joined("generator", lambda points: points & {*self.of("utility_supply")})

    def inverter_ties(self) -> dict[str, bool | None]:
        """The same for each inverter."""
        return self._joined("inverter", lambda points: points & {*self.of("utility_supply")})

    def joins(self) -> dict[str, bool | None]:
        """Whether each inverter can hang together for good with a set, or with an inlet that waits for one."""
        return self._joined(
            "inverter", lambda points: (points & {*self.of("generator")}) | _open_ends(points, INLET_END)
        )

    def _joined(self, kind: str, wanted: Callable[[set[str]], set[str]]) -> dict[str, bool | None]:
        found: dict[str, bool | None] = {tag: False if self.feeds_something(tag) else None for tag in self.of(kind)}
        for positions in self.positions(momentary=False):
            for closed in self.closed_devices():
                net = self.net(positions, closed)
                for tag in tuple(found):
                    joined = net.reached(tag)
                    if wanted(joined):
                        found[tag] = True
                    elif _open_ends(joined, FREE_END) and found[tag] is False:
                        found[tag] = None
        return found

    def overlaps(self) -> dict[str, bool | None]:
        """Whether a switch on both sides ties a set to a utility that it is not tied to with the switch on one of
        them.
        """
        found: dict[str, bool | None] = {
            tag: False if self.feeds_something(tag) else None for tag in self.of("generator")
        }
        for positions in self.positions(momentary=True):
            both = [tag for tag, stands in positions.items() if stands == BOTH]
            if not both:
                continue
            others = [dict(positions) | dict(zip(both, one, strict=True)) for one in product(SIDES, repeat=len(both))]
            for closed in self.closed_devices():
                net, other_nets = self.net(positions, closed), [self.net(other, closed) for other in others]
                for tag in tuple(found):
                    meets = self._met(tag, net).difference(*(self._met(tag, other) for other in other_nets))
                    if meets - _open_ends(meets, FREE_END):
                        found[tag] = True
                    elif meets and found[tag] is False:
                        found[tag] = None
        return found

    def _met(self, tag: str, net: Net) -> set[str]:
        """The utilities and open ends with which a set hangs together."""
        joined = net.reached(tag)
        return (joined & {*self.of("utility_supply")}) | _open_ends(joined, FREE_END)

    def live_again(self) -> dict[str, bool | None]:
        """Whether anything past a disconnect can be live when it is open; None where only an open end hangs there."""
        return {tag: self._live_again(tag) for tag in self.of(*DISCONNECTING)}

    def _live_again(self, tag: str) -> bool | None:
        entry = self.inputs(tag)[0]
        feed = self.feed(tag, entry)
        device = f"{tag}/{'main' if entry == 'fed_from' else entry}"
        here = self.end(tag, entry)
        opened = Link(f"{FREE_END} above {here}", here, frozenset({device})) if feed is None else self._line(feed)
        past = {tag, *self.below(tag)}
        answer: bool | None = False
        for positions in self.positions(momentary=False):
            for closed in self.closed_devices(device):
                net = self.net(positions, closed, opened)
                joined = set().union(*(net.reached(point) for point in past))
                if any(self._feeds_alone(source) for source in self.of(*SOURCES) if source in joined):
                    return True
                if _open_ends(joined, FREE_END, INLET_END):
                    answer = None
        return answer

    def _feeds_alone(self, source: str) -> bool:
        """Whether a source feeds with everything else dead. An inverter that follows the utility stops with it."""
        return self.kinds[source] != "inverter" or self.of_piece(source, "forms_its_own_grid") is True

    def starts(self) -> dict[str, bool | None]:
        """Whether opening a disconnect takes the normal supply from an automatic switch that has a set on its
        alternate.
        """
        return {tag: self._starts(tag) for tag in self.of(*DISCONNECTING)}

    def _starts(self, tag: str) -> bool | None:
        past = [switch for switch in self.switches if switch in (tag, *self.below(tag))]
        answers = {self._calls_for_a_set(switch) for switch in past if self._is_live_at_rest(switch)}
        return True if True in answers else None if None in answers else False

    def _is_live_at_rest(self, switch: str) -> bool:
        """Fed by the utility, by what has to run because something hangs on it, or by nobody knows what."""
        end = self.line_up(switch)[-1]
        return end == FREE_END or self.kinds[end] == "utility_supply" or bool(self.below(switch))

    def _calls_for_a_set(self, switch: str) -> bool | None:
        if self.of_piece(switch, "operation") != "automatic":
            return False
        above = self.ends_above(switch, ALTERNATE, frozenset())
        if any(self.kinds.get(end) == "generator" for end in above):
            return None if self.line_up(switch)[-1] == FREE_END else True
        return None if FREE_END in above else False

    def ends_above(self, tag: str, entry: str, seen: frozenset[str]) -> set[str]:
        """The sources and open ends to which a line leads up, whatever the switches do."""
        feed = self.feed(tag, entry)
        if feed is None:
            return set() if self.kinds[tag] == "inlet" else {FREE_END}
        if feed.source in seen:
            return set()
        inputs = self.inputs(feed.source)
        if not inputs:
            return {feed.source}
        return set().union(*(self.ends_above(feed.source, each, seen | {tag}) for each in inputs))

    # --- neutrals ----------------------------------------------------------------------------------------------------

    def neutral_net(self, positions: Positions, without: Feed | None = None) -> Net:
        """The neutrals that hang together with the switches in these positions, the neutral of one line left out."""
        net = Net()
        for feed in self.feeds:
            if feed != without and self.carries_neutral(feed):
                end = f"{feed.to}.primary" if self.kinds[feed.to] == "transformer" else self.end(feed.to, feed.input)
                net.join(feed.source, end)
        for tag in self.switches:
            neutral = self.of_piece(tag, "neutral")
            for side in SIDES:
                if neutral == "solid" or (neutral in ("switched", "overlapping") and positions[tag] == side):
                    net.join(tag, f"{tag}.{side}")
        return net

    def carries_neutral(self, feed: Feed) -> bool:
        above = self.line_up(feed.to, feed.input)[1:]
        giver = next(tag for tag in above if tag == FREE_END or self.kinds[tag] in (*SOURCES, "transformer"))
        system = Subject(self.kinds.get(giver, giver), giver)
        has_one = giver == FREE_END or self.there(system, "system.to_neutral")
        return has_one and self.there(feed.subject, "neutral_conductor")

    def rings(self) -> dict[str, bool | None]:
        """Whether the neutral of each set is in a ring in some position."""
        nets = [self.neutral_net(positions) for positions in self.positions(momentary=False)]
        return {
            tag: any(net.in_ring(tag) for net in nets) if self.feeds_something(tag) else None
            for tag in self.of("generator")
        }

    def ground_rings(self) -> dict[str, bool | None]:
        """Whether equipment grounds lead from each set around and back to it; nothing opens them."""
        net = Net()
        for feed in self.feeds:
            if self.there(feed.subject, "grounding") or self.exact(feed.subject, "raceway_grounds") is True:
                net.join(feed.source, feed.to)
        return {tag: net.in_ring(tag) if self.feeds_something(tag) else None for tag in self.of("generator")}

    def neutrals_of_inlets(self) -> dict[str, str]:
        """What the neutral does where the line from each inlet meets a utility."""
        return {tag: self._neutral_at_transfer(tag) for tag in self.of("inlet")}

    def neutrals_of_sets(self) -> dict[str, str]:
        """The same for each set."""
        return {tag: self._neutral_at_transfer(tag) for tag in self.of("generator")}

    def _neutral_at_transfer(self, start: str) -> str:
        """The solid ones before all others."""
        neutrals = {self._neutral_of(tag) for tag in self._first_met(start, frozenset())}
        order = ("solid", "overlapping", "switched", "not_carried")
        return next((each for each in order if each in neutrals), NOTHING_MET)

    def _neutral_of(self, tag: str) -> Value:
        return self.of_piece(tag, "neutral") if tag in self.switches else "solid"

    def _first_met(self, tag: str, seen: frozenset[str]) -> set[str]:
        """The pieces past this one that something else can tie to a utility; from there on it is the utility's line."""
        found: set[str] = set()
        for feed in self.feeds:
            if feed.source != tag or feed.to in seen:
                continue
            others = [entry for entry in self.inputs(feed.to) if entry != feed.input]
            if any(self._may_bring_the_utility(feed.to, entry) for entry in others):
                found.add(feed.to)
            elif self.kinds[feed.to] != "transformer":
                found |= self._first_met(feed.to, seen | {feed.to})
        return found

    def _may_bring_the_utility(self, tag: str, entry: str) -> bool:
        """Whether above one input there is a utility, a line that ends in the air, or one that runs in a ring."""
        if self.feed(tag, entry) is None:
            return True
        above = self._pieces_above(tag, entry)
        return any(
            self.kinds[other] == "utility_supply"
            or self._is_in_ring(other)
            or (self.kinds[other] != "inlet" and any(self.feed(other, each) is None for each in self.inputs(other)))
            for other in above
        )

    def bonds(self) -> dict[str, int | None]:
        """Places at which the neutral of each set is bonded while it feeds; the state that is furthest from one
        decides.
        """
        return {tag: self._bonds(tag) if self.feeds_something(tag) else None for tag in self.of("generator")}

    def _bonds(self, tag: str) -> int:
        all_positions = list(self.positions(momentary=False))
        feeding = [positions for positions in all_positions if self._is_feeding(tag, positions)] or all_positions
        counts = {self._places(self.neutral_net(positions).reached(tag)) for positions in feeding}
        return max(counts) if max(counts) > 1 else min(counts)

    def _is_feeding(self, source: str, positions: Positions) -> bool:
        """Whether it feeds a switch, or a board from which no switch is fed."""
        found: set[str] = set()
        waiting = [source]
        while waiting:
            here = waiting.pop()
            for feed in self.feeds:
                goes_on = feed.to not in self.switches or positions[feed.to] == feed.input
                if feed.source == here and goes_on and feed.to not in found:
                    found.add(feed.to)
                    waiting.append(feed.to)
        return any(
            tag in self.switches or (self.kinds[tag] in BOARDS and not self._switches_past(tag)) for tag in found
        )

    def _switches_past(self, tag: str) -> list[str]:
        """The switches that can be fed through a piece."""
        return [switch for switch in self.switches if tag in self._above(switch, frozenset())]

    def _above(self, tag: str, seen: frozenset[str]) -> set[str]:
        sources = [feed.source for feed in self.feeds if feed.to == tag and feed.source not in seen]
        return set(sources).union(*(self._above(source, seen | {tag}) for source in sources))

    def _places(self, joined: Iterable[str]) -> int:
        """Bonds among these bars, with everything of one service up to its service disconnect counted once."""
        places = {self.place(tag) for tag in joined if tag in self.kinds and self.is_bonded(tag)}
        return len(places)

    def is_bonded(self, tag: str) -> bool:
        if self.kinds[tag] not in ("generator", *DISCONNECTING):
            return False
        listed = self._site.members("bonds")
        assert listed.complete, "bonds that are not listed are not tried"
        here = [bond for bond in listed.members if self.exact(bond, "at") == tag]
        return any(self.exact(bond, "bond_status") != "to_be_removed" for bond in here)

    def place(self, tag: str) -> str:
        """A piece past the service disconnect is a place of its own; all others of one utility are one place."""
        utility = self._service_of(tag)
        return tag if utility is None or self._role(tag) == "feeder_disconnect" else utility

    def _service_of(self, tag: str) -> str | None:
        """The service on whose line a piece is; a line that ends in the air may hang on one."""
        line = self.line_up(tag)
        if line[-1] != FREE_END or self.kinds[tag] not in DISCONNECTING:
            return self.utility(tag)
        fact = (Subject("line", "open"), "hangs on a service")
        if fact not in self._filled:
            raise NotExact(fact, (True, False))
        return FREE_END if self._filled[fact] else None

    def _role(self, tag: str) -> Value:
        """Past a service disconnect everything is a feeder disconnect; else as it is written."""
        above = [other for other in self.line_up(tag)[1:] if self.kinds.get(other) in DISCONNECTING]
        if any(self._role(other) == "service_disconnect" for other in above):
            return "feeder_disconnect"
        return self.of_piece(tag, "role")

    @property
    def other_sources_excluded(self) -> bool:
        stated = self._site.stated(SITE, "other_sources")
        return stated is not None and stated.value.only_absent


NOTHING_MET = "nothing"
"""The line of an inlet meets no utility."""

Answer = bool | int | str | None
Work = Callable[[Plant], Mapping[str, Answer]]


def answers(site: Site, work: Work) -> dict[str, set[Answer]]:
    """What comes out for each subject, for every way to fill in what is not known."""
    found: dict[str, set[Answer]] = {}
    waiting: list[dict[Fact, Value]] = [{}]
    while waiting:
        filled = waiting.pop()
        try:
            for tag, answer in work(Plant(site, filled)).items():
                found.setdefault(tag, set()).add(answer)
        except NotExact as error:
            waiting += ({**filled, error.fact: choice} for choice in error.choices)
    return found
