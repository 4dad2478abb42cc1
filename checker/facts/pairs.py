"""Two things that belong together: how their subjects are named and which pairs a drawing has."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import combinations

from checker.facts.line.roles import SERVICE
from checker.facts.view import View
from checker.site.model import Subject


@dataclass(frozen=True, slots=True)
class Paired:
    """Two things that belong together as far as the drawing goes, and the roles that they must hold to do so."""

    pair: Subject
    roles: tuple[tuple[Subject, str], ...] = ()


Found = tuple[Paired, ...]
"""The pairs of one kind on a drawing."""


def fault_source(piece: str, source: str) -> Subject:
    """A piece and a source that can feed a fault in it; the piece comes first."""
    return Subject("fault_source", f"{piece}~{source}")


def alike(kind: str, one: str, other: str) -> Subject:
    """A pair of two things of one sort, in the order of their tags, so that it does not depend on the file."""
    first, second = sorted((one, other))
    return Subject(kind, f"{first}~{second}")


def halves(pair: Subject) -> tuple[str, str]:
    """The two tags of a pair."""
    first, _, second = pair.id.partition("~")
    return first, second


def _sources_of_pieces(view: View) -> Found:
    drawing = view.ground.drawing
    return tuple(
        Paired(fault_source(tag, source))
        for tag in drawing.of("rated_for_fault")
        for source in drawing.sources_reaching(tag)
    )


def _service_disconnects(view: View) -> Found:
    drawing = view.ground.drawing
    found: list[Paired] = []
    for one, other in combinations(sorted(drawing.of("disconnecting")), 2):
        utility = drawing.utility_of(one)
        if utility is None or utility != drawing.utility_of(other):
            continue
        if other not in drawing.below(one) and one not in drawing.below(other):
            roles = tuple((drawing.pieces[tag], SERVICE) for tag in (one, other))
            found.append(Paired(alike("service_disconnect_pair", one, other), roles))
    return tuple(found)


def _switches_on_one_set(view: View) -> Found:
    drawing = view.ground.drawing
    found: dict[Subject, None] = {}
    for generator in drawing.of("generator"):
        for one, other in combinations(drawing.switches_fed(generator), 2):
            found[alike("switches_on_one_set", one, other)] = None
    return tuple(Paired(pair) for pair in found)


_FINDERS: Mapping[str, Callable[[View], Found]] = {
    "source_reaches_piece": _sources_of_pieces,
    "both_service_disconnects": _service_disconnects,
    "one_set_feeds_both": _switches_on_one_set,
}


def pairs_of(view: View, kind: str) -> Found:
    """Every pair of one kind, with the answer whether it belongs together."""
    return _FINDERS[view.ground.catalog.pairs[kind].members](view)
