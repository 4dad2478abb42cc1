"""Generated one-line drawings with boards of several feeds and interlocks, as something that can be changed and
written.

Pieces and what feeds them come from the generator of all drawings; here boards get more feeds, devices are kept apart,
and the few facts that matter for ties, neutrals and live parts are written. What is exact in a plan can be made less
known.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path

from hypothesis import strategies as st

from checker.site.model import Feed, Site
from checker.site.read import read_site
from checker.values.positions import Position
from tests.generators.choosing import Chooser, drawn, seeded
from tests.generators.topology import sketched
from tests.one_line.sheet import CATALOG

SOURCES = ("utility_supply", "generator", "inverter")
BOARDS = ("panelboard", "switchboard")
DISCONNECTING = ("disconnect", "transfer_switch", *BOARDS)
KINDS_OF_INTERLOCK = ("panel_kit", "mechanical", "key", "electrical", "procedure")
KINDS_OF_SENSOR = ("ground_return", "residual", "zero_sequence")
SERVICE = "service_disconnect"
_PLACE = Position("plan", 1, 1)
_MOST_FEEDS = 7
"""Breakers by which boards are fed; each doubles what the enumeration has to look at."""


@dataclass(frozen=True, slots=True)
class Plan:
    """A drawing: kinds and facts by tag, feeds, neutral and equipment ground of a connection, bonds, interlocks."""

    kinds: Mapping[str, str]
    feeds: tuple[Feed, ...]
    facts: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    neutral_in: Mapping[str, str] = field(default_factory=dict)
    ground_in: Mapping[str, str] = field(default_factory=dict)
    bonds: tuple[str, ...] = ()
    interlocks: tuple[tuple[str, str, str], ...] = ()
    interlocks_complete: bool = True
    other_sources: str = "none"

    @staticmethod
    def of_lines(
        kinds: Mapping[str, str],
        lines: Iterable[tuple[str, str, str]],
        facts: Mapping[str, Mapping[str, str]],
        bonds: tuple[str, ...],
    ) -> Plan:
        """A plan from source, piece and input of each line, with a neutral in all of them."""
        feeds = tuple(Feed(source, None, to, entry, _PLACE) for source, to, entry in lines)
        neutral = {feed.subject.id: "2 AWG copper" for feed in feeds}
        return Plan(kinds, feeds, facts, neutral, bonds=bonds)

    # --- as text -----------------------------------------------------------------------------------------------------

    def text(self) -> str:
        """The drawing as a site file."""
        pieces = "".join(f"  {tag}: {self._piece(tag)}\n" for tag in self.kinds)
        runs = [f"  {json.dumps(name)}: {{{text}}}\n" for name, text in self._runs().items()]
        bonds = ", ".join(f"{{bond: neutral_to_enclosure, at: {tag}, bond_status: existing}}" for tag in self.bonds)
        apart = ", ".join(
            f"{{first: {one}, second: {other}, interlock: {kind}}}" for one, other, kind in self.interlocks
        )
        return (
            f"site: {{other_sources: {self.other_sources}}}\nequipment:\n{pieces}"
            + (f"runs:\n{''.join(runs)}" if runs else "")
            + f"bonds: {{complete: yes, list: [{bonds}]}}\n"
            f"interlocks: {{complete: {'yes' if self.interlocks_complete else 'no'}, list: [{apart}]}}\n"
        )

    def _runs(self) -> Mapping[str, str]:
        neutrals = {name: f"neutral_conductor: {neutral}" for name, neutral in self.neutral_in.items()}
        names = dict.fromkeys((*neutrals, *self.ground_in))
        both = {name: (neutrals.get(name), self.ground_in.get(name)) for name in names}
        return {name: ", ".join(text for text in texts if text) for name, texts in both.items()}

    def _piece(self, tag: str) -> str:
        entries = {"kind": self.kinds[tag], **self.facts.get(tag, {})}
        feeds = {feed.input: _reference(feed) for feed in self.feeds if feed.to == tag}
        if self.kinds[tag] in BOARDS and "fed_from" not in feeds and feeds:
            entries["fed_from"] = _mapping(feeds)
        else:
            entries |= feeds
        return _mapping(entries)

    def site(self, folder: Path) -> Site:
        """The drawing as it is read."""
        path = folder / "site.yaml"
        path.write_text(self.text(), encoding="utf-8", newline="")
        return read_site(path, CATALOG)

    # --- as lines ----------------------------------------------------------------------------------------------------

    def of(self, *kinds: str) -> list[str]:
        return [tag for tag, kind in self.kinds.items() if kind in kinds]

    def main_feed(self, tag: str) -> Feed | None:
        """The feed that is the normal supply."""
        into = sorted(
            (feed for feed in self.feeds if feed.to == tag),
            key=lambda feed: (feed.input not in ("main", "normal", "fed_from"), feed.input),
        )
        return into[0] if into and (self.kinds[tag] != "transfer_switch" or into[0].input == "normal") else None

    def line_up(self, tag: str) -> list[str]:
        """The pieces ahead with everything on its normal supply."""
        found: list[str] = []
        while (feed := self.main_feed(tag)) is not None and feed.source not in found:
            tag = feed.source
            found.append(tag)
        return found

    def devices(self) -> list[str]:
        """Every device that an interlock can name: by which a line leaves, by which it comes in, at the load of a
        switch.
        """
        found: dict[str, None] = {}
        for feed in self.feeds:
            if feed.way is not None:
                found[f"{feed.source}/{feed.way}"] = None
            if self.kinds[feed.to] in DISCONNECTING:
                found[f"{feed.to}/{'main' if feed.input == 'fed_from' else feed.input}"] = None
            if self.kinds[feed.source] == "transfer_switch":
                found[f"{feed.source}/load"] = None
        return list(found)

    def past(self, tag: str) -> set[str]:
        """Everything that can be fed through a piece."""
        found, waiting = {tag}, [tag]
        while waiting:
            here = waiting.pop()
            for feed in self.feeds:
                if feed.source == here and feed.to not in found:
                    found.add(feed.to)
                    waiting.append(feed.to)
        return found

    # --- changed -----------------------------------------------------------------------------------------------------

    def with_fact(self, tag: str, name: str, text: str | None) -> Plan:
        """One fact written otherwise, or taken out."""
        facts = {key: value for key, value in self.facts.get(tag, {}).items() if key != name}
        return replace(self, facts={**self.facts, tag: facts if text is None else {**facts, name: text}})

    def renamed(self, names: Mapping[str, str]) -> Plan:
        """The same drawing with other tags."""
        feeds = [replace(feed, source=names[feed.source], to=names[feed.to]) for feed in self.feeds]
        new_names = {old.subject.id: new.subject.id for old, new in zip(self.feeds, feeds, strict=True)}
        return replace(
            self,
            kinds={names[tag]: kind for tag, kind in self.kinds.items()},
            feeds=tuple(feeds),
            facts={names[tag]: facts for tag, facts in self.facts.items()},
            neutral_in={new_names[name]: neutral for name, neutral in self.neutral_in.items()},
            ground_in={new_names[name]: ground for name, ground in self.ground_in.items()},
            bonds=tuple(names[tag] for tag in self.bonds),
            interlocks=tuple((_moved(one, names), _moved(other, names), kind) for one, other, kind in self.interlocks),
        )

    def with_disconnect_in(self, feed: Feed, tag: str) -> Plan:
        """The same with a disconnect without overcurrent protection in one line."""
        at = self.feeds.index(feed)
        upper, lower = (
            Feed(feed.source, feed.way, tag, "fed_from", _PLACE),
            Feed(tag, None, feed.to, feed.input, _PLACE),
        )
        halves = (upper.subject.id, lower.subject.id)
        return replace(
            self,
            kinds={**self.kinds, tag: "disconnect"},
            feeds=(*self.feeds[:at], upper, lower, *self.feeds[at + 1 :]),
            facts={**self.facts, tag: {"ways": "{main: {overcurrent: none}}"}},
            neutral_in=_in_both(self.neutral_in, feed.subject.id, halves),
            ground_in=_in_both(self.ground_in, feed.subject.id, halves),
        )


def _in_both(runs: Mapping[str, str], line: str, halves: tuple[str, str]) -> dict[str, str]:
    """What is run in one line, run in both its halves."""
    others = {name: text for name, text in runs.items() if name != line}
    return others | (dict.fromkeys(halves, runs[line]) if line in runs else {})


def _reference(feed: Feed) -> str:
    return feed.source if feed.way is None else f"{feed.source}/{feed.way}"


def _mapping(entries: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {text}" for key, text in entries.items()) + "}"


def _moved(way: str, names: Mapping[str, str]) -> str:
    tag, _, rest = way.partition("/")
    return f"{names[tag]}/{rest}"


# --- made at random --------------------------------------------------------------------------------------------------


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Plans with nothing open."""
    return plan(drawn(draw))


def seeded_plan(seed: int) -> Plan:
    """The plan that belongs to a number."""
    return plan(seeded(seed))


def plan(choose: Chooser) -> Plan:
    """Any drawing with everything exact that matters here."""
    sheet = sketched(choose, CATALOG)
    beside = ("surge_protective_device", "stop", "load_manager", "gas_meter", "gas_regulator", "fuel_tank")
    kinds = {tag: kind for tag, kind in sheet.kinds.items() if kind not in beside}
    found = Plan(kinds, tuple(sheet.feeds))
    found = _with_more_feeds(choose, found)
    found = _with_facts(choose, found)
    devices = found.devices()
    pairs = [choose.some(devices, least=2, most=2) for _ in range(choose.whole(0, 3))] if len(devices) > 1 else []
    return replace(
        found,
        interlocks=tuple((one, other, choose.one(KINDS_OF_INTERLOCK)) for one, other in _likely(choose, found, pairs)),
    )


def _likely(choose: Chooser, plan: Plan, pairs: Iterable[list[str]]) -> Iterator[tuple[str, str]]:
    """Interlocks between two feeds of one board as they are built, and now and then between any two devices."""
    for tag in plan.of(*BOARDS):
        entries = [feed.input for feed in plan.feeds if feed.to == tag]
        if len(entries) > 1 and choose.chance(50):
            one, other = choose.some(entries, least=2, most=2)
            yield f"{tag}/{one}", f"{tag}/{other}"
    yield from ((one, other) for one, other in pairs if choose.chance(60))


def _with_more_feeds(choose: Chooser, plan: Plan) -> Plan:
    """Boards that are fed by several ways: from sets, inverters, inlets, and from other boards and switches."""
    for board in plan.of(*BOARDS):
        if not choose.chance(50):
            continue
        plan = replace(
            plan, feeds=tuple(replace(feed, input="main") if feed.to == board else feed for feed in plan.feeds)
        )
        for number in range(choose.whole(1, 2)):
            if sum(feed.to in plan.of(*BOARDS) for feed in plan.feeds) < _MOST_FEEDS:
                plan = _with_feed(choose, plan, board, f"in{number + 1}")
    return plan


def _with_feed(choose: Chooser, plan: Plan, board: str, entry: str) -> Plan:
    if choose.chance(6):
        return _with_new(plan, "inlet", board, entry)
    if choose.chance(25):
        return _with_new(plan, "inverter", board, entry)
    allowed = set(plan.kinds) - (set() if choose.chance(3) else plan.past(board)) - {board}
    lines = [tag for tag in plan.of("disconnect", "transfer_switch", "transformer", "inlet", *BOARDS) if tag in allowed]
    source = choose.one([*plan.of("generator"), *lines] if choose.chance(80) else [*plan.of(*SOURCES), *lines])
    way = None
    if CATALOG.kinds[plan.kinds[source]].has_ways and choose.chance(70):
        way = f"out{1 + sum(feed.source == source for feed in plan.feeds)}"
    return replace(plan, feeds=(*plan.feeds, Feed(source, way, board, entry, _PLACE)))


_GROUNDS = (
    "grounding: 4 AWG copper, raceway_grounds: no",
    "grounding: none, raceway_grounds: yes",
    "grounding: 4 AWG copper, raceway_grounds: yes",
    "grounding: none, raceway_grounds: no",
)


def _with_new(plan: Plan, kind: str, board: str, entry: str) -> Plan:
    """A feed from a new piece: an inlet without a cord, or an inverter."""
    tag = f"{kind.upper()}{len(plan.kinds)}"
    return replace(plan, kinds={**plan.kinds, tag: kind}, feeds=(*plan.feeds, Feed(tag, None, board, entry, _PLACE)))


def _with_facts(choose: Chooser, plan: Plan) -> Plan:
    facts: dict[str, dict[str, str]] = {tag: {} for tag in plan.kinds}
    for tag in plan.of(*SOURCES, "transformer"):
        facts[tag]["system"] = "480Y/277 V 3-phase 4-wire" if choose.chance(92) else "480 V 3-phase 3-wire"
    for tag in plan.of("transfer_switch"):
        facts[tag]["operation"] = choose.one(("automatic", "automatic", "manual", "nonautomatic_electric"))
        facts[tag]["transition"] = choose.one(("open", "open", "delayed", "closed"))
        facts[tag]["neutral"] = choose.one(("solid", "solid", "switched", "switched", "overlapping", "not_carried"))
    for tag in plan.of("inverter"):
        facts[tag]["forms_its_own_grid"] = choose.one(("yes", "no"))
    for tag, role in _roles(choose, plan):
        facts[tag]["role"] = role
    for tag in plan.of("generator", *DISCONNECTING):
        if choose.chance(25):
            facts[tag]["ground_fault_protection"] = _sensor(choose.one(KINDS_OF_SENSOR))
    neutral = {feed.subject.id: "none" if choose.chance(8) else "2 AWG copper" for feed in plan.feeds}
    ground = {feed.subject.id: choose.one(_GROUNDS) for feed in plan.feeds}
    bonded = tuple(tag for tag in plan.of("generator", *DISCONNECTING) if choose.chance(25))
    return replace(plan, facts=facts, neutral_in=neutral, ground_in=ground, bonds=bonded)


def _sensor(kind: str) -> str:
    return f"{{pickup: 800 A, sensor: {kind}}}"


def _roles(choose: Chooser, plan: Plan) -> Iterator[tuple[str, str]]:
    """Roles as they can stand together; past a service disconnect nothing need be written."""
    roles: dict[str, str] = {}
    for tag in sorted(plan.of(*DISCONNECTING), key=lambda tag: len(plan.line_up(tag))):
        line = plan.line_up(tag)
        on_utility = bool(line) and plan.kinds[line[-1]] == "utility_supply"
        if on_utility and not any(roles.get(above) == SERVICE for above in line):
            roles[tag] = choose.one((SERVICE, SERVICE, SERVICE, "emergency_disconnect", "meter_disconnect", "none"))
            yield tag, roles[tag]


# --- less known ------------------------------------------------------------------------------------------------------

Change = Callable[[Plan], Plan]

_UNDECIDED: Mapping[str, tuple[str, ...]] = {
    "operation": ("automatic or manual", "manual or nonautomatic_electric"),
    "transition": ("open or closed", "open or delayed", "closed or delayed"),
    "neutral": ("solid or switched", "solid or not_carried", "switched or overlapping"),
    "ground_fault_protection": (
        "{pickup: 800 A}",
        "{sensor: ground_return or residual}",
        "{sensor: residual or zero_sequence}",
    ),
}


def less_known(choose: Chooser, plan: Plan, most: int = 3, *, roles: bool = True) -> Plan:
    """The same drawing with a few things left out, or left undecided between what is so and something else."""
    for _ in range(choose.whole(1, most)):
        changes = [*_facts_left_open(choose, plan, roles=roles), *_lines_left_open(choose, plan)]
        plan = choose.one(changes)(plan)
    return plan


def _facts_left_open(choose: Chooser, plan: Plan, *, roles: bool) -> Iterator[Change]:
    """Facts of pieces; the change of one is chosen as often as all others."""
    for tag, facts in plan.facts.items():
        for name, text in facts.items():
            if name == "role" and not roles:
                continue
            both = [words for words in _UNDECIDED.get(name, ()) if _is_one_of(text, words)]
            yield partial(
                Plan.with_fact, tag=tag, name=name, text=choose.one(both) if both and choose.chance(40) else None
            )


def _is_one_of(text: str, words: str) -> bool:
    """Whether what is written is one of the choices of less exact words; a sensor without its kind is any."""
    kinds = [kind for kind in KINDS_OF_SENSOR if kind in words]
    if text.startswith("{"):
        return not kinds or any(kind in text for kind in kinds)
    return text in words.split(" or ")


def _lines_left_open(choose: Chooser, plan: Plan) -> Iterator[Change]:
    if plan.neutral_in:
        left_out = choose.one(list(plan.neutral_in))
        yield lambda old: replace(
            old, neutral_in={key: each for key, each in old.neutral_in.items() if key != left_out}
        )
    if plan.ground_in:
        bare = choose.one(list(plan.ground_in))
        less = choose.one(("grounding: none", "raceway_grounds: no", ""))
        if less in plan.ground_in[bare]:
            yield lambda old: replace(old, ground_in={**old.ground_in, bare: less})
    if plan.interlocks:
        place = choose.whole(0, len(plan.interlocks) - 1)
        one, other, _ = plan.interlocks[place]
        yield lambda old: replace(
            old, interlocks=(*old.interlocks[:place], (one, other, "unknown"), *old.interlocks[place + 1 :])
        )
    yield lambda old: replace(old, interlocks_complete=False)
    yield lambda old: replace(old, other_sources="unknown")
