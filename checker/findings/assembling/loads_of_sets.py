"""The main question of the job: what each set gives at its site, what is put on it, and which findings compare them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from checker.catalog.wording import value_text
from checker.facts.view import View
from checker.findings.assembling.naming import known_text, subject_name
from checker.findings.finding import Finding, ListedLoads, LoadOfSet
from checker.site.model import Subject
from checker.values.arithmetic import total
from checker.values.possible import Possible, exactly
from checker.values.relations import relate
from checker.values.truth import Truth

CAPACITY: Final = "capacity"
POWER, LOAD, MANAGED, SELECTED = "power_at_site", "automatic_load", "managed_load", "selected_load"
STARTS: Final = "automatic_start"
TO_AMPERES: Final = ("system", "power_factor")
"""What makes amperes of a power."""
LOADS, RATING, STARTING, POWER_FACTOR = "loads", "load_power", "starting_power", "power_factor"


def loads_of_sets(view: View, findings: Sequence[Finding]) -> tuple[LoadOfSet, ...]:
    """A row for each generating set of the drawing, in the order of the tags."""
    drawing = view.ground.drawing
    return tuple(_row(view, drawing.pieces[tag], findings) for tag in drawing.of("generator"))


def _row(view: View, piece: Subject, findings: Sequence[Finding]) -> LoadOfSet:
    compared = f"{piece.id}.{CAPACITY}"
    by_hand = relate("is", view.read(piece, STARTS), exactly(False)) is Truth.YES
    return LoadOfSet(
        piece.id,
        power=_text(view, piece, POWER),
        current=_text(view, piece, CAPACITY),
        load=_text(view, piece, LOAD),
        managed=_text(view, piece, MANAGED),
        selected=_text(view, piece, SELECTED),
        findings=tuple(each.id for each in findings if any(check.found.fact == compared for check in each.checks)),
        by_hand=by_hand,
        to_amperes=tuple(_between_power_and_current(view, piece)),
        listed=_listed(view, piece) if by_hand else None,
    )


def _between_power_and_current(view: View, piece: Subject) -> Iterator[str]:
    """The titles of what is open of that which makes amperes of a power that is known; nothing where the current is
    known all the same, or where no power is to make any of.
    """
    if view.read(piece, CAPACITY).is_exact or not _says_something(view.read(piece, POWER)):
        return
    for name in TO_AMPERES:
        fact = view.ground.catalog.facts[name]
        parts = [f"{name}.{each}" for each in ("voltage", "phases")] if fact.parts else [name]
        if not all(view.read(piece, each).is_exact for each in parts):
            yield fact.title


def _listed(view: View, piece: Subject) -> ListedLoads | None:
    """The loads of the list at the pieces that the set can feed; None where none is listed there."""
    facts, listing = view.ground.catalog.facts, view.ground.site.members(LOADS)
    past = {exactly(tag) for tag in view.ground.drawing.fed_in_any_way(piece.id)}
    loads = [load for load in listing.members if view.read(load, "at") in past]
    if not loads:
        return None
    together = total([view.read(load, RATING) for load in loads])
    starts = {load: view.read(load, STARTING).number for load in loads}
    known = {load: number for load, number in starts.items() if number}
    largest = max(known, key=lambda load: known[load]) if known else None
    return ListedLoads(
        len(loads),
        value_text(facts[RATING], together, facts[RATING].unit) if _says_something(together) else "",
        "" if largest is None else _text(view, largest, STARTING),
        "" if largest is None else subject_name(view, largest).words,
        sum(load not in known and _is_motor(view, load) for load in loads),
        is_all=listing.complete,
        is_more=_is_more(together, view.read(piece, POWER), view.read(piece, POWER_FACTOR)),
    )


def _is_motor(view: View, load: Subject) -> bool:
    return relate("is", view.read(load, "motor_driven"), exactly(True)) is Truth.YES


def _is_more(load: Possible, power: Possible, power_factor: Possible) -> bool:
    """S > P / pf, surely: the least apparent power of the loads against the most that the set gives."""
    least, most, factor = (each.hull for each in (load, power, power_factor))
    if least is None or most is None or factor is None or least.low is None or most.high is None or not factor.low:
        return False
    return least.low > most.high / factor.low


def _text(view: View, piece: Subject, name: str) -> str:
    """The figure in words, also where only one end of it is known; empty where nothing is."""
    known = view.known(piece, name)
    return known_text(view.ground.catalog.facts[name], known) if _says_something(known.value) else ""


def _says_something(value: Possible) -> bool:
    """Whether a figure has an end; a least of nothing is none."""
    hull = value.hull
    return hull is not None and (bool(hull.low) or hull.high is not None)
