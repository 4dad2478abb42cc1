"""What was worked out for each piece of the line, in words: currents, fault currents, what opening leaves."""

from __future__ import annotations

from dataclasses import replace

from checker.catalog.names import SIDES
from checker.facts.drawing import NO_CORD, OPEN_END
from checker.facts.view import View
from checker.findings.assembling.naming import known_text
from checker.findings.finding import FiguresOfPiece
from checker.site.model import Subject
from checker.values.possible import Possible, Span

_OPENED = {True: "live again", False: "stays dead"}
NOT_KNOWN = "not known"
NOTHING = "nothing"
NO_LIMIT = "no limit"
"""Of a line ahead of the first overcurrent device."""


def figures_of_pieces(view: View) -> tuple[FiguresOfPiece, ...]:
    """A row for each piece in the line from the sources down, and one for each side of a transfer switch."""
    drawing = view.ground.drawing
    tags = sorted(drawing.of("line_equipment"), key=lambda tag: (drawing.walk_order[tag], tag))
    rows: list[FiguresOfPiece] = []
    for tag in tags:
        rows.append(_row(view, drawing.pieces[tag], tag))
        if drawing.is_of(tag, "transfer_switch"):
            rows += [_row(view, Subject("side", f"{tag}.{side}"), f"{tag}, {side} side") for side in SIDES]
    return tuple(rows)


def _row(view: View, subject: Subject, words: str) -> FiguresOfPiece:
    return FiguresOfPiece(
        words,
        fed_by=_fed_by(view, subject),
        to_carry=NO_LIMIT if _has_no_limit(view, subject) else _text(view, subject, "current_to_carry"),
        greatest_fault=_text(view, subject, "greatest_fault_current"),
        least_fault=_text(view, subject, "least_fault_current"),
        opened=_opened(view, subject),
    )


def _fed_by(view: View, subject: Subject) -> str:
    """The kinds of source above a piece along all lines into it; of a side of a switch along the line into that."""
    if view.ground.catalog.fact("source_kinds", subject.type) is not None:
        return _text(view, subject, "source_kinds")
    drawing, kinds = view.ground.drawing, view.ground.catalog.facts["source_kinds"].choices
    ends = frozenset[str]().union(*(drawing.ends_above(subject.id, each) for each in drawing.inputs(subject.id)))
    found = sorted({drawing.pieces[end].type for end in ends if end in drawing.pieces} & kinds.keys())
    more = [NOT_KNOWN] if ends & {OPEN_END, NO_CORD} else []
    return ", ".join((*(kinds[each] for each in found), *more)) or NOTHING


def _text(view: View, subject: Subject, name: str) -> str:
    """The fact in words; nothing where such a thing does not have it."""
    fact = view.ground.catalog.fact(name, subject.type)
    if fact is None:
        return ""
    known = view.known(subject, name)
    hull = known.value.hull
    if hull is not None and hull.low == 0 and hull.high is not None and hull.high > 0 and not known.value.absent:
        # Nothing is known of the lower end, and a zero would look like a figure.
        known = replace(known, value=Possible(spans=(Span(None, hull.high),)), text=None)
    return known_text(fact, known)


def _has_no_limit(view: View, subject: Subject) -> bool:
    fact = view.ground.catalog.fact("current_to_carry", subject.type)
    return fact is not None and view.read(subject, "current_to_carry").only_absent


def _opened(view: View, subject: Subject) -> str:
    if view.ground.catalog.fact("live_again_when_opened", subject.type) is None:
        return ""
    again = view.read(subject, "live_again_when_opened").atom
    return _OPENED.get(again, NOT_KNOWN) if isinstance(again, bool) else NOT_KNOWN
