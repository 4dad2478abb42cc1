"""Which inverters feed the bus of a board beside the utility, and where they come onto it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from checker.facts.derivation import Context
from checker.facts.line.overcurrent import way_of
from checker.site.model import Feed, Subject
from checker.values.possible import exactly
from checker.values.relations import relate
from checker.values.truth import Truth

MOST_UNDECIDED = 6
"""Inverters of which it may be open whether they run beside the utility; with more nothing is said."""


class TooManyUndecided(Exception):
    """Of too many inverters it is open whether they run beside the utility."""


@dataclass(frozen=True, slots=True)
class Landing:
    """An inverter that comes onto a bus, the way of the board by which it does, and whether it feeds in parallel."""

    inverter: Subject
    way: Subject | None
    parallel: Truth


def selections(context: Context, board: Subject) -> tuple[tuple[Landing, ...], ...]:
    """Every choice of inverters that may run beside the utility on the bus of a board; one of them where all is known.
    Empty choices where none does.
    """
    found = tuple(each for each in _landings(context, board) if each.parallel is not Truth.NO)
    if sum(each.parallel is Truth.UNKNOWN for each in found) > MOST_UNDECIDED:
        raise TooManyUndecided
    options = [((each,) if each.parallel is Truth.YES else (each, None)) for each in found]
    return tuple(tuple(each for each in chosen if each is not None) for chosen in product(*options))


def _landings(context: Context, board: Subject) -> Iterator[Landing]:
    """Only of a board that a utility feeds with all switches on normal: beside a set there is no such sum."""
    drawing = context.drawing
    if drawing.utility_of(board.id) is None:
        return
    for tag in (board.id, *drawing.below(board.id)):
        for feed in _side_feeds(context, tag):
            source = drawing.source_of(tag, feed.input)
            if source is not None and drawing.is_of(source, "inverter"):
                inverter = drawing.pieces[source]
                yield Landing(inverter, _way(context, board.id, tag, feed), _runs_beside(context, inverter))


def _side_feeds(context: Context, tag: str) -> Iterator[Feed]:
    """The feeds of a board beside its normal one; a transfer switch takes one side at a time."""
    drawing = context.drawing
    if not drawing.is_of(tag, "board"):
        return
    for entry in drawing.inputs(tag)[1:]:
        feed = drawing.into(tag, entry)
        if feed is not None:
            yield feed


def _way(context: Context, board: str, tag: str, feed: Feed) -> Subject | None:
    """The breaker in which it lands here, or the one from which the line to the board leaves on which it lands."""
    if tag == board:
        return Subject("way", f"{board}/{feed.input}")
    path = context.drawing.path(tag).feeds
    return next((way_of(context, each) for each in path if each.source == board), None)


def _runs_beside(context: Context, inverter: Subject) -> Truth:
    return relate("is", context.read(inverter, "interactive"), exactly(True))
