"""Whether a set can be tied to the utility, and what stays alive or starts when a disconnect is opened.

A tie is looked for along lines: two ways that leave one selector, one up to the set and one up to the utility, can
carry current at once if the selector can be on both inputs and no interlock keeps two devices on the way apart.
Nothing is enumerated, so ten switches cost little more than one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import permutations

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import PLAIN, Path
from checker.facts.roles import flag
from checker.site.model import SITE, Feed, Subject
from checker.values.possible import exactly, several
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of, truth_of

_KEEPS_APART = several(("panel_kit", "mechanical", "key", "electrical"))
"""Interlocks that keep two devices from being closed at once. A written procedure does not."""

_OPEN_BETWEEN = several(("open", "delayed"))


@dataclass(frozen=True, slots=True)
class Tie:
    """A way between a set and the utility through one selector, and whether it can be closed."""

    through: str
    to_set: Path
    to_utility: Path
    possible: Truth


def ties_to_utility(context: Context, subject: Subject, name: str) -> Derived:
    """Whether any position of switches, breakers and interlocks ties the set to a utility supply for good.

    The short overlap of a closed transition is another fact. While it is not known that there are no sources beside
    those on the drawing, nobody can say that there is no tie.
    """
    ties = list(_ties(context, subject.id))
    tied = any_of(tie.possible for tie in ties)
    if tied is Truth.NO:
        others = context.read(SITE, "other_sources")
        tied = truth_of(False) if others.only_absent else Truth.UNKNOWN
    first = next((tie for tie in ties if tie.possible is tied), None)
    return Derived(flag(tied), state=None if first is None else _words(first))


def overlaps_with_utility(context: Context, subject: Subject, name: str) -> Derived:
    """Whether a closed transition ties the set to a utility supply for a moment."""
    overlap = Truth.NO
    for tag in context.drawing.switches_fed(subject.id):
        switch = context.drawing.pieces[tag]
        both = any(context.drawing.is_of(source, "utility_supply") for source in context.drawing.sources_reaching(tag))
        closed = ~relate("one_of", context.read(switch, "transition"), _OPEN_BETWEEN)
        overlap = any_of((overlap, all_of((truth_of(both), closed))))
    return Derived(flag(overlap))


def _words(tie: Tie) -> str:
    feeds = [*reversed(tie.to_set.feeds), *tie.to_utility.feeds]
    tags = list(dict.fromkeys(tag for feed in feeds for tag in (feed.source, feed.to)))
    return f"{tie.through} closed on both sides: {', '.join(tags)}"


def _ties(context: Context, generator: str) -> Iterator[Tie]:
    drawing = context.drawing
    for tag in drawing.selectors:
        if drawing.is_of(tag, "transfer_switch"):
            # A listed transfer switch is built so that it cannot stay on both sides.
            continue
        for up, over in permutations(drawing.inputs(tag), 2):
            to_set, to_utility = drawing.routes(tag, up), drawing.routes(tag, over)
            if to_set is None or to_utility is None:
                yield Tie(tag, Path((), None), Path((), None), Truth.UNKNOWN)
                continue
            yield from _joined(
                context, tag, _from(to_set, {generator}), _from(to_utility, set(drawing.of("utility_supply")))
            )


def _from(routes: Iterable[Path], sources: set[str]) -> list[Path]:
    return [route for route in routes if route.source in sources]


def _joined(context: Context, tag: str, to_set: list[Path], to_utility: list[Path]) -> Iterator[Tie]:
    for first in to_set:
        for second in to_utility:
            if not _pieces(first) & _pieces(second):
                yield Tie(tag, first, second, ~_kept_apart(context, (*first.feeds, *second.feeds)))


def _pieces(route: Path) -> set[str]:
    """The pieces on a way above the selector where it begins."""
    return {feed.source for feed in route.feeds}


def _kept_apart(context: Context, feeds: tuple[Feed, ...]) -> Truth:
    """Whether an interlock keeps two devices on the way from being closed at once."""
    devices = set(_devices(feeds))
    listed = context.members("interlocks")
    answers = [
        relate("one_of", context.read(each, "interlock"), _KEEPS_APART)
        for each in listed.members
        if {context.read(each, "first").atom, context.read(each, "second").atom} <= devices
    ]
    return any_of((*answers, *(() if listed.complete else (Truth.UNKNOWN,))))


def _devices(feeds: tuple[Feed, ...]) -> Iterator[str]:
    """The ways whose devices a line passes: where a feed leaves a piece, and where it lands on one."""
    for feed in feeds:
        if feed.way is not None:
            yield f"{feed.source}/{feed.way}"
        yield f"{feed.to}/{'main' if feed.input == PLAIN else feed.input}"


# --- opened by hand --------------------------------------------------------------------------------------------------


def _other_ways_in(context: Context, tag: str) -> Iterator[tuple[str, str]]:
    """Every input past a disconnect, or of itself, that does not come from its own supply side."""
    drawing = context.drawing
    past = drawing.below(tag)
    through = {tag, *past}
    for piece in (tag, *past):
        for entry in drawing.inputs(piece)[1:]:
            feed = drawing.into(piece, entry)
            if feed is not None and feed.source not in through:
                yield piece, entry


def live_again_when_opened(context: Context, subject: Subject, name: str) -> Derived:
    """Whether anything past the disconnect can be live again after it was opened by hand with the utility live."""
    for piece, entry in _other_ways_in(context, subject.id):
        feed = context.drawing.into(piece, entry)
        assert feed is not None
        sources = context.drawing.sources_reaching(feed.source) or (feed.source,)
        if any(context.drawing.is_of(source, "source") for source in (*sources, feed.source)):
            state = f"{subject.id} opened by hand, utility live: {piece} is fed through {entry}"
            return Derived(exactly(True), state=state)
    others = context.read(SITE, "other_sources")
    return Derived(flag(Truth.NO if others.only_absent else Truth.UNKNOWN))


def starts_a_set_when_opened(context: Context, subject: Subject, name: str) -> Derived:
    """Whether opening it by hand with the utility live makes a set start by itself: an automatic switch past it loses
    normal.
    """
    drawing = context.drawing
    answers: list[Truth] = []
    for piece, entry in _other_ways_in(context, subject.id):
        feed = drawing.into(piece, entry)
        assert feed is not None
        has_set = any(
            drawing.is_of(source, "generator") for source in (*drawing.sources_reaching(feed.source), feed.source)
        )
        if has_set and drawing.is_of(piece, "transfer_switch"):
            answers.append(relate("is", context.read(drawing.pieces[piece], "operation"), exactly("automatic")))
    return Derived(flag(any_of(answers)))
