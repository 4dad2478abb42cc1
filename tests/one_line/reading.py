"""What the program says of a drawing, as plain answers."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from checker.facts.view import View
from checker.site.model import Subject
from checker.values.possible import Possible
from tests.one_line import sensors
from tests.one_line.enumeration import NOTHING_MET, Answer, Plant, Work

OF_SETS: Mapping[str, tuple[str, Work]] = {
    "tie": ("ties_to_utility", Plant.ties),
    "overlap": ("overlaps_with_utility", Plant.overlaps),
    "ring": ("neutral_ring", Plant.rings),
    "bonds": ("bonds_on_neutral", Plant.bonds),
    "ground": ("ground_ring", Plant.ground_rings),
    "at_transfer": ("neutral_at_transfer", Plant.neutrals_of_sets),
}
OF_INVERTERS: Mapping[str, tuple[str, Work]] = {
    "tied": ("ties_to_utility", Plant.inverter_ties),
    "set": ("joins_a_set", Plant.joins),
}
OF_INLETS: Mapping[str, tuple[str, Work]] = {"neutral": ("neutral_at_transfer", Plant.neutrals_of_inlets)}
OF_DISCONNECTS: Mapping[str, tuple[str, Work]] = {
    "again": ("live_again_when_opened", Plant.live_again),
    "starts": ("starts_a_set_when_opened", Plant.starts),
}
OF_SENSORS: Mapping[str, tuple[str, Work]] = {
    "defeated": ("ground_fault_sensing_defeated", sensors.defeated),
    "trips": ("trips_for_fault_of_set", sensors.trips),
}
GROUPS: Mapping[str, Mapping[str, tuple[str, Work]]] = {
    "generator": OF_SETS,
    "inverter": OF_INVERTERS,
    "inlet": OF_INLETS,
    "disconnecting": OF_DISCONNECTS,
}
COLUMNS: Mapping[str, tuple[str, Work]] = {
    **{name: work for works in GROUPS.values() for name, work in works.items()},
    **OF_SENSORS,
}
"""Each column of the tables: the fact of the program, and the work of the enumeration."""

NEVER_SURE = ("tie", "tied", "set", "again")
"""Columns of which nobody can say no without a word on other sources."""


BESIDE_THESE = ("role", "first_after_meter", "past_service_disconnect", "neutral_bond", "incoming", "automatic_start")
OF_SIDES = ("kind", "overcurrent", "overcurrent.rated_current", "overcurrent_limit")

Values = Mapping[tuple[str, str], Possible]
"""What is possible, by the id of the subject and the fact."""


def values(view: View) -> Values:
    """Every fact of the one-line that follows from others; the reason why one has no answer is left out."""
    found = {(subject.id, name): _without_reason(view.read(subject, name)) for subject, name in facts_of(view)}
    drawing = view.ground.drawing
    reach = {(tag, "reach"): Possible(atoms=frozenset((*drawing.sources_reaching(tag), "?"))) for tag in drawing.pieces}
    return {**found, **reach}


def _without_reason(value: Possible) -> Possible:
    return replace(value, undefined=("no answer",)) if value.undefined else value


def facts_of(view: View) -> Iterator[tuple[Subject, str]]:
    """Every subject with each of its derived facts of the one-line."""
    drawing = view.ground.drawing
    names = [*dict.fromkeys(fact for fact, _ in COLUMNS.values()), *BESIDE_THESE]
    for piece in drawing.pieces.values():
        yield from ((piece, name) for name in names if view.ground.catalog.fact(name, piece.type) is not None)
    for tag in drawing.of("transfer_switch"):
        for side in drawing.inputs(tag):
            yield from ((Subject("side", f"{tag}.{side}"), name) for name in OF_SIDES)
    for feed in drawing.feeds:
        yield feed.subject, "past_service_disconnect"


def column(view: View, name: str) -> dict[str, set[Answer]]:
    """The answers of one column that the program leaves possible; None stands for what nobody can say."""
    fact, _ = COLUMNS[name]
    drawing = view.ground.drawing
    return {tag: answers_in(view.read(drawing.pieces[tag], fact)) for tag in _tags(view, name)}


def _tags(view: View, name: str) -> tuple[str, ...]:
    """The pieces of which a column speaks."""
    if name in OF_SENSORS:
        return sensed(view)
    return view.ground.drawing.of(next(group for group, works in GROUPS.items() if name in works))


def sensed(view: View) -> tuple[str, ...]:
    """The pieces that are said to have ground-fault protection."""
    pieces = view.ground.drawing.pieces
    stated = {tag: view.ground.site.stated(piece, "ground_fault_protection") for tag, piece in pieces.items()}
    return tuple(tag for tag, each in stated.items() if each is not None and not each.value.absent)


def answers_in(value: Possible) -> set[Answer]:
    """The plain answers that a fact leaves."""
    if value.undefined:
        return {None}
    if value.spans:
        (span,) = value.spans
        assert span.low is not None
        assert span.high is not None
        return set(range(int(span.low), int(span.high) + 1))
    words: set[Answer] = {*value.atoms}
    if True in words or False in words:
        return words | ({None} if len(words) > 1 else set())
    return words | ({NOTHING_MET} if value.absent else set())
