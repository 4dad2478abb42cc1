"""Whether a load has a place of its own in the order of load management."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.line.roles import flag
from checker.facts.loads.of_source import reached
from checker.site.model import Subject
from checker.values.possible import exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of, truth_of

READS = ("at", "kept_off", "priority")

_UNTIL_IT_FITS = exactly("until_it_fits")


def place_of_its_own(context: Context, load: Subject, name: str) -> Derived:
    """Whether no other load that is put on the same set while it fits has the same place in the order.

    A load of which no place is said shares none. Another one that is not listed may, where the list is not complete.
    """
    listed = context.members("loads")
    place = context.read(load, "priority")
    if place.only_absent:
        return Derived(flag(Truth.YES))
    shared = Truth.NO if listed.complete else Truth.UNKNOWN
    for other in listed.members:
        if other != load:
            shared = any_of((shared, _shares(context, load, other)))
        if shared is Truth.YES:
            break
    return Derived(flag(~shared))


def _shares(context: Context, load: Subject, other: Subject) -> Truth:
    """Reads no place of a load that is always on or on another set, so that nobody is asked for it."""
    first = all_of((relate("is", context.read(other, "kept_off"), _UNTIL_IT_FITS), _on_one_set(context, load, other)))
    if first is Truth.NO:
        return first
    same_place = relate("is", context.read(other, "priority"), context.read(load, "priority"))
    return all_of((first, same_place))


def _on_one_set(context: Context, load: Subject, other: Subject) -> Truth:
    places = [context.read(each, "at").atom for each in (load, other)]
    if any(at is None for at in places):
        return Truth.UNKNOWN
    pieces = context.drawing.pieces
    fed = (reached(context, pieces[tag]) for tag in context.drawing.of("generator"))
    return truth_of(any(all(at in boards for at in places) for boards in fed))
