"""Random drawings as stated facts, and the same as the text of a site file.

``drawing`` makes one from any source of choices, ``drawings`` is the strategy for hypothesis, ``to_yaml`` in
``tests.generators.site_text`` writes what ``checker.site.read`` reads back.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from hypothesis import strategies as st

from checker.catalog.model import Catalog, Feeding, Listing
from checker.site.model import SITE, DrawingNotice, Feed, Members, Site, Stated, Subject, Thing
from checker.values.possible import Possible, exactly, number
from tests.generators.choosing import Chooser, drawn, seeded
from tests.generators.currents import full_load_current
from tests.generators.roles import roles_together
from tests.generators.structures import written_structure
from tests.generators.topology import FILE, Sheet, sketched, with_more_feeds
from tests.generators.walk import ALTERNATE, NORMAL, Walk
from tests.generators.written import NONE, Written, exact, written

DIGEST = "0" * 64
CURRENTS: Mapping[str, str] = {"capacity": "power_at_site", "greatest_current": "rated_power"}
"""Currents that a person may write beside the powers from which they follow."""
_BESIDE_THE_POWER = ("system.voltage", "power_factor", "system.phases")
_LEAST_CURRENT, _MOST_CURRENT = 5, 6000
"""Amperes between which a current of a set is usual."""

_WRITTEN_APART = frozenset({"kind", "role", "neutral_bond", *CURRENTS})
Facts = dict[str, Stated]


def seeded_drawing(seed: int, catalog: Catalog) -> Site:
    """The drawing that belongs to a number."""
    return drawing(seeded(seed), catalog)


@st.composite
def drawings(draw: st.DrawFn, catalog: Catalog) -> Site:
    """Drawings, for hypothesis."""
    return drawing(drawn(draw), catalog)


def drawing(choose: Chooser, catalog: Catalog) -> Site:
    """Any drawing that a site file can hold."""
    sheet = sketched(choose, catalog)
    with_more_feeds(choose, sheet)
    return _Writer(choose, sheet).site()


@dataclass(slots=True)
class _Pen:
    """Writes facts of one subject; ``density`` is how many of a hundred are written."""

    choose: Chooser
    sheet: Sheet
    density: int

    def facts(self, subject_type: str, given: Mapping[str, Written] | None = None) -> Facts:
        """Facts of a subject, the given ones and those that its type always has among them."""
        found = dict(given or {})
        for fact in self.sheet.catalog.facts.values():
            if subject_type not in fact.stated_for or "." in fact.name or fact.name in {*found, *_WRITTEN_APART}:
                continue
            if fact.exact or self.choose.chance(self.density):
                found |= self.one(fact.name)
        return {name: self.stated(value) for name, value in found.items()}

    def one(self, name: str) -> dict[str, Written]:
        """One fact with what is written of its parts."""
        fact, tags = self.sheet.catalog.facts[name], list(self.sheet.kinds)
        if fact.choices and fact.said_only and not self.choose.chance(15):
            # What such a status takes out of a drawing is much, so it is rare.
            said = {word: title for word, title in fact.choices.items() if word not in fact.said_only}
            if not said:
                return {}
            fact = replace(fact, choices=said, said_only=frozenset())
        if fact.parts:
            return written_structure(self.choose, self.sheet.catalog, fact, tags)
        return {name: written(self.choose, fact, tags)}

    def stated(self, value: Written) -> Stated:
        """The value at a place of its own."""
        return Stated(value.value, value.text, self.sheet.place(), value.unit)


class _Writer:
    """Fills a sketched drawing with facts."""

    def __init__(self, choose: Chooser, sheet: Sheet) -> None:
        self._choose = choose
        self._sheet = sheet
        self._catalog = sheet.catalog
        self._pen = _Pen(choose, sheet, choose.one([8, 25, 50, 80]))
        self._whole_walk = self._walk = Walk(sheet.feeds, sheet.kinds, sheet.catalog)
        self._things: dict[Subject, Thing] = {}
        self._lists: dict[tuple[str, str], Members] = {}

    def site(self) -> Site:
        self._add(SITE, self._pen.facts("site"))
        for tag, kind in self._sheet.kinds.items():
            self._add(Subject(kind, tag), self._piece(kind))
        self._write_ways()
        self._write_connections()
        self._write_pairs()
        for listing in self._catalog.lists.values():
            self._write_lists(listing)
        self._walk = self._reviewed()
        self._write_roles()
        self._write_bonds()
        self._write_currents()
        choose = self._choose
        open_kinds = [kind.name for kind in self._catalog.kinds.values() if not kind.drawing_complete]
        return Site(
            file=FILE,
            digest=DIGEST,
            things=self._things,
            pieces={tag: Subject(kind, tag) for tag, kind in self._sheet.kinds.items()},
            feeds=self._feeds_in_order(),
            lists={key: self._believed(key[0], listed) for key, listed in self._lists.items()},
            complete_kinds=frozenset(choose.some(open_kinds)),
            notices=tuple(self._orphans()),
        )

    def _believed(self, name: str, listed: Members) -> Members:
        """A list as the reader takes it: one that is never empty is not complete without members."""
        empty = self._catalog.lists[name].never_empty and not listed.members
        return replace(listed, complete=listed.complete and not empty)

    def _reviewed(self) -> Walk:
        """The walk of the drawing without the pieces that are set aside."""
        kinds = {tag: kind for tag, kind in self._sheet.kinds.items() if not self._is_set_aside(Subject(kind, tag))}
        feeds = [feed for feed in self._sheet.feeds if {feed.source, feed.to} <= kinds.keys()]
        return Walk(feeds, kinds, self._catalog)

    def _is_set_aside(self, piece: Subject) -> bool:
        status = self._things[piece].facts.get("status")
        return status is not None and status.value.atom in self._catalog.facts["status"].said_only

    def _add(self, subject: Subject, facts: Facts) -> None:
        thing = self._things.get(subject)
        known = {} if thing is None else dict(thing.facts)
        self._things[subject] = Thing(subject, self._sheet.place(), known | facts)

    def _feeds_in_order(self) -> tuple[Feed, ...]:
        """Every feed in the order in which the reader makes them: by piece, then by input."""
        walk = self._whole_walk
        pairs = ((tag, entry) for tag in self._sheet.kinds for entry in walk.inputs(tag))
        found = (walk.into(tag, entry) for tag, entry in pairs)
        return tuple(feed for feed in found if feed is not None)

    def _orphans(self) -> Iterable[DrawingNotice]:
        for tag, kind in self._sheet.kinds.items():
            if self._catalog.kinds[kind].feeding is Feeding.CORD:
                continue
            for entry in self._whole_walk.inputs(tag):
                if self._whole_walk.into(tag, entry) is None:
                    where = tag if entry == "fed_from" else f"The side {entry} of {tag}"
                    at = self._things[Subject(self._sheet.kinds[tag], tag)].at
                    yield DrawingNotice(f"{where} is fed by nothing on the drawing.", at, (tag,))

    # --- pieces, ways, connections, pairs ----------------------------------------------------------------------------

    def _piece(self, kind: str) -> Facts:
        given = {"kind": Written(exactly(kind), kind)}
        for name, group in (("manages", "source"), ("of", "generator")):
            if kind in self._catalog.facts[name].stated_for:
                given[name] = self._tag(name, self._walk.of(group))
        return self._pen.facts(kind, given)

    def _tag(self, name: str, tags: Sequence[str]) -> Written:
        return exact(self._choose, self._catalog.facts[name], tags or list(self._sheet.kinds))

    def _write_ways(self) -> None:
        """Ways by which a line leaves or comes into a board, and those that hold a device built into the piece."""
        for tag, kind in self._sheet.kinds.items():
            if not self._catalog.kinds[kind].has_ways:
                continue
            used = [feed.way for feed in self._sheet.feeds if feed.source == tag and feed.way is not None]
            listed = self._choose.chance(70)
            inputs_of_kind = self._catalog.kinds[kind].feeding.inputs
            coming = [feed.input for feed in self._sheet.feeds if feed.to == tag and feed.input not in inputs_of_kind]
            for way in (*used, *coming):
                self._add(Subject("way", f"{tag}/{way}"), self._way() if listed else {})
            if kind in self._catalog.kinds_of("disconnecting"):
                built_in = (NORMAL, ALTERNATE) if kind == "transfer_switch" else ("main",)
                for way in self._choose.some([each for each in built_in if each not in coming]):
                    self._add(Subject("way", f"{tag}/{way}"), self._way())

    def _way(self) -> Facts:
        return replace(self._pen, density=max(self._pen.density, 60)).facts("way")

    def _write_connections(self) -> None:
        for feed in self._sheet.feeds:
            self._add(feed.subject, self._pen.facts("connection") if self._choose.chance(60) else {})

    def _write_pairs(self) -> None:
        for tag in self._walk.of("rated_for_fault"):
            reaching = self._walk.reaching(tag)
            for source in self._walk.of("source"):
                if self._choose.chance(50 if source in reaching else 4):
                    self._write_pair("fault_source", f"{tag}~{source}")
        disconnecting = sorted(self._walk.of("disconnecting"))
        for place, one in enumerate(disconnecting):
            for other in disconnecting[place + 1 :]:
                if self._choose.chance(15):
                    self._write_pair("service_disconnect_pair", f"{one}~{other}")

    def _write_pair(self, pair: str, name: str) -> None:
        facts = replace(self._pen, density=80).facts(pair)
        if {"available_fault_current", "least_fault_current"} <= facts.keys():
            # Two figures at random would say most of the time that the least is more than the greatest.
            del facts["least_fault_current"]
        if facts:
            self._add(Subject(pair, name), facts)

    # --- lists -------------------------------------------------------------------------------------------------------

    def _write_lists(self, listing: Listing) -> None:
        owners = ["site"] if listing.on == "site" else list(self._walk.of(listing.on))
        for owner in owners:
            if self._choose.chance(65):
                self._lists[listing.name, owner] = self._members(listing, owner)

    def _members(self, listing: Listing, owner: str) -> Members:
        members = []
        for place in range(1, self._choose.whole(0, 3) + 1):
            subject = member_subject(listing, owner, place)
            self._add(subject, self._pen.facts(listing.member, self._whose(listing)))
            members.append(subject)
        return Members(tuple(members), self._choose.chance(50), self._sheet.place())

    def _whose(self, listing: Listing) -> dict[str, Written]:
        given = {}
        for name, group in (("at", "disconnecting"), ("of", "generator")):
            if listing.member in self._catalog.facts[name].stated_for:
                everything = self._choose.chance(25)
                given[name] = self._tag(name, list(self._sheet.kinds) if everything else self._walk.of(group))
        if listing.member == "interlock":
            given |= self._interlocked()
        return given

    def _interlocked(self) -> dict[str, Written]:
        """Two ways that there may be, drawn as the reader draws them."""
        first, second = self._kept_apart()
        for way in (first, second):
            self._add(Subject("way", way), {})
        return {"first": Written(exactly(first), first), "second": Written(exactly(second), second)}

    def _kept_apart(self) -> list[str]:
        """Two ways by which one board is fed, as interlocks are built, or any two devices."""
        boards = [tag for tag in self._walk.of("board") if len(self._walk.inputs(tag)) > 1]
        if boards and self._choose.chance(60):
            board = self._choose.one(boards)
            return [f"{board}/{way}" for way in self._choose.some(self._walk.inputs(board), least=2, most=2)]
        ways = [f"{tag}/{way}" for tag in self._walk.of("disconnecting") for way in ("main", "load")]
        ways += [f"{feed.source}/{feed.way}" for feed in self._sheet.feeds if feed.way is not None]
        ways += [f"{feed.to}/{feed.input}" for feed in self._sheet.feeds if feed.input not in ("fed_from", "main")]
        return self._choose.some(ways, least=2, most=2)

    # --- facts that also follow from others --------------------------------------------------------------------------

    def _write_roles(self) -> None:
        """Roles that can stand together, some of them not decided; now and then one that cannot be."""
        together = roles_together(self._choose, self._walk, lambda _tag, _role: True) or {}
        fact = self._catalog.facts["role"]
        for tag, role in together.items():
            if self._choose.chance(3):
                self._state(tag, "role", written(self._choose, fact, []))
            elif self._choose.chance(65):
                self._state(tag, "role", self._undecided_with(role or NONE, [*fact.choices, NONE]))

    def _undecided_with(self, word: str, words: Sequence[str]) -> Written:
        """A word, or several of which it is one."""
        others = self._choose.some([each for each in words if each != word], most=2) if self._choose.chance(35) else []
        chosen = [each for each in words if each == word or each in others]
        value = Possible(atoms=frozenset(chosen) - {NONE}, absent=NONE in chosen)
        return Written(value, " or ".join(chosen))

    def _write_bonds(self) -> None:
        """Neutral bonds of pieces, mostly as the list of bonds has them."""
        listed = self._lists.get(("bonds", "site"), Members((), complete=False))
        for tag, kind in self._sheet.kinds.items():
            fact = self._catalog.facts["neutral_bond"]
            if kind not in fact.stated_for or not self._choose.chance(self._pen.density):
                continue
            possible = self._bonds_by_list(tag, listed)
            if self._choose.chance(4):
                self._state(tag, "neutral_bond", written(self._choose, fact, []))
            else:
                self._state(tag, "neutral_bond", self._undecided_with(self._choose.one(possible), list(fact.choices)))

    def _bonds_by_list(self, tag: str, listed: Members) -> list[str]:
        here = [self._things[bond].facts for bond in listed.members if self._things[bond].facts["at"].value.atom == tag]
        stays = [bond["bond_status"].value.atom if "bond_status" in bond else None for bond in here]
        if any(status not in (None, "to_be_removed") for status in stays):
            return ["bonded"]
        open_bonds = [bond for bond in here if "bond_status" not in bond or not bond["bond_status"].value.is_exact]
        return ["floating"] if listed.complete and not open_bonds else ["floating", "bonded"]

    def _write_currents(self) -> None:
        """Currents of sets, mostly within one per cent of those that follow from their powers; times of switches."""
        for tag in self._walk.of("transfer_switch"):
            self._leave_to_its_parts(tag, "time_to_load", frozenset({"kind"}))
        for tag in self._walk.of("generator"):
            self._leave_to_its_parts(
                tag, "power_at_site", frozenset({"rated_power", "altitude_derating", "heat_derating"})
            )
            for name, power in CURRENTS.items():
                if not self._choose.chance(30):
                    continue
                near = self._near(tag, power)
                if near is not None:
                    self._state(tag, name, near)
                elif "rated_power" not in self._things[Subject("generator", tag)].facts and self._choose.chance(30):
                    self._state(tag, name, written(self._choose, self._catalog.facts[name], []))
            self._leave_to_its_parts(tag, "power_at_site", frozenset({"greatest_current"}))

    def _leave_to_its_parts(self, tag: str, figure: str, parts: frozenset[str]) -> None:
        """Mostly one of the two: a figure, or what it is worked out from."""
        thing = self._things[Subject(self._sheet.kinds[tag], tag)]
        if figure in thing.facts and parts & thing.facts.keys() and self._choose.chance(99):
            kept = {name: stated for name, stated in thing.facts.items() if name != figure}
            self._things[thing.subject] = replace(thing, facts=kept)

    def _near(self, tag: str, power: str) -> Written | None:
        """The current that follows from the power, to a tenth of an ampere; None where it is not decided or not
        usual.
        """
        facts = self._things[Subject("generator", tag)].facts
        powers = [facts[each].value.number for each in facts if each.partition(".")[0] == power and power in facts]
        others = [facts[each].value.number if each in facts else None for each in _BESIDE_THE_POWER]
        numbers = [max((each for each in powers if each is not None), default=None), *others]
        known = [each for each in numbers if each is not None]
        if len(known) < len(numbers):
            return None
        current = full_load_current(*known)
        if current is None or not _LEAST_CURRENT <= current <= _MOST_CURRENT:
            return None
        tenths = round(current * 10)
        return Written(number(Fraction(tenths, 10)), f"{tenths // 10}.{tenths % 10} A", "A")

    def _state(self, tag: str, name: str, value: Written) -> None:
        self._add(Subject(self._sheet.kinds[tag], tag), {name: self._pen.stated(value)})


def member_subject(listing: Listing, owner: str, place: int) -> Subject:
    """The member of a list at a place, counted from 1."""
    word = listing.member.rpartition("_")[2]
    return Subject(listing.member, f"{word} {place}" if listing.on == "site" else f"{owner} {word} {place}")
