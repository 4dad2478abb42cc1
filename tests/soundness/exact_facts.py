"""The facts of a drawing of which nothing is open, worked out for the tests alone.

Nothing of ``checker.facts`` or ``checker.findings`` is used: the drawing is walked by ``tests.generators.walk``, and
each derived fact is written here a second time, from what the catalog says that it means.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import partial
from itertools import product

from checker.catalog.model import Catalog, Feeding
from checker.site.model import SITE, Feed, Site, Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible
from tests.generators.currents import DERATINGS, Loss, full_load_current, nine_digits, phase_currents, power_left
from tests.generators.walk import ALTERNATE, NORMAL, Line, Walk


class Absent(Enum):
    """Known not to be there."""

    ABSENT = "absent"


ABSENT = Absent.ABSENT
Value = str | bool | Fraction | frozenset[str] | Absent
"""One exact value."""


class Unsaid(Enum):
    """What nobody can say of a line."""

    UNSAID = "unsaid"


UNSAID = Unsaid.UNSAID
Limit = tuple[Fraction, Fraction] | Unsaid | None
"""What limits the current on a line: at least and at most so much, both the same but where one source feeds several
lines into a board; None is nothing.
"""


def _held(limit: Limit, rating: Value) -> Limit:
    """What a device lets through of what is ahead."""
    if not isinstance(rating, Fraction):
        return limit
    if limit is None or limit is UNSAID:
        return rating, rating
    return min(limit[0], rating), min(limit[1], rating)


def _summed(limits: Iterable[Limit]) -> Limit:
    """What comes in by several lines together."""
    found = list(limits)
    if UNSAID in found:
        return UNSAID
    pairs = [each for each in found if isinstance(each, tuple)]
    if len(pairs) < len(found):
        return None
    return sum((low for low, _ in pairs), Fraction(0)), sum((high for _, high in pairs), Fraction(0))


@dataclass(frozen=True, slots=True)
class Fed:
    """One state of everything ahead of a place: what reaches it, from which sources, by which lines."""

    limit: Limit
    sources: tuple[str, ...]
    lines: frozenset[Feed] = frozenset()


@dataclass(frozen=True, slots=True)
class Limiting:
    """What limits a current: the sources, if any of them; what is said past a transformer; the devices, or not."""

    at_source: Callable[[str], Limit] | None
    past_transformer: Limit
    devices: bool = True


NEAREST = {
    "tank_to_building": ("building", "wall", "school"),
    "tank_to_lot_line": ("lot_line",),
    "set_to_lot_line": ("lot_line",),
}
"""The distance to the nearest of these kinds in the list."""

_SERVICE = "service_disconnect"
_AT_THE_SERVICE = frozenset({_SERVICE, "emergency_disconnect", "meter_disconnect"})
_LOAD_CURES = (
    "load_always_on",
    "load_without_one",
    "load_to_lock_out",
    "load_always_on_without_one",
    "load_to_lock_out_too",
)
_LOADS = ("automatic_load", "managed_load", "load_put_on_the_set", "calculated_load", "load_with_vehicles_in_full")
_OF_THE_SOURCE = ("frequency", "overload_proof", "start_scheme", "generator_form", "type_time")


_FUEL = (
    *("gas_demand", "leads_to_a_set", "leads_to_one_set_alone", "piped_gas", "longest_length", "branch_length"),
    *("gas_capacity", "gas_capacity_by_branch", "size_that_carries"),
    *("heat_demand", "heat_capacity", "heat_capacity_by_branch"),
    *("planned_gas_pressure", "planned_pressure_at_rest", "vapor_rate", "running_time"),
    *("tank_size_wanted", "tanks_that_give_enough", "fill_that_gives_enough"),
    *("fuel", "classes", "class_hours", "fuel_for_the_class", "fuel_at_its_load", "running_time_at_its_load"),
)
"""What follows from the gas line and its tables: ``tests/facts`` holds its bounds."""

_FAULT_KINDS = ("fault_current_to_neutral", "fault_current_to_interrupt", "least_from_utility")
"""What follows from the kind, the angle and the least of a fault current: ``tests/facts`` holds its bounds."""

STATE_BY_STATE = frozenset(
    {
        *_FUEL,
        *_FAULT_KINDS,
        *("ties_to_utility", "overlaps_with_utility", "neutral_ring", "bonds_on_neutral"),
        "bonded_ahead_of_its_switches",
        *("live_again_when_opened", "starts_a_set_when_opened"),
        *("ground_fault_sensing_defeated", "trips_for_fault_of_set"),
        *("joins_a_set", "ground_ring", "neutral_at_transfer"),
        *("greatest_fault_current", "fault_sources_together", "normal_fault_current"),
        "protecting_opens_at_once",
    }
)
"""Facts that depend on every position of the switches; ``tests/one_line`` works them out again by listing positions."""


_BY_TABLES = (
    *("grounding_wanted", "grounding_wanted_in_copper", "grounding_wanted_in_aluminum"),
    *("jumper_wanted", "electrode_conductor_wanted"),
    *("voltage_drop", "voltage_drop_by_resistance", "neutral_wanted"),
    *("water_pipe_bond_wanted", "neutral_jumper_wanted", "insulated_for_wet", "terminal_ampacity"),
)
"""Facts that are found by tables of the documents in force, of which the generated cases have none."""


_FIGURES_OF_A_RUN = ("ampacity", "neutral_ampacity", "neutral_load", "current_carrying")
"""Facts of a run that a person can state, and for which the generated cases have no numbers."""


def _by_the_numbers_in_it(feed: Feed) -> tuple[tuple[str, int], ...]:
    """The place of a line among others by its name, P2 before P10."""
    parts = re.findall(r"([^0-9]*)([0-9]*)", feed.subject.id)
    return tuple((words, int(digits) if digits else -1) for words, digits in parts)


class NoAnswer(Exception):
    """The drawing has no answer: no source feeds the place, a calculation or a table does not reach so far."""


class Bounded(NoAnswer):
    """Not one value, but everything between two: how the current of one source divides between several lines into a
    board is not worked out, and a line that ends in the air may hang on anything.
    """

    def __init__(self, least: Value, most: Value) -> None:
        super().__init__(f"from {least} to {most}")
        self.least = least
        self.most = most


class LeftOpen(AssertionError):
    """A fact was asked that nobody filled in: the completion is at fault, not the program."""


def exact_value(possible: Possible) -> Value:
    """The one value that is left."""
    if not possible.is_exact:
        raise LeftOpen(str(possible))
    if possible.absent:
        return ABSENT
    if possible.spans:
        low = possible.spans[0].low
        assert low is not None
        return low
    if possible.sets:
        return possible.sets[0].surely
    return next(iter(possible.atoms))


def is_set_aside(site: Site, piece: Subject) -> bool:
    """Whether a piece is to be removed, or planned for later: then it is no part of what is looked at."""
    status = site.stated(piece, "status")
    return status is not None and status.value.atom in ("to_be_removed", "future")


def way_of(walk: Walk, feed: Feed) -> Subject | None:
    """The way from which a feed leaves, with or without a name; None where all that leaves a piece is one line.

    One line leaves a switch, a disconnect, and whatever has no ways at all.
    """
    if feed.way is not None:
        return Subject("way", f"{feed.source}/{feed.way}")
    if feed.source not in walk.kinds or not walk.has_ways(feed.source):
        return None
    is_one_line = walk.kinds[feed.source] in ("transfer_switch", "disconnect")
    return None if is_one_line else Subject("way", f"{feed.source}/to {feed.to}")


def set_behind(walk: Walk, switch: str) -> str | None:
    """The set that is the one source of the other side of a switch."""
    feed = walk.into(switch, ALTERNATE)
    if feed is None:
        return None
    sources = walk.reaching(feed.source) or frozenset({feed.source})
    source = next(iter(sources))
    return source if len(sources) == 1 and walk.is_of(source, "generator") else None


def built_in_way(tag: str, entry: str) -> Subject:
    """The way that holds the device of a piece on the side of one of its inputs."""
    return Subject("way", f"{tag}/{'main' if entry == 'fed_from' else entry}")


class ExactFacts:
    """Every fact, link and collection of one drawing."""

    def __init__(self, site: Site, catalog: Catalog) -> None:
        self.site = site
        self.catalog = catalog
        self.pieces = {tag: piece for tag, piece in site.pieces.items() if not is_set_aside(site, piece)}
        self.feeds = tuple(feed for feed in site.feeds if {feed.source, feed.to} <= self.pieces.keys())
        self.walk = Walk(self.feeds, {tag: piece.type for tag, piece in self.pieces.items()}, catalog)
        self._feeds = {feed.subject: feed for feed in self.feeds}
        self._derivations = self._all_derivations()
        self._collections = self._all_collections()

    def fact(self, subject: Subject, name: str) -> Value:
        """One fact; raises NoAnswer."""
        if name == "kind" and self.pieces.get(subject.id) == subject:
            return subject.type
        fact = self.catalog.fact(name, subject.type)
        if fact is None:
            return self.fact(self._source_of_side(subject), name) if subject.type == "side" else ABSENT
        said = self.site.stated(subject, name)
        if said is not None:
            return exact_value(said.value)
        if subject.type in fact.derived_for:
            whole, _, part = name.partition(".")
            if whole in STATE_BY_STATE:
                raise NoAnswer(f"{subject}.{name} is worked out state by state")
            return self._derivations[whole](subject, part)
        raise LeftOpen(f"{subject}.{name}")

    @property
    def derived(self) -> frozenset[str]:
        """The facts that are worked out here."""
        return frozenset(self._derivations)

    # --- places on the line ------------------------------------------------------------------------------------------

    def _line(self, subject: Subject) -> Line:
        """The line up from a piece, a side of a switch, or the lower end of a connection; raises NoAnswer."""
        line = self._line_drawn(subject)
        if line.source is None:
            raise NoAnswer(f"nothing feeds {subject}")
        return line

    def _line_drawn(self, subject: Subject) -> Line:
        """The same, whether or not a source stands at its upper end."""
        if subject.type == "side":
            tag, _, entry = subject.id.rpartition(".")
            return self.walk.line(tag, entry)
        if subject.type == "connection":
            feed = self._feeds[subject]
            return self.walk.line(feed.to, feed.input)
        return self.walk.line(subject.id)

    def _source_of_side(self, side: Subject) -> Subject:
        source = self._line(side).source
        assert source is not None
        return self.pieces[source]

    def _role(self, tag: str) -> Value:
        return self.fact(self.pieces[tag], "role") if self.walk.is_of(tag, "disconnecting") else ABSENT

    def _is_past(self, tag: str) -> bool:
        return self.walk.utility(tag) is not None and any(
            self._role(above) == _SERVICE for above in self.walk.ahead(tag)
        )

    # --- overcurrent devices -----------------------------------------------------------------------------------------

    def _built_in(self, tag: str, entry: str) -> Iterator[Subject]:
        if self.walk.is_of(tag, "disconnecting"):
            yield built_in_way(tag, entry)

    def _devices(self, subject: Subject) -> Iterator[Subject]:
        """Every place for a device from the subject up to the source."""
        if subject.type == "side":
            tag, _, entry = subject.id.rpartition(".")
            yield from self._built_in(tag, entry)
        elif subject.type != "connection":
            yield from self._built_in(subject.id, self.walk.inputs(subject.id)[0])
        for feed in self._line(subject).feeds:
            way = way_of(self.walk, feed)
            if way is not None:
                yield way
            if self.walk.is_of(feed.source, "transformer"):
                # Amperes ahead of a transformer are amperes at another voltage.
                return
            inputs = self.walk.inputs(feed.source)
            if inputs:
                yield from self._built_in(feed.source, inputs[0])

    def _nearest_device(self, subject: Subject, part: str) -> Value:
        self._line(subject)
        for way in self._devices(subject):
            if self.fact(way, "overcurrent") is not ABSENT:
                return self.fact(way, f"overcurrent.{part}" if part else "overcurrent")
        return ABSENT

    def _let_through(self, subject: Subject, limiting: Limiting) -> Value:
        """The smallest that limits it, in the state of switches and boards in which that is largest."""
        self._line(subject)
        found = [each.limit for each in self._states(subject, limiting)]
        if UNSAID in found:
            raise NoAnswer(f"what {subject} carries")
        pairs = [each for each in found if isinstance(each, tuple)]
        if len(pairs) < len(found):
            return ABSENT
        low, high = max(low for low, _ in pairs), max(high for _, high in pairs)
        if low != high:
            raise Bounded(low, high)
        return low

    def _states(self, subject: Subject, limiting: Limiting) -> list[Fed]:
        """Every state of what is ahead of a place that no interlock forbids; all of them where it forbids all."""
        if subject.type == "side":
            tag, _, entry = subject.id.rpartition(".")
            states = self._states_into(tag, entry, limiting)
        elif subject.type == "connection":
            states = self._states_along(self._feeds[subject], limiting)
        elif self.walk.is_of(subject.id, "transformer"):
            # What it has to carry comes in at its primary.
            states = self._states_into(subject.id, self.walk.inputs(subject.id)[0], limiting)
        else:
            states = self._states_of(subject.id, limiting)
        return [state for state in states if self._can_be_closed(state.lines)] or states

    def _states_of(self, tag: str, limiting: Limiting) -> list[Fed]:
        inputs = self.walk.inputs(tag)
        if not inputs:
            return [Fed(None if limiting.at_source is None else limiting.at_source(tag), (tag,))]
        into = [self._states_into(tag, entry, limiting) for entry in inputs]
        if self.walk.is_of(tag, "board") and len(inputs) > 1:
            return list(self._together(into, limiting))
        states = [state for each in into for state in each]
        if self.walk.is_of(tag, "transformer"):
            # Amperes ahead of a transformer are amperes at another voltage.
            return [replace(state, limit=limiting.past_transformer) for state in states]
        return states

    def _together(self, into: list[list[Fed]], limiting: Limiting) -> Iterator[Fed]:
        """Every choice of feeds of a board that can be closed at once; each alone, where interlocks leave none."""
        choices = [
            tuple(state for state in chosen if state is not None)
            for chosen in product(*([None, *states] for states in into))
        ]
        fitting = [chosen for chosen in choices if chosen and self._can_stand(chosen)]
        alone = [chosen for chosen in choices if len(chosen) == 1]
        return (self._fed_by(chosen, limiting) for chosen in fitting or alone)

    def _can_stand(self, chosen: tuple[Fed, ...]) -> bool:
        """Whether no interlock forbids it, and no switch is on two sides."""
        lines = frozenset[Feed]().union(*(state.lines for state in chosen))
        into_switches = [feed.to for feed in lines if self.walk.is_of(feed.to, "transfer_switch")]
        return len(into_switches) == len(set(into_switches)) and self._can_be_closed(lines)

    def _fed_by(self, chosen: tuple[Fed, ...], limiting: Limiting) -> Fed:
        """Several lines add; those of one source bring no more than the sources give, and no less than one alone."""
        summed = _summed(state.limit for state in chosen)
        named = [source for state in chosen for source in state.sources]
        sources = tuple(sorted(set(named)))
        if isinstance(summed, tuple) and len(named) > len(sources) and limiting.at_source is not None:
            given = _summed(limiting.at_source(each) if each in self.pieces else UNSAID for each in sources)
            past = any(self.walk.is_of(feed.source, "transformer") for state in chosen for feed in state.lines)
            most = min(summed[1], given[1]) if isinstance(given, tuple) and not past else summed[1]
            summed = max(state.limit[0] for state in chosen if isinstance(state.limit, tuple)), most
        return Fed(summed, sources, frozenset[Feed]().union(*(state.lines for state in chosen)))

    def _states_into(self, tag: str, entry: str, limiting: Limiting) -> list[Fed]:
        feed = self.walk.into(tag, entry)
        above = [self._not_drawn(tag)] if feed is None else self._states_along(feed, limiting)
        return self._behind(self._built_in(tag, entry), above, limiting)

    def _not_drawn(self, tag: str) -> Fed:
        """A line that ends in the air, or at an inlet without a cord; all that is not drawn counts as one source."""
        has_cord = self.catalog.kinds[self.walk.kinds[tag]].feeding is Feeding.CORD
        return Fed(UNSAID, ("(cord)" if has_cord else "(open end)",))

    def _states_along(self, feed: Feed, limiting: Limiting) -> list[Fed]:
        way = way_of(self.walk, feed)
        above = [replace(state, lines=state.lines | {feed}) for state in self._states_of(feed.source, limiting)]
        return self._behind(() if way is None else (way,), above, limiting)

    def _behind(self, ways: Iterable[Subject], states: list[Fed], limiting: Limiting) -> list[Fed]:
        """Behind devices that limit."""
        for way in ways if limiting.devices else ():
            rating = self.fact(way, "overcurrent.rated_current")
            states = [replace(state, limit=_held(state.limit, rating)) for state in states]
        return states

    def _lines(self, subject: Subject) -> list[tuple[Feed, ...]]:
        """Every line up from a side that no interlock keeps open; all of them where it keeps all open."""
        tag, _, entry = subject.id.rpartition(".")
        lines = list(self._lines_into(tag, entry))
        return [line for line in lines if self._can_be_closed(line)] or lines

    def _lines_up(self, tag: str) -> Iterator[tuple[Feed, ...]]:
        inputs = self.walk.inputs(tag)
        if not inputs:
            yield ()
        for entry in inputs:
            yield from self._lines_into(tag, entry)

    def _lines_into(self, tag: str, entry: str) -> Iterator[tuple[Feed, ...]]:
        feed = self.walk.into(tag, entry)
        if feed is None:
            yield ()
        else:
            yield from ((feed, *above) for above in self._lines_up(feed.source))

    def _can_be_closed(self, line: Iterable[Feed]) -> bool:
        line = tuple(line)
        devices = {f"{feed.to}/{'main' if feed.input == 'fed_from' else feed.input}" for feed in line}
        devices |= {f"{feed.source}/{feed.way}" for feed in line if feed.way is not None}
        devices |= {f"{feed.source}/load" for feed in line if self.walk.inputs(feed.source)}
        for each in self._members("interlocks", "site"):
            pair = {self.fact(each, "first"), self.fact(each, "second")}
            if len(pair) > 1 and self.fact(each, "interlock") != "procedure" and pair <= devices:
                return False
        return True

    def _given(self, tag: str) -> Limit:
        names = {"generator": "greatest_current", "inverter": "rated_current"}
        name = names.get(self.walk.kinds[tag])
        return None if name is None else self._number_of(tag, name)

    def _number_of(self, tag: str, name: str) -> Limit:
        try:
            found = self.fact(self.pieces[tag], name)
        except NoAnswer:
            return UNSAID
        return (found, found) if isinstance(found, Fraction) else None

    def _of_set(self, tag: str) -> Limit:
        return self._number_of(tag, "greatest_current") if self.walk.is_of(tag, "generator") else None

    def _ends(self, side: Subject) -> frozenset[str]:
        """The sources that can feed a side, whatever the switches do; raises NoAnswer."""
        self._line(side)
        tag, _, entry = side.id.rpartition(".")
        feed = self.walk.into(tag, entry)
        assert feed is not None
        return self.walk.reaching(feed.source) or frozenset({feed.source})

    def _source_kinds(self, side: Subject, _: str) -> Value:
        kinds = frozenset(self.walk.kinds[tag] for tag in self._ends(side))
        tag, _, entry = side.id.rpartition(".")
        if any(not line or self.walk.inputs(line[-1].source) for line in self._lines_into(tag, entry)):
            # Anything may hang there, or be plugged in.
            raise Bounded(kinds, frozenset(self.catalog.facts["source_kinds"].choices))
        return kinds

    def _capacity(self, subject: Subject) -> Value:
        if subject.type == "side" and len(self._ends(subject)) > 1:
            raise NoAnswer(f"{subject} has no one source")
        return self._current(subject, "capacity", "power_at_site")

    def _no_answer(self, subject: Subject, _: str) -> Value:
        raise NoAnswer(f"no numbers for {subject}")

    def _in_raceway(self, run: Subject, part: str) -> Value:
        return ABSENT if self.fact(run, "raceway_kind") is ABSENT else self._no_answer(run, part)

    def _enclosure_serves(self, piece: Subject, part: str) -> Value:
        return (
            self._no_answer(piece, part)
            if self.fact(piece, "place_conditions") not in (ABSENT, frozenset())
            else ABSENT
        )

    def _that_fit(self, run: Subject, part: str) -> Value:
        return ABSENT if self.fact(run, "alone_in_raceway") is False else self._in_raceway(run, part)

    def _power_at_site(self, piece: Subject, _: str) -> Value:
        if self.fact(piece, "site_power_by") != "figures_of_the_maker":
            raise NoAnswer(f"no numbers for {piece}")
        rating = self.fact(piece, f"rated_power.{self.fact(piece, 'fuel')}")
        losses = {name: self._loss(piece, name, self.fact(SITE, at)) for name, at in DERATINGS.items()}
        added = self.fact(piece, "deratings_together") == "added"
        left = power_left(rating, losses, added=added) if isinstance(rating, Fraction) else None
        if left is None:
            raise NoAnswer(f"{piece}.power_at_site")
        return left

    def _loss(self, piece: Subject, name: str, at: Value) -> Loss | None:
        if self.fact(piece, name) is ABSENT:
            return None
        share, each, above = (self.fact(piece, f"{name}.{part}") for part in ("share", "each", "above"))
        assert isinstance(share, Fraction)
        assert isinstance(each, Fraction)
        assert isinstance(above, Fraction)
        assert isinstance(at, Fraction)
        return Loss(share, each, above, self.fact(piece, f"{name}.begun_step") == "whole", at)

    def _phases(self, piece: Subject) -> tuple[Fraction, Fraction]:
        voltage = self.fact(piece, "system.voltage")
        if self.fact(piece, "system.phases") != 3 or not isinstance(voltage, Fraction) or not voltage:
            raise NoAnswer(f"{piece} has not three phases")
        powers: dict[str, Fraction] = {}
        for load in self._members("loads", "site"):
            tag, power = self.fact(load, "at"), self.fact(load, "load_power")
            if tag not in self.pieces or piece.id not in self.walk.reaching(str(tag)):
                continue
            if isinstance(power, Fraction) and self.fact(load, "kept_off") != "while_the_set_runs":
                ends = str(self.fact(load, "connected_to"))
                powers[ends] = powers.get(ends, Fraction(0)) + power
        return phase_currents(voltage, powers.pop("three_phase", Fraction(0)), powers)

    def _greatest_block(self, piece: Subject, _: str) -> Value:
        load, current = self.fact(piece, "automatic_load"), self.fact(piece, "capacity")
        if not isinstance(load, Fraction) or not isinstance(current, Fraction) or current <= 0:
            raise NoAnswer(f"{piece}.greatest_block")
        return nine_digits(load / current)

    def _of_the_battery(self, piece: Subject, *parts: str) -> list[Fraction]:
        if self.fact(piece, "start_battery") is ABSENT:
            raise NoAnswer(f"{piece} has no starting battery")
        found = [self.fact(piece, f"start_battery.{part}") for part in parts]
        return [each if isinstance(each, Fraction) else Fraction(0) for each in found]

    def _cranking_cycle(self, piece: Subject, _: str) -> Value:
        cranks, crank, rest = self._of_the_battery(piece, "cranks", "crank", "rest")
        if cranks < 1:
            raise NoAnswer(f"{piece} does not crank")
        return nine_digits(cranks * crank + (cranks - 1) * rest)

    def _cranking_charge(self, piece: Subject, _: str) -> Value:
        current, *others = self._of_the_battery(piece, "current", "cranks", "crank", "cycles")
        for each in others:
            current *= each
        return nine_digits(current / 3600)

    def _time_to_load(self, switch: Subject, _: str) -> Value:
        source = set_behind(self.walk, switch.id)
        if source is None or self.fact(switch, "carried_meanwhile") is True:
            raise NoAnswer(f"{switch} is not fed by one set alone, or something else carries its load")
        steps = ("last_load_delay",) if self.fact(switch, "loads_in_steps") is True else ()
        delays = [self.fact(switch, name) for name in ("sensing_delay", "transfer_delay", *steps)]
        terms = [self.fact(self.pieces[source], "time_to_ready"), *delays]
        return sum((term for term in terms if isinstance(term, Fraction)), Fraction(0))

    def _share_of_set(self, load: Subject, _: str) -> Value:
        tag = self.fact(load, "at")
        if not isinstance(tag, str) or tag not in self.pieces:
            raise NoAnswer(f"{load} is nowhere")
        sets = [self.pieces[each] for each in self.walk.reaching(tag) if self.walk.is_of(each, "generator")]
        if not sets:
            return ABSENT
        terms = [self.fact(load, "load_power"), *(self.fact(each, "power_at_site") for each in sets)]
        rating, *powers = [term for term in terms if isinstance(term, Fraction)]
        if min(powers) <= 0:
            raise NoAnswer(f"a set of {load} gives nothing")
        return rating / min(powers)

    def _figure_left_open(self, pair: Subject, part: str) -> Value:
        raise LeftOpen(f"{pair}.{part}")

    def _least_fault_current(self, subject: Subject, part: str) -> Value:
        if subject.type in ("fault_source", "generator"):
            return self._figure_left_open(subject, part)
        if subject.type == "connection":
            feed = self._feeds[subject]
            tag = feed.to
            is_source = self.walk.is_of(feed.source, "source")
            sources = {feed.source} if is_source else self.walk.reaching(feed.source)
            if not sources or not self.walk.is_of(tag, "rated_for_fault"):
                raise NoAnswer(f"no pair at the end of {subject}")
        else:
            self._line(subject)
            tag, sources = subject.id, self.walk.reaching(subject.id)
        pairs = [Subject("fault_source", f"{tag}~{source}") for source in sources]
        return min(value for pair in pairs if isinstance(value := self.fact(pair, "least_fault_current"), Fraction))

    def _incoming(self, subject: Subject, part: str) -> Value:
        way = built_in_way(subject.id, self.walk.inputs(subject.id)[0])
        return self.fact(way, f"overcurrent.{part}" if part else "overcurrent")

    def _at_the_end(self, fact: str) -> Callable[[Subject, str], Value]:
        """A fact of the device at which a connection ends, where there is one."""

        def work(connection: Subject, _: str) -> Value:
            feed = self._feeds[connection]
            ways = [way for way in self._built_in(feed.to, feed.input) if self.fact(way, "overcurrent") is not ABSENT]
            return self.fact(ways[0], fact) if ways else ABSENT

        return work

    def _on_normal_side(self, part: str) -> Callable[[Subject, str], Value]:
        return lambda switch, _: self._nearest_device(Subject("side", f"{switch.id}.{NORMAL}"), part)

    # --- derived facts -----------------------------------------------------------------------------------------------

    def _all_derivations(self) -> Mapping[str, Callable[[Subject, str], Value]]:
        return {
            "overcurrent": self._nearest_device,
            "overcurrent_limit": lambda subject, _: self._let_through(subject, Limiting(None, None)),
            "current_to_carry": lambda subject, _: self._let_through(subject, Limiting(self._given, UNSAID)),
            "incoming": self._incoming,
            "protecting_device": self._on_normal_side("device"),
            "protecting_rating": self._on_normal_side("rated_current"),
            "protecting_clearing_time": self._on_normal_side("clearing_time"),
            "role": self._role_that_follows,
            "first_after_meter": self._first_after_meter,
            "past_service_disconnect": self._past,
            "system": self._system,
            "kind": lambda side, _: self._source_of_side(side).type,
            "neutral_bond": self._neutral_bond,
            "electrode_conductor_ahead": self._electrode_conductor_ahead,
            "separately_derived": self._separately_derived,
            "neutral_poles": lambda switch, _: Fraction(self.fact(switch, "neutral") in ("switched", "overlapping")),
            "least_fault_current": self._least_fault_current,
            "available_fault_current": self._figure_left_open,
            "motor_fault_current": self._figure_left_open,
            "source_kinds": self._source_kinds,
            "greatest_power": self._greatest_power,
            "greatest_current": lambda piece, _: self._current(piece, "greatest_current", "greatest_power"),
            "greatest_power_on_another_fuel": self._on_another_fuel,
            "current_on_another_fuel": self._current_on_another_fuel,
            "capacity": lambda piece, _: self._capacity(piece),
            **dict.fromkeys(_LOADS, self._figure_left_open),
            # The generated cases have no numbers of loads.
            **dict.fromkeys(("ever_fits", "load_after_a_long_outage", "capacity_of_its_set"), self._no_answer),
            # The generated cases have no document that wants a listing of load management.
            "reduction_counts": lambda *_: True,
            **dict.fromkeys(_LOAD_CURES, self._no_answer),
            "load_on_its_device": self._load_on_its_device,
            "whole_dwelling_load": self._figure_left_open,
            **{name: partial(self._nearest, kinds) for name, kinds in NEAREST.items()},
            "feeds_another_building": self._feeds_another_building,
            "neutral_may_ground": self._neutral_may_ground,
            "neutral_may_ground_without_metal": self._neutral_may_ground_without_metal,
            "place_of_its_own": self._place_of_its_own,
            "has_shedding_contact": self._contact("sheds_loads"),
            "has_signal_before_transfer": self._contact("before_transfer"),
            "largest_transformer": self._largest_transformer,
            "neutral_needed_past": self._neutral_needed_past,
            "lines_share_a_device": self._lines_share_a_device,
            "heaviest_leg": self._heaviest_leg,
            "opens_in_time_from": self._no_answer,
            "service_rating": self._service_rating,
            "power_at_site": self._power_at_site,
            "greatest_phase_current": lambda piece, _: self._phases(piece)[0],
            "phase_imbalance": lambda piece, _: self._phases(piece)[1],
            "greatest_block": self._greatest_block,
            "time_to_load": self._time_to_load,
            "cranking_cycle": self._cranking_cycle,
            "cranking_charge": self._cranking_charge,
            "charger_output_wanted": self._no_answer,
            "sound_at_lot_line": self._figure_left_open,
            "starting_power": self._figure_left_open,
            "dip_when_it_starts": self._no_answer,
            "share_of_set": self._share_of_set,
            **dict.fromkeys(_FIGURES_OF_A_RUN, self._figure_left_open),
            **dict.fromkeys(("raceway_fill", "conductors_in_raceway"), self._in_raceway),
            "conductors_that_fit": self._that_fit,
            # No standard ratings either.
            "next_standard_device": lambda _line, _part: ABSENT,
            "enclosure_serves": self._enclosure_serves,
            **dict.fromkeys(_BY_TABLES, self._no_answer),
            "automatic_start": self._automatic_start,
            "parallel_output": self._parallel_output,
            # The generated cases set no share that counts.
            "bus_sum": lambda board, part: self._no_answer(board, part) if self._beside_the_utility(board) else ABSENT,
            **dict.fromkeys(
                (
                    "main_wherever_they_land",
                    "main_opposite_the_inverters",
                    "output_that_may_stay",
                    "output_that_may_stay_opposite",
                    "inverters_to_take_off",
                    "bus_opposite_the_inverters",
                ),
                lambda board, part: self._no_answer(board, part) if self._beside_the_utility(board) else ABSENT,
            ),
            "holds_overcurrent_devices": self._holds_overcurrent_devices,
            "bus_protection": self._bus_protection,
            "breakers_drawn": self._breakers_drawn,
            "landings": self._landings,
            "place_of_parallel_sources": self._place_of_parallel_sources,
            "power_control_setting": self._power_control_setting,
            "fed_several_ways": lambda board, _: sum(feed.to == board.id for feed in self.feeds) > 1,
            "end_plug_in": self._at_the_end("plug_in"),
            "end_fastened": self._at_the_end("fastened"),
            "end_full_rated": self._at_the_end("overcurrent.full_rated"),
            "end_rating": self._at_the_end("overcurrent.rated_current"),
            # What is filled in always agrees; a site where it does not is set apart.
            "agree": lambda _figure, _part: True,
            **{
                name: lambda side, _, name=name: self.fact(self._source_of_side(side), name)  # type: ignore[misc]
                for name in _OF_THE_SOURCE
            },
        }

    def _role_that_follows(self, piece: Subject, _: str) -> Value:
        if self._is_past(piece.id):
            return "feeder_disconnect"
        raise LeftOpen(f"{piece}.role")

    def _first_after_meter(self, piece: Subject, _: str) -> Value:
        ahead = self.walk.ahead(piece.id)
        return self.walk.utility(piece.id) is not None and not any(
            self.walk.is_of(tag, "disconnecting") for tag in ahead
        )

    def _past(self, subject: Subject, _: str) -> Value:
        if subject.type != "connection":
            return self._is_past(subject.id)
        feed = self._feeds[subject]
        if feed.input != self.walk.inputs(feed.to)[0] or self.walk.utility(feed.to) is None:
            return False
        return self._role(feed.source) == _SERVICE or self._is_past(feed.source)

    def _load_on_its_device(self, line: Subject, _: str) -> Value:
        """Of all switches that of the set, of one its own, of some between the largest and the sum."""
        feed = self._feeds[line]
        sets = [tag for tag in self.walk.of("generator") if feed in self._lines_to_switches(tag)]
        same = [other for other in self.feeds if (other.source, other.way) == (feed.source, feed.way)]
        same = same if feed.way is not None else [feed]
        if len(sets) != 1 or feed != min(same, key=_by_the_numbers_in_it):
            return ABSENT
        switches = [tag for tag in self._fed_from(sets[0]) if self.walk.is_of(tag, "transfer_switch")]
        automatic = [tag for tag in switches if self.fact(self.pieces[tag], "operation") == "automatic"]
        ends = {each.to for other in same for each in self._past_a_line(other)}
        here = [tag for tag in automatic if tag in ends]
        reaching = {each for tag in here for each in self.walk.reaching(tag) if self.walk.is_of(each, "generator")}
        shared = bool(reaching - {sets[0]})
        if len(automatic) < 2 or not here or shared:
            return ABSENT
        if set(here) == set(automatic):
            return self.fact(self.pieces[sets[0]], "automatic_load")
        loads = [self.fact(self.pieces[tag], "load_put_on_the_set") for tag in here]
        figures = [each for each in loads if isinstance(each, Fraction)]
        assert len(figures) == len(loads)
        if len(figures) > 1:
            raise Bounded(max(figures), sum(figures, Fraction(0)))
        return figures[0]

    def _nearest(self, kinds: tuple[str, ...], tank: Subject, _: str) -> Value:
        listed = [each for each in self._listed("distances", "of", tank) if self.fact(each, "to_kind") in kinds]
        found = [each for each in (self.fact(each, "distance") for each in listed) if isinstance(each, Fraction)]
        if not found:
            raise NoAnswer(f"nothing is listed near {tank}")
        return min(found)

    def _past_a_line(self, feed: Feed) -> list[Feed]:
        """The line and those past it, down to the first switches."""
        return [feed, *([] if self.walk.is_of(feed.to, "transfer_switch") else self._lines_to_switches(feed.to))]

    def _lines_to_switches(self, tag: str) -> list[Feed]:
        found: list[Feed] = []
        waiting = [tag]
        while waiting:
            here = waiting.pop()
            new = [feed for feed in self.feeds if feed.source == here and feed not in found]
            found += new
            waiting += [feed.to for feed in new if not self.walk.is_of(feed.to, "transfer_switch")]
        return found

    def _feeds_another_building(self, line: Subject, _: str) -> Value:
        said = [feed.subject for feed in self.feeds if self.fact(feed.subject, "to_another_building") is True]
        if said:
            return line in said
        if self.fact(SITE, "dwelling_fed_by_feeder") is not True:
            return False
        past = [feed.subject for feed in self.feeds if self._past(feed.subject, "") is True]
        if len(past) > 1:
            past = [each for each in past if self.fact(each, "whole_dwelling_load") is True]
        return past == [line]

    def _neutral_may_ground(self, subject: Subject, _: str) -> Value:
        if subject.type != "connection":
            return self._at_its_one_line(subject, "neutral_may_ground")
        of_an_old_line = self.fact(subject, "neutral_may_ground_without_metal") is True
        return of_an_old_line and self.fact(subject, "metal_to_the_other_building") is False

    def _at_its_one_line(self, subject: Subject, name: str) -> Value:
        feeds = [feed for feed in self.feeds if feed.to == subject.id]
        is_one = len(feeds) == len(self.walk.inputs(subject.id)) == 1
        return is_one and self.fact(feeds[0].subject, name)

    def _neutral_may_ground_without_metal(self, subject: Subject, _: str) -> Value:
        if subject.type != "connection":
            return self._at_its_one_line(subject, "neutral_may_ground_without_metal")
        feed = self._feeds[subject]
        above = (feed.source, *self.walk.ahead(feed.source))
        ahead = [tag for tag in above if self.walk.is_of(tag, "can_sense_ground_faults")]
        return (
            self.fact(subject, "feeds_another_building") is True
            and self.fact(subject, "grounding") is ABSENT
            and self.fact(subject, "raceway_grounds") is False
            and self.fact(subject, "run_status") == "existing"
            and all(self.fact(self.pieces[tag], "ground_fault_protection") is ABSENT for tag in ahead)
        )

    def _system(self, subject: Subject, part: str) -> Value:
        name = f"system.{part}" if part else "system"
        line = self._line_drawn(subject)
        transformers = (feed.source for feed in line.feeds if self.walk.is_of(feed.source, "transformer"))
        # A transformer has its system also where nothing feeds it.
        giver = next(transformers, line.source)
        if giver is None:
            raise NoAnswer(f"nothing feeds {subject}")
        return self.fact(self.pieces[giver], name)

    def _neutral_bond(self, piece: Subject, _: str) -> Value:
        stays = [
            bond for bond in self._listed("bonds", "at", piece) if self.fact(bond, "bond_status") != "to_be_removed"
        ]
        return "bonded" if stays else "floating"

    def _electrode_conductor_ahead(self, utility: Subject, _: str) -> Value:
        tag = self.fact(utility, "electrode_conductor_ends_at")
        if not isinstance(tag, str) or tag not in self.pieces or self.walk.utility(tag) != utility.id:
            return False
        return not self._is_past(tag) and (
            self.fact(utility, "electrode_conductor_to_each") is True
            or all(self._bonded_with(tag, each) for each in self.walk.below(utility.id))
        )

    def _bonded_with(self, end: str, other: str) -> bool:
        """Whether a piece needs no tap of its own when the electrode conductor ends at another one."""
        one_line = other == end or other in self.walk.below(end) or end in self.walk.below(other)
        if one_line or not self.walk.is_of(other, "disconnecting"):
            return True
        if self.fact(self.pieces[other], "role") != "service_disconnect":
            return True
        pair = Subject("service_disconnect_pair", "~".join(sorted((end, other))))
        return self.walk.is_of(end, "disconnecting") and self.fact(pair, "shared_enclosure") is True

    def _switches_fed(self, source: Subject) -> list[Subject]:
        switches = [tag for tag in self.walk.of("transfer_switch") if source.id in self.walk.reaching(tag)]
        return [self.pieces[tag] for tag in switches]

    def _separately_derived(self, piece: Subject, _: str) -> Value:
        switches = self._switches_fed(piece)
        if not switches:
            raise NoAnswer(f"{piece} feeds no switch")
        return all(self.fact(switch, "neutral") != "solid" for switch in switches)

    def _automatic_start(self, piece: Subject, _: str) -> Value:
        return any(self.fact(switch, "operation") == "automatic" for switch in self._switches_fed(piece))

    def _beside_the_utility(self, board: Subject) -> list[tuple[Subject, Subject]]:
        """Inverters that feed beside the utility, each with the way by which it comes onto the bus."""
        if self.walk.utility(board.id) is None:
            return []
        boards = [each for each in (board.id, *self.walk.below(board.id)) if self.walk.is_of(each, "board")]
        found = []
        landings = [(each, entry) for each in boards for entry in self.walk.inputs(each)[1:]]
        for tag, entry in landings:
            source = self.walk.line(tag, entry).source
            if source is None or not self.walk.is_of(source, "inverter"):
                continue
            if self.fact(self.pieces[source], "interactive") is True:
                found.append((self.pieces[source], self._way_onto(board.id, tag, entry)))
        return found

    def _way_onto(self, board: str, tag: str, entry: str) -> Subject:
        if tag == board:
            return Subject("way", f"{board}/{entry}")
        feed = next(each for each in self.walk.line(tag).feeds if each.source == board)
        return Subject("way", f"{board}/{feed.way if feed.way is not None else f'to {feed.to}'}")

    def _parallel_output(self, board: Subject, _: str) -> Value:
        outputs = [self.fact(each, "rated_current") for each in {found for found, _ in self._beside_the_utility(board)}]
        numbers = [each for each in outputs if isinstance(each, Fraction)]
        return sum(numbers, Fraction(0)) if numbers else ABSENT

    def _holds_overcurrent_devices(self, piece: Subject, _: str) -> Value:
        if self.walk.is_of(piece.id, "board"):
            return True
        sides = [way for entry in self.walk.inputs(piece.id) for way in self._built_in(piece.id, entry)]
        drawn = [each for each in self.site.things if each.type == "way" and each.id.split("/")[0] == piece.id]
        return any(self.fact(way, "overcurrent") is not ABSENT for way in (*sides, *drawn))

    def _bus_protection(self, board: Subject, _: str) -> Value:
        ratings = [self.fact(way, "overcurrent.rated_current") for way in self._devices(board)]
        return min((each for each in ratings if isinstance(each, Fraction)), default=ABSENT)

    def _breakers_drawn(self, board: Subject, _: str) -> Value:
        if not self._beside_the_utility(board):
            return ABSENT
        ways = [each for each in self.site.things if each.type == "way" and each.id.split("/")[0] == board.id]
        ratings = [self.fact(way, "overcurrent.rated_current") for way in ways if way.id != f"{board.id}/main"]
        return sum((each for each in ratings if isinstance(each, Fraction)), Fraction(0))

    def _landings(self, board: Subject, _: str) -> Value:
        words = self.catalog.facts["stands_on_bus"].choices
        found = dict.fromkeys(self._beside_the_utility(board))
        told = [f"{inverter} by {way}, {words[str(self.fact(way, 'stands_on_bus'))]}" for inverter, way in found]
        return "; ".join(told) if told else ABSENT

    def _place_of_parallel_sources(self, board: Subject, _: str) -> Value:
        places = {self.fact(way, "stands_on_bus") for _, way in self._beside_the_utility(board)}
        return ABSENT if not places else next(iter(places)) if len(places) == 1 else "elsewhere"

    def _power_control_setting(self, board: Subject, _: str) -> Value:
        settings = [
            self.fact(each, "bus_setting") if self.fact(each, "listed_as_power_control") is True else ABSENT
            for each, _ in self._beside_the_utility(board)
        ]
        numbers = [each for each in settings if isinstance(each, Fraction)]
        return max(numbers) if numbers and len(numbers) == len(settings) else ABSENT

    def _heaviest_leg(self, piece: Subject, _: str) -> Value:
        boards, fed = set(self.walk.of("board")), self._fed_from(piece.id)
        if not fed & boards or boards <= fed:
            return ABSENT
        volts, to_neutral, phases = (self.fact(piece, f"system.{part}") for part in ("voltage", "to_neutral", "phases"))
        if phases != 1:
            return ABSENT
        if not isinstance(volts, Fraction) or not isinstance(to_neutral, Fraction):
            raise NoAnswer(f"legs of {piece}")
        first, second, both = Fraction(0), Fraction(0), Fraction(0)
        for load in self._members("loads", "site"):
            power, legs = self.fact(load, "load_power"), self.fact(load, "connected_to")
            if self.fact(load, "at") not in fed or not isinstance(power, Fraction):
                continue
            both += power / volts if legs not in ("A", "B") else 0
            first += power / to_neutral if legs == "A" else 0
            second += power / to_neutral if legs == "B" else 0
        return rounded(max(first, second) + both)

    def _place_of_its_own(self, load: Subject, _: str) -> Value:
        place, at = self.fact(load, "priority"), self.fact(load, "at")
        sets = [self._fed_from(tag) for tag in self.walk.of("generator")]
        return place is ABSENT or not any(
            self.fact(other, "priority") == place
            and self.fact(other, "kept_off") == "until_it_fits"
            and any(at in fed and self.fact(other, "at") in fed for fed in sets)
            for other in self._members("loads", "site")
            if other != load
        )

    def _contact(self, contact: str) -> Callable[[Subject, str], Value]:
        """Whether a switch that feeds the load, or at which it is, has the contact."""

        def work(load: Subject, _: str) -> Value:
            at = self.fact(load, "at")
            ahead = (tag for tag in self.walk.of("transfer_switch") if at == tag or at in self._fed_from(tag))
            contacts = (self.fact(self.pieces[tag], "contacts") for tag in ahead)
            return any(isinstance(each, frozenset) and contact in each for each in contacts)

        return work

    def _largest_transformer(self, switch: Subject, _: str) -> Value:
        past = [tag for tag in self._fed_from(switch.id) if self.walk.is_of(tag, "transformer")]
        ratings = [self.fact(self.pieces[tag], "transformer_rating") for tag in past]
        return max((each for each in ratings if isinstance(each, Fraction)), default=ABSENT)

    def _neutral_needed_past(self, switch: Subject, _: str) -> Value:
        """Walked line by line, never into a transformer."""
        past, waiting = set[str](), [switch.id]
        while waiting:
            tag = waiting.pop()
            past.add(tag)
            waiting += [
                feed.to
                for feed in self.feeds
                if feed.source == tag and feed.to not in past and not self.walk.is_of(feed.to, "transformer")
            ]
        own = [feed for feed in self.feeds if feed.source == switch.id and not self.walk.is_of(feed.to, "transformer")]
        if any(self.fact(feed.subject, "neutral_conductor") not in (ABSENT, None) for feed in own):
            return True
        return any(
            self.fact(load, "at") in past
            and (
                self.fact(load, "load_kind") in ("circuit", "lighting", "receptacles", "other_building")
                or self.fact(load, "connected_to") in ("A", "B", "C")
                or self.fact(load, "has_neutral") is True
            )
            for load in self._members("loads", "site")
        )

    def _lines_share_a_device(self, piece: Subject, _: str) -> Value:
        ways = [feed.way for feed in self.feeds if feed.source == piece.id]
        named = [way for way in ways if way is not None]
        if len(set(named)) == len(named) and len(ways) - len(named) > 1:
            raise NoAnswer(f"ways of {piece}")
        return len(set(named)) < len(named)

    def _fed_from(self, tag: str) -> set[str]:
        """Every piece below this one, whatever the selectors do."""
        found: set[str] = set()
        waiting = {tag}
        while waiting:
            waiting = {feed.to for feed in self.feeds if feed.source in waiting} - found
            found |= waiting
        return found - {tag}

    def _service_rating(self, utility: Subject, _: str) -> Value:
        ratings = [self.fact(piece, "rated_current") for piece in self._with_role(utility, frozenset({_SERVICE}))]
        if not ratings:
            raise NoAnswer(f"no service disconnect past {utility}")
        numbers = [rating for rating in ratings if isinstance(rating, Fraction)]
        return sum(numbers, Fraction(0)) if len(numbers) == len(ratings) else ABSENT

    def _greatest_power(self, piece: Subject, _: str) -> Value:
        parts = self.catalog.facts["rated_power"].parts
        ratings = [self.fact(piece, f"rated_power.{part}") for part in parts]
        return max((rating for rating in ratings if isinstance(rating, Fraction)), default=ABSENT)

    def _on_another_fuel(self, piece: Subject, _: str) -> Value:
        others = [each for each in self.catalog.facts["rated_power"].parts if each != self.fact(piece, "fuel")]
        ratings = [self.fact(piece, f"rated_power.{part}") for part in others]
        return max((rating for rating in ratings if isinstance(rating, Fraction)), default=ABSENT)

    def _current_on_another_fuel(self, piece: Subject, _: str) -> Value:
        if self.fact(piece, "greatest_power_on_another_fuel") is ABSENT:
            return ABSENT
        return self._current(piece, "current_on_another_fuel", "greatest_power_on_another_fuel")

    def _current(self, subject: Subject, name: str, power: str) -> Value:
        if subject.type == "side":
            return self._of_side(subject, name)
        terms = [self.fact(subject, each) for each in (power, "system.voltage", "power_factor", "system.phases")]
        numbers = [term for term in terms if isinstance(term, Fraction)]
        current = full_load_current(*numbers) if len(numbers) == len(terms) else None
        if current is None:
            raise NoAnswer(f"{subject}.{name}")
        return current

    def _of_side(self, side: Subject, name: str) -> Value:
        """Capacity of the one source; the greatest current of the sets that feed it together, none with a utility
        among them.
        """
        self._source_of_side(side)
        if name == "greatest_current":
            return self._let_through(side, Limiting(self._of_set, UNSAID, devices=False))
        lines = self._lines(side)
        if any(self.walk.is_of(feed.source, "transformer") for line in lines for feed in line):
            raise NoAnswer(f"{side} is past a transformer")
        if any(not line or self.walk.inputs(line[-1].source) for line in lines):
            raise NoAnswer(f"a line of {side} ends in the air")
        found = [self.fact(self.pieces[line[-1].source], name) for line in lines]
        numbers = [each for each in found if isinstance(each, Fraction)]
        return max(numbers) if len(numbers) == len(found) else ABSENT

    # --- links -------------------------------------------------------------------------------------------------------

    def linked(self, subject: Subject, link: str) -> Subject | None:
        """Where a link leads; None where the drawing has nothing there."""
        if link == "site":
            return SITE
        if link == "service":
            return self._piece(self._service_of(subject))
        if link in (NORMAL, ALTERNATE):
            return Subject("side", f"{subject.id}.{link}") if subject.type == "transfer_switch" else None
        if link in ("a", "b"):
            first, _, second = subject.id.partition("~")
            return self._piece(first if link == "a" else second)
        if link in ("from", "to"):
            feed = self._feeds[subject]
            return self._piece(feed.source if link == "from" else feed.to)
        if link == "measured_from":
            return self._piece(str(self.fact(subject, "of")))
        assert link == "fed_from"
        feed_in = self._feed_into(subject)
        return None if feed_in is None else self._piece(feed_in.source)

    def _piece(self, tag: str | None) -> Subject | None:
        return None if tag is None else self.pieces.get(tag)

    def _feed_into(self, subject: Subject) -> Feed | None:
        inputs = self.walk.inputs(subject.id)
        return self.walk.into(subject.id, inputs[0]) if inputs else None

    def _service_of(self, subject: Subject) -> str | None:
        if subject.type == "site":
            supplies = self.walk.of("utility_supply")
            return supplies[0] if len(supplies) == 1 else None
        if subject.type == "side":
            tag, _, entry = subject.id.rpartition(".")
            source = self.walk.line(tag, entry).source
            return source if source is not None and self.walk.is_of(source, "utility_supply") else None
        tag = self._feeds[subject].to if subject.type == "connection" else subject.id.partition("~")[0]
        return self.walk.utility(tag) if tag in self.pieces else None

    # --- collections -------------------------------------------------------------------------------------------------

    def collection(self, name: str, owner: Subject) -> tuple[list[Subject], bool]:
        """The members, and whether there may be others that nobody has drawn; raises NoAnswer."""
        if owner.type == "side":
            owner = self._source_of_side(owner)
        if self.catalog.collection(name, owner.type) is None:
            return [], False
        others = name == "standby_sources" and self.fact(SITE, "other_sources") is not ABSENT
        return list(self._collections[name](owner)), others

    @property
    def collected(self) -> frozenset[str]:
        """The collections that are found here."""
        return frozenset(self._collections)

    def _all_collections(self) -> Mapping[str, Callable[[Subject], Iterable[Subject]]]:
        return {
            "labels": lambda owner: self._listed("labels", "at", owner),
            "bonds": lambda owner: self._listed("bonds", "at", owner),
            "distances": lambda owner: self._listed("distances", "of", owner),
            "controls": lambda owner: self._listed("controls", "of", owner),
            "every_label": lambda _: self._members("labels", "site"),
            "papers": lambda _: self._members("papers", "site"),
            "loads": lambda _: self._members("loads", "site"),
            "withstand_rows": lambda owner: self._members("withstand_rows", owner.id),
            "bonds_past": self._bonds_past,
            "interlocks": self._interlocks,
            "stops": lambda owner: self._naming("stop", "of", owner.id),
            "load_managers": lambda owner: self._naming("load_manager", "manages", owner.id),
            "surge_devices": self._surge_devices,
            "switches_fed": self._switches_fed,
            "disconnects": lambda owner: self._with_role(owner, _AT_THE_SERVICE),
            "service_disconnects": lambda owner: self._with_role(owner, frozenset({_SERVICE})),
            "feeder_disconnects": lambda owner: self._with_role(owner, frozenset({"feeder_disconnect"})),
            "pieces_ahead": self._pieces_ahead,
            "next_boards": self._next_boards,
            "sets_past": self._sets_past,
            "standby_sources": lambda _: (self.pieces[tag] for tag in self.walk.kinds if self._is_standby(tag)),
            "gas_pipes": self._gas_pipes,
        }

    def _gas_pipes(self, owner: Subject) -> list[Subject]:
        tag = owner.id.casefold()
        pipes = self._members("gas_pipes", "site")
        return [each for each in pipes if str(self.fact(each, "ends_at")).casefold() == tag]

    def _members(self, name: str, owner: str) -> tuple[Subject, ...]:
        listed = self.site.members(name, owner)
        if not listed.complete:
            raise LeftOpen(f"{name} of {owner}")
        return listed.members

    def _listed(self, name: str, tag_fact: str, owner: Subject) -> list[Subject]:
        return [member for member in self._members(name, "site") if self.fact(member, tag_fact) == owner.id]

    def _bonds_past(self, owner: Subject) -> list[Subject]:
        below = self.walk.below(owner.id)
        return [bond for bond in self._members("bonds", "site") if self.fact(bond, "at") in below]

    def _interlocks(self, owner: Subject) -> list[Subject]:
        ends = {
            each: [self.fact(each, end) for end in ("first", "second")] for each in self._members("interlocks", "site")
        }
        return [each for each, ways in ends.items() if any(str(way).startswith(f"{owner.id}/") for way in ways)]

    def _sets_past(self, owner: Subject) -> list[Subject]:
        here = {owner.id, *self.walk.below(owner.id)}
        sets = [self.pieces[tag] for tag in self.walk.of("generator")]
        return [piece for piece in sets if any(switch.id in here for switch in self._switches_fed(piece))]

    def _naming(self, kind: str, tag_fact: str, tag: str) -> list[Subject]:
        if not self.catalog.kinds[kind].drawing_complete and kind not in self.site.complete_kinds:
            raise LeftOpen(kind)
        pieces = (self.pieces[other] for other in self.walk.of(kind))
        return [piece for piece in pieces if self.fact(piece, tag_fact) == tag]

    def _surge_devices(self, owner: Subject) -> list[Subject]:
        at = [each.id for each in self._with_role(owner, frozenset({_SERVICE}))]
        tags = at if owner.type == "utility_supply" else [owner.id]
        return [device for tag in tags for device in self._naming("surge_protective_device", "at", tag)]

    def _below(self, owner: Subject, group: str) -> list[Subject]:
        return [self.pieces[tag] for tag in self.walk.below(owner.id) if self.walk.is_of(tag, group)]

    def _with_role(self, owner: Subject, roles: frozenset[str]) -> list[Subject]:
        return [piece for piece in self._below(owner, "disconnecting") if self._role(piece.id) in roles]

    def _pieces_ahead(self, owner: Subject) -> list[Subject]:
        pieces = self._below(owner, "line_equipment")
        return [piece for piece in pieces if not self._is_past(piece.id) and self._role(piece.id) != _SERVICE]

    def _next_boards(self, owner: Subject) -> list[Subject]:
        return [
            board for board in self._below(owner, "board") if self._is_past(board.id) and self._is_first_board(board.id)
        ]

    def _is_first_board(self, tag: str) -> bool:
        return not any(self.walk.is_of(above, "board") and self._is_past(above) for above in self.walk.ahead(tag))

    def _is_standby(self, tag: str) -> bool:
        return self.walk.is_of(tag, "generator") or self.walk.is_of(tag, "inverter")
