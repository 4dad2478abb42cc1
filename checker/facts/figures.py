"""Figures that stand on the drawing and are also worked out."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import Drawing
from checker.facts.view import View
from checker.site.model import SITE, Site, Subject
from checker.values.possible import exactly, one_of

CONNECTION, FROM_TO, _PAIR = "connection", ">", "~"

READS = (
    *("greatest_current", "capacity", "neutral_bond", "role"),
    *("available_fault_current", "least_fault_current"),
    *("automatic_load", "managed_load", "calculated_load", "load_with_vehicles_in_full"),
    *("greatest_fault_current", "motor_fault_current"),
    *("power_at_site", "sound_at_lot_line", "time_to_load", "starting_power"),
    *("ampacity", "neutral_ampacity", "neutral_load", "current_carrying", "whole_dwelling_load"),
    "load_put_on_the_set",
    *("tank_to_building", "tank_to_lot_line", "set_to_lot_line"),
)
"""The facts that may be both stated and derived; a test holds this against the catalog."""


def called(site: Site, subject: Subject) -> str:
    """What a subject is called whatever line it stands on; a figure by what it is a figure of."""
    if subject.type != "figure":
        return site.name_of(subject)
    thing, name = target(site, subject)
    return f"{site.name_of(thing)}.{name}"


def figure_subjects(view: View) -> tuple[Subject, ...]:
    """One figure for each fact that is both stated, other than as unknown, and worked out, in the order of the file.

    Where what is worked out is not one value, it is a figure only if the stated one lies outside: that a wide span
    holds it says nothing for it. What is said beside a figure, as between which conductors a fault is, makes none.
    """
    site, catalog, registry = view.ground.site, view.ground.catalog, view.ground.registry
    return tuple(
        Subject("figure", f"{thing.subject.id}.{name}")
        for thing in site.things.values()
        if _is_looked_at(view.ground.drawing, thing.subject)
        for name, stated in thing.facts.items()
        if name in catalog.facts
        and (name, thing.subject.type) in registry
        and stated.value != catalog.facts[name].anything()
        and (_goes_against(view, thing.subject, name) or view.worked_out(thing.subject, name).is_exact)
    )


def _goes_against(view: View, subject: Subject, name: str) -> bool:
    """Whether the stated figure is not the one that is used, so that the one that is worked out is another."""
    stated = view.stated(subject, view.ground.catalog.facts[name]).value
    return view.read(subject, name) != stated


def _is_looked_at(drawing: Drawing, subject: Subject) -> bool:
    """Whether neither the piece, nor one of a pair, nor an end of a connection is set aside."""
    if subject.type == CONNECTION:
        return any(feed.subject == subject for feed in drawing.feeds)
    return not set(subject.id.split(_PAIR)) & set(drawing.set_aside)


def target(site: Site, figure: Subject) -> tuple[Subject, str]:
    """What a figure stands for, and its fact: of the site, of a piece, of a piece and its source, of a connection, or
    of a member of a list.
    """
    tag, _, name = figure.id.rpartition(".")
    if tag == SITE.id:
        return SITE, name
    if tag in site.pieces:
        return site.pieces[tag], name
    if FROM_TO in tag:
        return Subject(CONNECTION, tag), name
    if _PAIR in tag:
        return Subject("fault_source", tag), name
    return next(each for members in site.lists.values() for each in members.members if each.id == tag), name


def agree(context: Context, subject: Subject, name: str) -> Derived:
    """Yes when the stated figure is used; not decided when the one that is worked out is another."""
    piece, fact = target(context.site, subject)
    used, stated = context.known(piece, fact), context.stated(piece, fact)
    agrees = used.value == stated
    return Derived(exactly(True) if agrees else one_of((True, False)), worksheet=used.worksheet, reasons=used.reasons)
