"""What a place has from the source that feeds it: its voltage system, and on a side of a switch the source's own
facts.
"""

from __future__ import annotations

from checker.facts.derivation import Context, Derived
from checker.facts.drawing import NO_CORD, OPEN_END, Path
from checker.facts.line.overcurrent import no_line
from checker.site.model import Subject
from checker.values.possible import exactly, several


def _path(context: Context, subject: Subject) -> Path:
    drawing = context.drawing
    if subject.type == "side":
        tag, entry = subject.id.rsplit(".", 1)
        return drawing.path(tag, entry)
    if subject.type == "connection":
        feed = drawing.feed(subject)
        return drawing.path(feed.to, feed.input)
    return drawing.path(subject.id)


def system(context: Context, subject: Subject, name: str) -> Derived:
    """The voltage system of a place: that of the nearest transformer on its line, otherwise that of its source."""
    path = _path(context, subject)
    for feed in path.feeds:
        if context.drawing.is_of(feed.source, "transformer") or feed.source == path.source:
            known = context.known(context.drawing.pieces[feed.source], name)
            return Derived(known.value, unit=known.unit, reasons=known.reasons)
    return no_line(subject)


def source_kind(context: Context, subject: Subject, name: str) -> Derived:
    """The kind of the source that feeds one side of a switch, with all other switches on normal."""
    source = _path(context, subject).source
    return no_line(subject) if source is None else Derived(exactly(context.drawing.pieces[source].type))


def source_kinds(context: Context, subject: Subject, name: str) -> Derived:
    """The kinds of all sources that can feed one side of a switch, whatever the other switches do."""
    drawing = context.drawing
    tag, entry = subject.id.rsplit(".", 1)
    if drawing.source_of(tag, entry) is None:
        return no_line(subject)
    ends = drawing.ends_above(tag, entry)
    kinds = {drawing.pieces[end].type for end in ends if end in drawing.pieces}
    every = context.catalog.facts[name].choices
    return Derived(several(kinds, every if OPEN_END in ends or NO_CORD in ends else ()))


def of_source(context: Context, subject: Subject, name: str) -> Derived:
    """A fact of the source that feeds one side of a switch."""
    source = _path(context, subject).source
    if source is None:
        return no_line(subject)
    known = context.known(context.drawing.pieces[source], name)
    return Derived(known.value, unit=known.unit, worksheet=known.worksheet, reasons=known.reasons)
