"""Collections: several things that belong to one, each with the answer whether it does, and whether there may be
more.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from checker.facts.known import Ask, Leaf
from checker.facts.line.roles import FEEDER, SERVICE
from checker.facts.view import View
from checker.site.model import Subject
from checker.values.possible import exactly, several
from checker.values.relations import relate
from checker.values.truth import Truth, all_of


@dataclass(frozen=True, slots=True)
class Member:
    """One member, whether it belongs, and the leaves on which that rests."""

    subject: Subject
    belongs: Truth
    leaves: frozenset[Leaf] = frozenset()


@dataclass(frozen=True, slots=True)
class Collection:
    """The members that are drawn; ``more`` is what would have to be said to know that there are no others.

    ``known`` is False at a place that nothing on the drawing feeds: of what feeds it nothing can be said.
    """

    members: tuple[Member, ...]
    more: Leaf | None = None
    known: bool = True

    @property
    def is_open(self) -> bool:
        """Whether there may be members that are not drawn."""
        return self.more is not None or not self.known


def collection(view: View, name: str, owner: Subject) -> Collection:
    """A collection of a subject. Raises KeyError for a name that the catalog does not have.

    A side of a switch answers for what feeds it; a subject of a type that has no such collection has no members.
    """
    find = _COLLECTIONS[name]
    if owner.type == "side":
        tag, _, entry = owner.id.rpartition(".")
        source = view.ground.drawing.source_of(tag, entry)
        return (
            Collection((), known=False)
            if source is None
            else collection(view, name, view.ground.drawing.pieces[source])
        )
    if view.ground.catalog.collection(name, owner.type) is None:
        return Collection(())
    return find(view, owner)


def collection_names() -> frozenset[str]:
    """The names of all collections."""
    return frozenset(_COLLECTIONS)


def _from_list(view: View, name: str, on: str, subjects: Iterable[Subject]) -> Collection:
    complete = view.ground.site.members(name, on).complete
    more = None if complete else Leaf(Subject("site", on), name, Ask.MORE)
    return Collection(tuple(Member(each, Truth.YES) for each in subjects), more)


def _listed_here(name: str, tag_fact: str) -> Callable[[View, Subject], Collection]:
    """The members of a list of the site whose tag is the owner's."""

    def find(view: View, owner: Subject) -> Collection:
        members = view.ground.site.members(name).members
        return _from_list(view, name, "site", (each for each in members if view.read(each, tag_fact).atom == owner.id))

    return find


def _whole_list(name: str) -> Callable[[View, Subject], Collection]:
    """All members of a list of the site."""

    def find(view: View, owner: Subject) -> Collection:
        return _from_list(view, name, "site", view.ground.site.members(name).members)

    return find


def _withstand_rows(view: View, owner: Subject) -> Collection:
    return _from_list(view, "withstand_rows", owner.id, view.ground.site.members("withstand_rows", owner.id).members)


def _pieces_naming(kind: str, tag_fact: str) -> Callable[[View, Subject], Collection]:
    """Pieces of an open kind whose tag fact names the owner."""

    def find(view: View, owner: Subject) -> Collection:
        drawing, site = view.ground.drawing, view.ground.site
        pieces = (drawing.pieces[tag] for tag in drawing.of(kind))
        members = tuple(Member(each, Truth.YES) for each in pieces if view.read(each, tag_fact).atom == owner.id)
        more = None if kind in site.complete_kinds else Leaf(Subject("site", "site"), kind, Ask.EXISTS)
        return Collection(members, more)

    return find


def _surge_devices(view: View, owner: Subject) -> Collection:
    """Those at a piece; for a utility supply those at its service disconnects."""
    at_piece = _pieces_naming("surge_protective_device", "at")
    if owner.type != "utility_supply":
        return at_piece(view, owner)
    found = [
        (disconnect, at_piece(view, disconnect.subject)) for disconnect in _service_disconnects(view, owner).members
    ]
    members = tuple(
        Member(device.subject, disconnect.belongs, disconnect.leaves)
        for disconnect, here in found
        for device in here.members
    )
    return Collection(members, at_piece(view, owner).more)


def _switches_fed(view: View, owner: Subject) -> Collection:
    drawing = view.ground.drawing
    return _certain(drawing.pieces[tag] for tag in drawing.switches_fed(owner.id))


def _certain(subjects: Iterable[Subject]) -> Collection:
    return Collection(tuple(Member(each, Truth.YES) for each in subjects))


def _on_service(view: View, owner: Subject) -> tuple[Subject, ...]:
    """Every piece that can disconnect and is fed by this utility supply with every switch on normal."""
    drawing = view.ground.drawing
    return tuple(drawing.pieces[tag] for tag in drawing.below(owner.id) if drawing.is_of(tag, "disconnecting"))


def _with_role(view: View, owner: Subject, roles: frozenset[str]) -> Collection:
    members: list[Member] = []
    for piece in _on_service(view, owner):
        role = view.known(piece, "role")
        belongs = relate("one_of", role.value, several(roles))
        if belongs is not Truth.NO:
            members.append(Member(piece, belongs, role.leaves))
    return Collection(tuple(members))


def _disconnects(view: View, owner: Subject) -> Collection:
    return _with_role(view, owner, frozenset({SERVICE, "emergency_disconnect", "meter_disconnect"}))


def _service_disconnects(view: View, owner: Subject) -> Collection:
    return _with_role(view, owner, frozenset({SERVICE}))


def _feeder_disconnects(view: View, owner: Subject) -> Collection:
    return _with_role(view, owner, frozenset({FEEDER}))


def _pieces_ahead(view: View, owner: Subject) -> Collection:
    """Pieces past the service point that are neither a service disconnect nor past one."""
    drawing = view.ground.drawing
    members: list[Member] = []
    for tag in drawing.below(owner.id):
        piece = drawing.pieces[tag]
        past = view.known(piece, "past_service_disconnect") if drawing.is_of(tag, "line_equipment") else None
        if past is None:
            continue
        ahead = ~relate("is", past.value, exactly(True))
        leaves = past.leaves
        if drawing.is_of(tag, "disconnecting"):
            role = view.known(piece, "role")
            is_service = relate("is", role.value, exactly(SERVICE))
            ahead = all_of((ahead, ~is_service))
            leaves = leaves | role.leaves
        if ahead is not Truth.NO:
            members.append(Member(piece, ahead, leaves))
    return Collection(tuple(members))


def _next_boards(view: View, owner: Subject) -> Collection:
    """The boards past a service disconnect with no other board between."""
    drawing = view.ground.drawing
    members: list[Member] = []
    for tag in drawing.below(owner.id):
        if not drawing.is_of(tag, "board"):
            continue
        piece = drawing.pieces[tag]
        past = view.known(piece, "past_service_disconnect")
        belongs = relate("is", past.value, exactly(True))
        leaves = past.leaves
        for other in drawing.ahead(tag):
            if drawing.is_of(other, "board"):
                between = view.known(drawing.pieces[other], "past_service_disconnect")
                belongs = all_of((belongs, ~relate("is", between.value, exactly(True))))
                leaves = leaves | between.leaves
        if belongs is not Truth.NO:
            members.append(Member(piece, belongs, leaves))
    return Collection(tuple(members))


def _standby_sources(view: View, owner: Subject) -> Collection:
    drawing, other = view.ground.drawing, view.known(Subject("site", "site"), "other_sources")
    more = None if other.value.only_absent else Leaf(Subject("site", "site"), "other_sources")
    pieces = (*drawing.of("generator"), *drawing.of("inverter"))
    return Collection(tuple(Member(drawing.pieces[tag], Truth.YES) for tag in pieces), more)


def _sets_past(view: View, owner: Subject) -> Collection:
    """The sets that feed a transfer switch which stands here or is fed through here on the normal supply."""
    drawing = view.ground.drawing
    here = {owner.id, *drawing.below(owner.id)}
    return _certain(
        drawing.pieces[tag] for tag in drawing.of("generator") if here.intersection(drawing.switches_fed(tag))
    )


def _bonds_past(view: View, owner: Subject) -> Collection:
    below = set(view.ground.drawing.below(owner.id))
    members = view.ground.site.members("bonds").members
    return _from_list(view, "bonds", "site", (each for each in members if view.read(each, "at").atom in below))


def _interlocks(view: View, owner: Subject) -> Collection:
    """The interlocks of the site that name a way of the piece."""
    members = view.ground.site.members("interlocks").members
    return _from_list(view, "interlocks", "site", (each for each in members if owner.id in _pieces_of(view, each)))


def _pieces_of(view: View, interlock: Subject) -> frozenset[str]:
    """The tags of the pieces whose devices an interlock keeps apart."""
    return frozenset(str(view.read(interlock, end).atom).partition("/")[0] for end in ("first", "second"))


def _gas_pipes(view: View, owner: Subject) -> Collection:
    """The pieces of gas pipe that end at the set, by its tag."""
    members = view.ground.site.members("gas_pipes").members
    tag = owner.id.casefold()
    return _from_list(
        view, "gas_pipes", "site", (each for each in members if str(view.read(each, "ends_at").atom).casefold() == tag)
    )


_COLLECTIONS: Mapping[str, Callable[[View, Subject], Collection]] = {
    "labels": _listed_here("labels", "at"),
    "bonds": _listed_here("bonds", "at"),
    "bonds_past": _bonds_past,
    "interlocks": _interlocks,
    "sets_past": _sets_past,
    "every_label": _whole_list("labels"),
    "papers": _whole_list("papers"),
    "distances": _listed_here("distances", "of"),
    "controls": _listed_here("controls", "of"),
    "loads": _whole_list("loads"),
    "withstand_rows": _withstand_rows,
    "stops": _pieces_naming("stop", "of"),
    "load_managers": _pieces_naming("load_manager", "manages"),
    "surge_devices": _surge_devices,
    "switches_fed": _switches_fed,
    "disconnects": _disconnects,
    "service_disconnects": _service_disconnects,
    "feeder_disconnects": _feeder_disconnects,
    "pieces_ahead": _pieces_ahead,
    "next_boards": _next_boards,
    "standby_sources": _standby_sources,
    "gas_pipes": _gas_pipes,
}
