"""Whether what a transfer switch feeds needs a neutral from ahead of it."""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.line.roles import flag
from checker.facts.loads.ends import CIRCUITS, OTHER_BUILDING
from checker.site.model import Subject
from checker.values.possible import exactly, several
from checker.values.relations import present, relate
from checker.values.truth import Truth, all_of, any_of

READS = ("at", "load_kind", "connected_to", "has_neutral", "neutral_conductor")

_ALWAYS = several((*CIRCUITS, OTHER_BUILDING))
_ONE_LEG = several(("A", "B", "C"))


def neutral_needed_past(context: Context, switch: Subject, name: str) -> Derived:
    """Whether a load past the switch has a neutral, or a neutral conductor leaves it; a transformer on the way makes a
    neutral of its own.
    """
    drawing = context.drawing
    past = {
        switch.id,
        *drawing.downward(switch.id, lambda feed: not drawing.is_of(feed.to, "transformer")),
    }
    listed = context.members("loads")
    others = Truth.NO if listed.complete else Truth.UNKNOWN
    lines = (feed for feed in drawing.out_of(switch.id) if not drawing.is_of(feed.to, "transformer"))
    return Derived(
        flag(
            any_of(
                (
                    others,
                    *(present(context.read(feed.subject, "neutral_conductor")) for feed in lines),
                    *(all_of((_is_at(context, load, past), _has_neutral(context, load))) for load in listed.members),
                )
            )
        )
    )


def _is_at(context: Context, load: Subject, past: set[str]) -> Truth:
    at = context.read(load, "at").atom
    return Truth.UNKNOWN if at is None else Truth.YES if at in past else Truth.NO


def _has_neutral(context: Context, load: Subject) -> Truth:
    """Circuits and what is on one leg alone have a neutral; what is between legs or phases has one where it is said."""
    return any_of(
        (
            relate("one_of", context.read(load, "load_kind"), _ALWAYS),
            relate("one_of", context.read(load, "connected_to"), _ONE_LEG),
            relate("is", context.read(load, "has_neutral"), exactly(True)),
        )
    )
