"""Fills in everything that a drawing leaves open, so that nothing contradicts what it says.

A whole and its parts agree, a device that is none has no rating, roles stand together, a neutral bond is as the list
of bonds has it, and a current that is also worked out agrees with what is worked out. A piece of which the drawing
does not say that it is to be removed, or planned for later, stays: like kind and feeding that is part of the drawing
itself.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from checker.catalog.model import Catalog, Fact
from checker.site.model import SITE, Feed, Members, Site, Stated, Subject, Thing
from checker.values.positions import Position
from checker.values.possible import ABSENT, Possible, exactly, number
from tests.generators.choosing import Chooser, seeded
from tests.generators.currents import DERATINGS, Loss, full_load_current, power_left
from tests.generators.drawings import member_subject
from tests.generators.roles import FEEDER, Role, roles_together
from tests.generators.topology import FILE
from tests.generators.walk import Walk
from tests.soundness.exact_facts import NEAREST, built_in_way, exact_value, is_set_aside, set_behind, way_of
from tests.soundness.picking import picked, usual

FILLED_IN = Position(FILE, 1, 1)
_TRIES = 12
_BESIDE_THE_POWER = ("system.voltage", "power_factor", "system.phases")
_TAG_OF = {
    "stop": ("of", "generator"),
    "load_manager": ("manages", "source"),
    "surge_protective_device": ("at", "equipment"),
    "fuel_tank": ("of", "generator"),
}
_LEAST_OF_A_LETTER = "available_fault_current.least"
_FAULT_CURRENT_OF = {"utility_supply": "available_fault_current", "generator": "greatest_fault_current"}
_LEFT_OPEN_OF_A_SET = (
    *("automatic_load", "managed_load", "greatest_fault_current", "least_fault_current", "sound_at_lot_line"),
)
_NO_MEMBERS = Members((), complete=True)
_SOME_POWER = Fraction(10_000)
_ONE_DWELLING = exactly("one_family_dwelling")
_APART = frozenset({"role", "neutral_bond", "capacity", "greatest_current", "power_at_site", "time_to_load", *NEAREST})
"""Facts that are stated and derived: filled in last, so that both agree."""


@dataclass(frozen=True, slots=True)
class Completion:
    """A site with nothing open, the subjects that were not on the drawing, and whether every current can be worked
    out.
    """

    site: Site
    added: frozenset[Subject]
    has_answers: bool


class Contradiction(Exception):
    """What was chosen so far leaves no way to fill in the rest."""


def completions(site: Site, catalog: Catalog, seed: int, how_many: int) -> Iterator[Completion]:
    """Different completions of a site; fewer, or none, where what it says hardly goes together."""
    for turn in range(how_many):
        found = completed(site, catalog, seeded(seed * 1000 + turn))
        if found is not None:
            yield found


def completed(site: Site, catalog: Catalog, choose: Chooser) -> Completion | None:
    """One completion, or None where none was found."""
    for _ in range(_TRIES):
        try:
            return _Filler(site, catalog, choose).completion()
        except Contradiction:
            continue
    return None


class _Filler:
    """Fills in one site."""

    def __init__(self, site: Site, catalog: Catalog, choose: Chooser) -> None:
        self._open = site
        self._catalog = catalog
        self._choose = choose
        self._pieces = dict(site.pieces)
        self._feeds = list(site.feeds)
        self._lists = dict(site.lists)
        self._facts: dict[Subject, dict[str, Stated]] = {
            subject: dict(thing.facts) for subject, thing in site.things.items()
        }
        self._added: set[Subject] = set()
        self._has_answers = True

    def completion(self) -> Completion:
        self._add_pieces()
        self._walk = self._reviewed()
        self._add_members()
        self._settle_roles()
        self._settle_bonds()
        for subject in dict.fromkeys([*self._facts, *self._subjects()]):
            self._fill(subject)
        self._settle_currents()
        self._settle_times()
        self._settle_ampacities()
        self._settle_loads_of_switches()
        self._settle_whole_dwellings()
        self._settle_distances_to_the_nearest()
        self._settle_starts()
        self._settle_what_is_set_aside()
        self._settle_fault_currents()
        site = replace(
            self._open,
            things={subject: Thing(subject, FILLED_IN, facts) for subject, facts in self._facts.items()},
            pieces=self._pieces,
            feeds=tuple(self._feeds),
            lists=self._lists,
            complete_kinds=frozenset(kind.name for kind in self._catalog.kinds.values() if not kind.drawing_complete),
        )
        return Completion(site, frozenset(self._added), self._has_answers)

    def _reviewed(self) -> Walk:
        """The drawing without the pieces that are set aside."""
        kinds = {tag: piece.type for tag, piece in self._pieces.items() if not is_set_aside(self._open, piece)}
        feeds = [feed for feed in self._feeds if {feed.source, feed.to} <= kinds.keys()]
        return Walk(feeds, kinds, self._catalog)

    # --- what else there is ------------------------------------------------------------------------------------------

    def _add_pieces(self) -> None:
        """Perhaps one more piece of every kind that may be there without being drawn."""
        for kind in self._catalog.kinds.values():
            if kind.drawing_complete or kind.name in self._open.complete_kinds or not self._choose.chance(40):
                continue
            piece = Subject(kind.name, f"ADDED-{kind.name.upper()}")
            facts = {"kind": _stated(exactly(kind.name))}
            if kind.name in _TAG_OF:
                name, group = _TAG_OF[kind.name]
                kinds = self._catalog.kinds_of(group)
                tags = [tag for tag, other in self._open.pieces.items() if other.type in kinds]
                facts[name] = _stated(exactly(self._choose.one(tags)))
            self._pieces[piece.id] = piece
            self._new(piece, facts)
            if kind.feeding.inputs and self._choose.chance(70):
                self._feed_from_a_set(piece)

    def _feed_from_a_set(self, piece: Subject) -> None:
        """Feeds what was added where it changes nothing upstream of anything drawn."""
        sets = [tag for tag, other in self._open.pieces.items() if other.type == "generator"]
        feed = Feed(self._choose.one(sets), None, piece.id, "fed_from", FILLED_IN)
        self._feeds.append(feed)
        self._new(feed.subject, {})

    def _new(self, subject: Subject, facts: dict[str, Stated]) -> None:
        self._facts[subject] = facts
        self._added.add(subject)

    def _add_members(self) -> None:
        """Up to two more members of every list that is not complete."""
        for listing in self._catalog.lists.values():
            kinds = () if listing.on == "site" else self._catalog.kinds_of(listing.on)
            of_kind = [tag for tag, piece in self._pieces.items() if piece.type in kinds]
            for owner in ["site"] if listing.on == "site" else of_kind:
                members = self._open.members(listing.name, owner)
                more = () if members.complete else range(self._choose.whole(0, 2) if self._choose.chance(60) else 0)
                found = list(members.members)
                for _ in more:
                    found.append(self._add_member(listing.name, owner, len(found) + 1))
                self._lists[listing.name, owner] = Members(tuple(found), complete=True)

    def _add_member(self, name: str, owner: str, place: int) -> Subject:
        subject = member_subject(self._catalog.lists[name], owner, place)
        self._new(subject, {} if subject.type != "interlock" else self._between_feeds())
        return subject

    def _between_feeds(self) -> dict[str, Stated]:
        """Two ways by which one board is fed, or two at which nothing is drawn.

        Nobody keeps two devices apart that lie in one line, nor the sides of a switch, of which its transition tells.
        """
        boards = [tag for tag in self._walk.of("board") if len(self._walk.inputs(tag)) > 1]
        tag = self._choose.one(boards or list(self._pieces))
        ends = self._choose.some(self._walk.inputs(tag), least=2, most=2) if boards else ["90", "91"]
        return {name: _stated(exactly(f"{tag}/{entry}")) for name, entry in zip(("first", "second"), ends, strict=True)}

    # --- filling in --------------------------------------------------------------------------------------------------

    def _subjects(self) -> Iterator[Subject]:
        """Everything that can have stated facts, whether the file speaks of it or not."""
        yield SITE
        yield from self._pieces.values()
        yield from (member for members in self._lists.values() for member in members.members)
        yield from (feed.subject for feed in self._feeds)
        yield from self._ways()
        for tag in self._walk.of("rated_for_fault"):
            yield from (Subject("fault_source", f"{tag}~{source}") for source in self._walk.of("source"))
        disconnecting = sorted(self._walk.of("disconnecting"))
        for place, one in enumerate(disconnecting):
            yield from (Subject("service_disconnect_pair", f"{one}~{other}") for other in disconnecting[place + 1 :])

    def _ways(self) -> Iterator[Subject]:
        yield from (way for feed in self._feeds if (way := way_of(self._walk, feed)) is not None)
        for tag in self._walk.of("disconnecting"):
            yield from (built_in_way(tag, entry) for entry in self._walk.inputs(tag))

    def _fill(self, subject: Subject) -> None:
        facts = self._facts.setdefault(subject, {})
        for fact in self._catalog.facts.values():
            if subject.type not in fact.stated_for or "." in fact.name or fact.name in _APART:
                continue
            if fact.parts:
                self._fill_structure(fact, facts)
            else:
                self._fill_plain(fact, facts)

    def _fill_plain(self, fact: Fact, facts: dict[str, Stated], possible: Possible | None = None) -> None:
        said = facts.get(fact.name)
        value = _answered(fact, possible or (fact.anything() if said is None else said.value))
        exact = picked(
            self._choose, fact, _staying(fact, value) if fact.name == "status" else value, list(self._pieces)
        )
        if said is None or exact != said.value:
            facts[fact.name] = _stated(exact, said)

    def _fill_structure(self, fact: Fact, facts: dict[str, Stated]) -> None:
        parts = [self._catalog.facts[f"{fact.name}.{part}"] for part in fact.parts]
        others_are_none = fact.unnamed_parts_absent and any(part.name in facts for part in parts)
        in_use = self._in_use(fact, facts) if others_are_none else frozenset()
        self._fill_plain(fact, facts)
        if facts[fact.name].value.only_absent:
            facts.update({part.name: _stated(ABSENT) for part in parts})
            return
        for part in parts:
            said = facts.get(part.name)
            is_none = others_are_none and part.name.partition(".")[2] not in in_use
            possible = (ABSENT if is_none else part.anything()) if said is None else said.value
            there = possible if part.may_be_none else possible.present()
            if there is None:
                raise Contradiction
            self._fill_plain(part, facts, there)

    def _in_use(self, fact: Fact, facts: dict[str, Stated]) -> frozenset[str | bool]:
        """The part of a structure that another fact names, as the fuel; that fact is filled in first."""
        says = None if fact.part_in_use is None else self._catalog.facts[fact.part_in_use]
        if says is None or not fact.stated_for <= says.stated_for:
            return frozenset()
        self._fill_plain(says, facts)
        return facts[says.name].value.atoms

    # --- roles, bonds, currents --------------------------------------------------------------------------------------

    def _settle_roles(self) -> None:
        roles = roles_together(self._choose, self._walk, self._allows)
        if roles is None:
            raise Contradiction
        for tag, role in roles.items():
            facts = self._facts[self._pieces[tag]]
            follows = role == FEEDER and "role" not in facts and self._walk.utility(tag) is not None
            if not (follows and self._choose.chance(50)):
                self._add_figure(tag, "role")
                facts["role"] = _stated(ABSENT if role is None else exactly(role), facts.get("role"))

    def _add_figure(self, tag: str, name: str) -> None:
        """A figure that nobody had stated is a new subject."""
        said = self._open.stated(self._pieces[tag], name)
        if said is None or said.value == self._catalog.facts[name].anything():
            self._added.add(Subject("figure", f"{tag}.{name}"))

    def _allows(self, tag: str, role: Role) -> bool:
        said = self._open.stated(self._pieces[tag], "role")
        if said is None:
            return True
        return said.value.absent if role is None else role in said.value.atoms

    def _settle_bonds(self) -> None:
        """Each piece bonded or floating, and the list of bonds so that it says the same."""
        fact = self._catalog.facts["neutral_bond"]
        listed = self._lists["bonds", "site"]
        for bond in listed.members:
            if bond in self._added:
                self._facts[bond]["at"] = _stated(exactly(self._choose.one(list(self._open.pieces))))
        for tag, piece in self._open.pieces.items():
            if piece.type not in fact.stated_for:
                continue
            said = self._open.stated(piece, fact.name)
            self._settle_bond(tag, said.value if said is not None else fact.anything())

    def _settle_bond(self, tag: str, possible: Possible) -> None:
        here = [bond for bond in self._lists["bonds", "site"].members if self._facts[bond]["at"].value == exactly(tag)]
        ways = [word for word in ("bonded", "floating") if word in possible.atoms and self._can_be(word, here)]
        if not ways:
            raise Contradiction
        state = self._choose.one(ways)
        if state == "floating":
            for bond in here:
                self._take_out(bond)
        else:
            self._keep_one(tag, here)
        facts = self._facts[self._pieces[tag]]
        if "neutral_bond" in facts or self._choose.chance(50):
            self._add_figure(tag, "neutral_bond")
            facts["neutral_bond"] = _stated(exactly(state), facts.get("neutral_bond"))

    def _status(self, bond: Subject) -> Possible:
        said = self._facts[bond].get("bond_status")
        return self._catalog.facts["bond_status"].anything() if said is None else said.value

    def _can_be(self, state: str, here: list[Subject]) -> bool:
        if state == "floating":
            return all("to_be_removed" in self._status(bond).atoms for bond in here)
        is_open = not self._open.members("bonds").complete
        return is_open or any(self._status(bond).atoms - {"to_be_removed"} for bond in here)

    def _take_out(self, bond: Subject) -> None:
        self._facts[bond]["bond_status"] = _stated(exactly("to_be_removed"), self._facts[bond].get("bond_status"))

    def _keep_one(self, tag: str, here: list[Subject]) -> None:
        """At least one of the bonds stays, one that is added where none can; the others are filled in like all
        facts.
        """
        can_stay = [bond for bond in here if self._status(bond).atoms - {"to_be_removed"}]
        if not can_stay:
            members = self._lists["bonds", "site"].members
            bond = self._add_member("bonds", "site", len(members) + 1)
            self._facts[bond]["at"] = _stated(exactly(tag))
            self._lists["bonds", "site"] = Members((*members, bond), complete=True)
            can_stay = [bond]
        kept = self._choose.one(can_stay)
        status = self._choose.one(sorted(str(atom) for atom in self._status(kept).atoms - {"to_be_removed"}))
        self._facts[kept]["bond_status"] = _stated(exactly(status), self._facts[kept].get("bond_status"))

    def _settle_currents(self) -> None:
        for tag in self._walk.of("generator"):
            facts = self._facts[self._pieces[tag]]
            # Filled in like facts that nobody works out: the generated cases have no numbers of loads or of faults.
            for name in _LEFT_OPEN_OF_A_SET:
                self._add_figure(tag, name)
            self._suit_rating(facts, self._pieces[tag])
            fuels = tuple(f"rated_power.{part}" for part in self._catalog.facts["rated_power"].parts)
            self._settle_current(facts, self._pieces[tag], "greatest_current", fuels)
            self._settle_or_state(self._pieces[tag], "power_at_site", self._power_left(facts))
            # Its power is that of the rating, which suits a stated capacity where it can.
            self._settle(facts, self._pieces[tag], "capacity", _derived(self._with_power(facts), ("power_at_site",)))
        for tag in self._walk.of("utility_supply"):
            for name in ("calculated_load", "load_with_vehicles_in_full"):
                self._add_figure(tag, name)

    def _settle_times(self) -> None:
        switches = self._walk.of("transfer_switch")
        for tag in switches:
            if not self._is_open(self._pieces[tag], "time_to_load"):
                self._suit_delays(tag)
        for tag in switches:
            piece, name, derived = self._pieces[tag], "time_to_load", self._time_to_load(tag)
            self._settle_or_state(piece, name, derived)

    def _suit_delays(self, tag: str) -> None:
        """Delays that nobody states, so that they come to the time that is stated."""
        piece, source = self._pieces[tag], set_behind(self._walk, tag)
        fact, said = self._catalog.facts["time_to_load"], self._open.stated(piece, "time_to_load")
        if source is None or said is None:
            return
        terms = [*((piece, each) for each in self._delays(tag)), (self._pieces[source], "time_to_ready")]
        free = [each for each in terms if self._is_open(*each)]
        wanted = picked(self._choose, fact, said.value, []).number
        for owner, name in free:
            self._facts[owner][name] = _stated(number(0))
        rest = sum((self._number(*each) for each in terms), Fraction(0))
        if free and wanted is not None and wanted >= rest:
            owner, name = free[0]
            self._facts[owner][name] = _stated(number(wanted - rest))

    def _time_to_load(self, tag: str) -> Fraction | None:
        source = set_behind(self._walk, tag)
        if source is None or self._facts[self._pieces[tag]]["carried_meanwhile"].value == exactly(True):
            return None
        delays = (self._number(self._pieces[tag], each) for each in self._delays(tag))
        return sum(delays, self._number(self._pieces[source], "time_to_ready"))

    def _delays(self, tag: str) -> tuple[str, ...]:
        """Delays of a switch, that of its last load among them where it puts loads on in steps."""
        in_steps = self._facts[self._pieces[tag]]["loads_in_steps"].value == exactly(True)
        return ("sensing_delay", "transfer_delay", *(("last_load_delay",) if in_steps else ()))

    def _settle_ampacities(self) -> None:
        """Filled in like facts that nobody works out: the generated cases have no tables of conductors."""
        for feed in self._feeds:
            for name in ("ampacity", "neutral_ampacity", "neutral_load", "current_carrying"):
                if self._is_open(feed.subject, name):
                    self._added.add(Subject("figure", f"{feed.subject.id}.{name}"))

    def _settle_loads_of_switches(self) -> None:
        """Filled in like facts that nobody works out: the generated cases have no numbers of loads."""
        for tag in self._walk.of("transfer_switch"):
            if self._is_open(self._pieces[tag], "load_put_on_the_set"):
                self._added.add(Subject("figure", f"{tag}.load_put_on_the_set"))

    def _settle_whole_dwellings(self) -> None:
        """Every run is said to carry a whole dwelling where nobody says otherwise: no drawing goes against that."""
        for feed in self._feeds:
            facts, name = self._facts.setdefault(feed.subject, {}), "whole_dwelling_load"
            if self._is_open(feed.subject, name):
                self._added.add(Subject("figure", f"{feed.subject.id}.{name}"))
                facts[name] = _stated(exactly(True))
            elif facts[name].value == exactly(False) and self._facts[SITE]["occupancy"].value == _ONE_DWELLING:
                raise Contradiction

    def _settle_distances_to_the_nearest(self) -> None:
        for name, kinds in NEAREST.items():
            for tag in (each for kind in self._catalog.facts[name].stated_for for each in self._walk.of(kind)):
                self._settle_or_state(self._pieces[tag], name, self._nearest(tag, kinds))

    def _nearest(self, tag: str, kinds: tuple[str, ...]) -> Fraction | None:
        listed = [self._facts[each] for each in self._lists.get(("distances", "site"), _NO_MEMBERS).members]
        wanted = {exactly(kind) for kind in kinds}
        there = [each for each in listed if each["of"].value == exactly(tag) and each["to_kind"].value in wanted]
        found = [each["distance"].value.number for each in there]
        return min((each for each in found if each is not None), default=None)

    def _settle_what_is_set_aside(self) -> None:
        """What was filled in last, of pieces that nothing is worked out for."""
        for tag, piece in self._pieces.items():
            facts = self._facts.get(piece, {})
            for name in sorted(_APART & facts.keys()):
                if tag not in self._walk.kinds and name != "role" and not facts[name].value.is_exact:
                    self._fill_plain(self._catalog.facts[name], facts)

    def _settle_starts(self) -> None:
        """Filled in like facts that nobody works out: the generated cases have no table of code letters."""
        for load in self._lists.get(("loads", "site"), _NO_MEMBERS).members:
            if self._is_open(load, "starting_power"):
                self._added.add(Subject("figure", f"{load.id}.starting_power"))

    def _settle_fault_currents(self) -> None:
        """At no piece more than its source gives and the motors add, and the least not more than that. No run takes
        anything: the generated cases have no tables of conductors.
        """
        if self._is_open(SITE, "motor_fault_current"):
            self._added.add(Subject("figure", "site.motor_fault_current"))
        for tag in self._walk.of("utility_supply"):
            self._add_figure(tag, "available_fault_current")
        for tag in self._walk.of("rated_for_fault"):
            for source in self._walk.of("source"):
                pair = Subject("fault_source", f"{tag}~{source}")
                for name in ("available_fault_current", "least_fault_current"):
                    if self._is_open(pair, name):
                        self._added.add(Subject("figure", f"{pair.id}.{name}"))
                self._suit_source(pair, tag, source)
                self._settle_at_most(pair, "available_fault_current", self._given(tag, source))
                least = [(pair, "available_fault_current")]
                if self._walk.is_of(source, "generator"):
                    least.append((self._pieces[source], "least_fault_current"))
                elif self._says_its_least(tag, source):
                    least.append((self._pieces[source], _LEAST_OF_A_LETTER))
                self._settle_at_most(pair, "least_fault_current", min(self._number(*each) for each in least))

    def _says_its_least(self, tag: str, source: str) -> bool:
        """Whether the letter of a utility gives a least, and no transformer stands between."""
        said = self._facts[self._pieces[source]].get(_LEAST_OF_A_LETTER)
        return said is not None and said.value.number is not None and not self._transformers(tag, source)

    def _suit_source(self, pair: Subject, tag: str, source: str) -> None:
        """What is not said of a source, or of the motors, so that it gives what is said of the piece."""
        least = self._number(pair, "least_fault_current")
        if self._open.stated(pair, "least_fault_current") is not None:
            self._raise(pair, "available_fault_current", least)
            if self._walk.is_of(source, "generator"):
                self._raise(self._pieces[source], "least_fault_current", least)
        wanted = max(self._number(pair, "available_fault_current"), least)
        given = self._given(tag, source)
        if given is None or given >= wanted:
            return
        if not all(self._is_open(pair, name) for name in ("available_fault_current", "least_fault_current")):
            self._raise(self._pieces[source], _FAULT_CURRENT_OF[self._walk.kinds[source]], wanted)
            given = self._given(tag, source)
            motors = self._facts[SITE]["motor_fault_current"].value.number or Fraction(0)
            if given is not None and given < wanted and self._is_open(SITE, "motor_fault_current"):
                self._facts[SITE]["motor_fault_current"] = _stated(number(motors + wanted - given))

    def _raise(self, subject: Subject, name: str, wanted: Fraction) -> None:
        """To at least so much, where nothing was said."""
        if self._is_open(subject, name) and self._number(subject, name) < wanted:
            self._facts[subject][name] = _stated(number(wanted))

    def _given(self, tag: str, source: str) -> Fraction | None:
        """What reaches a piece at most; None where a transformer may lie between, or the source has no such figure."""
        name = _FAULT_CURRENT_OF.get(self._walk.kinds[source])
        if name is None or self._transformers(tag, source):
            return None
        motors = self._facts[SITE]["motor_fault_current"].value
        return self._number(self._pieces[source], name) + (motors.number or 0)

    def _transformers(self, tag: str, source: str) -> tuple[str, ...]:
        """Those that may lie between."""
        transformers = tuple(self._walk.of("transformer"))
        if source not in self._walk.reaching(tag):
            return transformers
        return tuple(each for each in transformers if source in self._walk.reaching(each) and self._is_above(each, tag))

    def _is_above(self, upper: str, lower: str) -> bool:
        feeds = (self._walk.into(lower, entry) for entry in self._walk.inputs(lower))
        above = {feed.source for feed in feeds if feed is not None}
        return upper in above or any(self._is_above(upper, tag) for tag in above)

    def _number(self, subject: Subject, name: str) -> Fraction:
        found = self._facts[subject][name].value.number
        assert found is not None
        return found

    def _is_open(self, subject: Subject, name: str) -> bool:
        said = self._open.stated(subject, name)
        return said is None or said.value == self._catalog.facts[name].anything()

    def _settle_at_most(self, pair: Subject, name: str, bound: Fraction | None) -> None:
        if bound is None or self._number(pair, name) <= bound:
            return
        said = self._open.stated(pair, name)
        if said is not None and not any(span.holds(bound) for span in said.value.spans):
            raise Contradiction
        self._facts[pair][name] = _stated(number(bound), said)

    def _wanted_power(self, facts: Mapping[str, Stated]) -> Fraction | None:
        said, current = facts.get("power_at_site"), facts.get("capacity")
        fact = self._catalog.facts["power_at_site"]
        if said is not None and said.value.spans and said.value != fact.anything():
            return picked(self._choose, fact, said.value, []).number
        if current is None or current.value.number is None:
            return None
        one_watt = _derived({**facts, "power_at_site": _stated(number(1))}, ("power_at_site",))
        return Fraction(round(current.value.number / one_watt)) if one_watt else None

    def _suit_rating(self, facts: dict[str, Stated], piece: Subject) -> None:
        """Where a capacity or a power is stated, or nothing would be left: losses that nobody states are none, and a
        rating that nobody states is what it has to be.
        """
        wanted = self._wanted_power(facts)
        if wanted is None and self._power_left(facts) is not None:
            return
        for name in DERATINGS:
            if not any(said.partition(".")[0] == name for said in self._said(piece)):
                parts = self._catalog.facts[name].parts
                facts.update({each: _stated(ABSENT) for each in (name, *(f"{name}.{part}" for part in parts))})
        if self._power_left(facts) is None:
            self._take_a_rated_fuel(facts, piece)
        power = f"rated_power.{exact_value(facts['fuel'].value)}"
        if self._open.stated(piece, power) is not None or self._possible(self._catalog.facts[power], piece) == ABSENT:
            return
        one_watt = self._power_left({**facts, power: _stated(number(1))})
        if one_watt:
            facts[power] = _stated(number((wanted or _SOME_POWER) / one_watt))

    def _take_a_rated_fuel(self, facts: dict[str, Stated], piece: Subject) -> None:
        """Of the fuels that are possible, one for which the set is rated."""
        said = self._open.stated(piece, "fuel")
        fuels = self._catalog.facts["fuel"].anything().atoms if said is None else said.value.atoms
        rated = [fuel for fuel in sorted(map(str, fuels)) if facts[f"rated_power.{fuel}"].value.number is not None]
        if rated:
            facts["fuel"] = _stated(exactly(rated[0]), said)

    def _said(self, piece: Subject) -> Mapping[str, Stated]:
        thing = self._open.things.get(piece)
        return {} if thing is None else thing.facts

    def _power_left(self, facts: Mapping[str, Stated]) -> Fraction | None:
        rating = facts[f"rated_power.{exact_value(facts['fuel'].value)}"].value.number
        if rating is None or facts["site_power_by"].value != exactly("figures_of_the_maker"):
            # The generated cases have no numbers of the power adjustment.
            return None
        losses = {name: _loss(facts, name, self._number(SITE, at)) for name, at in DERATINGS.items()}
        return power_left(rating, losses, added=facts["deratings_together"].value == exactly("added"))

    def _settle_current(self, facts: dict[str, Stated], piece: Subject, name: str, powers: tuple[str, ...]) -> None:
        """Leaves the current to its formula, or states what the formula gives; a stated one must agree with it."""
        said = facts.get(name)
        if said is not None and said.value.number is not None:
            self._suit_power(facts, piece, said.value.number, powers)
        self._settle(facts, piece, name, _derived(facts, powers))

    def _with_power(self, facts: Mapping[str, Stated]) -> Mapping[str, Stated]:
        """The facts with the power at the site, where that is left to its calculation."""
        left = self._power_left(facts)
        return facts if "power_at_site" in facts or left is None else {**facts, "power_at_site": _stated(number(left))}

    def _settle_or_state(self, piece: Subject, name: str, derived: Fraction | None) -> None:
        """The same for a figure that somebody states where nothing can be worked out."""
        if derived is None:
            self._add_figure(piece.id, name)
            self._fill_plain(self._catalog.facts[name], self._facts[piece])
        else:
            self._settle(self._facts[piece], piece, name, derived)

    def _settle(self, facts: dict[str, Stated], piece: Subject, name: str, derived: Fraction | None) -> None:
        said = facts.get(name)
        if said is None or said.value == self._catalog.facts[name].anything():
            facts.pop(name, None)
            self._has_answers = self._has_answers and derived is not None
            if derived is not None and self._choose.chance(30):
                self._add_figure(piece.id, name)
                facts[name] = _stated(number(derived))
            return
        if derived is None:
            self._fill_plain(self._catalog.facts[name], facts)
            return
        within = self._catalog.facts[name].agrees_within or Fraction(0)
        known = said.value.number
        if known is not None:
            if not derived * (1 - within) <= known <= derived * (1 + within):
                raise Contradiction
            return
        if not any(span.holds(derived) for span in said.value.spans):
            raise Contradiction
        facts[name] = _stated(number(derived), said)

    def _suit_power(self, facts: dict[str, Stated], piece: Subject, current: Fraction, powers: tuple[str, ...]) -> None:
        """Where the power was left open, the one that gives the stated current."""
        one_watt = _derived({**facts, **{power: _stated(number(1)) for power in powers}}, powers)
        if not one_watt:
            return
        target = round(current / one_watt)
        for power in powers:
            fact, said = self._catalog.facts[power], self._open.stated(piece, power)
            possible = self._possible(fact, piece) if said is None else said.value
            if power not in facts or facts[power].value.only_absent or possible.is_exact:
                continue
            if any(span.holds(Fraction(target)) for span in possible.spans):
                facts[power] = _stated(number(target), said)

    def _possible(self, fact: Fact, piece: Subject) -> Possible:
        whole, _, part = fact.name.partition(".")
        stated = self._open.things[piece].facts
        named = any(name.startswith(f"{whole}.") for name in stated)
        says = self._catalog.facts[whole].part_in_use
        used = stated.get(says) if says is not None else None
        if says is not None and (used is None or part in used.value.atoms):
            return fact.anything()
        return ABSENT if named and self._catalog.facts[whole].unnamed_parts_absent else fact.anything()


def _stated(value: Possible, said: Stated | None = None) -> Stated:
    """What is filled in; where something was said, in its place."""
    if said is not None:
        return replace(said, value=value, text="filled in")
    return Stated(value, "filled in", FILLED_IN)


def _staying(fact: Fact, possible: Possible) -> Possible:
    """A status with which the piece stays: whether a piece is looked at is part of the drawing, and never open."""
    if possible.is_exact or fact.type.is_ordered:
        return possible
    stays = possible.atoms - fact.said_only
    if not stays:
        raise Contradiction
    return Possible(atoms=stays)


def _answered(fact: Fact, possible: Possible) -> Possible:
    """What is possible, as far as the calculations have an answer for it: one or three phases, some power factor, steps
    of altitude and heat at which something is left.
    """
    if possible.is_exact:
        return possible
    whole, _, part = fact.name.partition(".")
    if whole in DERATINGS and part in ("share", "each"):
        usual_ones = [each for each in usual(fact) if any(span.holds(each) for span in possible.spans)]
        kept = [min(usual_ones) if part == "share" else max(usual_ones)] if usual_ones else []
        return Possible(spans=number(kept[0]).spans) if kept else possible
    if fact.name == "power_factor":
        spans = (
            span if span.is_point else replace(span, low_open=span.low_open or span.low == 0) for span in possible.spans
        )
        return replace(possible, spans=tuple(spans))
    if fact.name != "system.phases":
        return possible
    kept = [Fraction(count) for count in (1, 3) if any(span.holds(Fraction(count)) for span in possible.spans)]
    return Possible(spans=tuple(span for count in kept for span in number(count).spans)) if kept else possible


def _loss(facts: Mapping[str, Stated], name: str, at: Fraction) -> Loss | None:
    if facts[name].value.only_absent:
        return None
    share, each, above = (facts[f"{name}.{part}"].value.number for part in ("share", "each", "above"))
    assert share is not None
    assert each is not None
    assert above is not None
    return Loss(share, each, above, facts[f"{name}.begun_step"].value == exactly("whole"), at)


def _derived(facts: Mapping[str, Stated], powers: tuple[str, ...]) -> Fraction | None:
    """The current that follows from the greatest of the powers."""
    found = [facts[power].value.number for power in powers if power in facts and not facts[power].value.only_absent]
    others = [facts[name].value.number for name in _BESIDE_THE_POWER]
    given = [max((each for each in found if each is not None), default=None), *others]
    numbers = [each for each in given if each is not None]
    return full_load_current(*numbers) if len(numbers) == len(given) else None
