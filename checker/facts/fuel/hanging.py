"""What hangs past a piece of gas pipe: which sets and appliances, and which gas that makes it."""

from __future__ import annotations

from collections.abc import Iterator

from checker.engineering.calculation import OutsideLimits
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.fuel.line import READS as OF_THE_LINE
from checker.facts.fuel.line import Line, Pipe, line
from checker.facts.fuel.numbers import NATURAL_GAS, PROPANE
from checker.site.model import Subject
from checker.values.possible import exactly, one_of

READS = OF_THE_LINE
GAS_READS = (*OF_THE_LINE, "fuel")

_TWO = 2


def leads_to_a_set(context: Context, subject: Subject, _name: str) -> Derived:
    """Whether a set burns what passes the pipe; not decided where more pipe may follow."""
    try:
        found = line(context)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    pipe = found.of(subject)
    if any(each.end in found.sets for each in found.past(pipe)):
        return Derived(exactly(True))
    may_go_on = not found.all_pipes and any(found.is_open(each) for each in found.past(pipe))
    return Derived(one_of((True, False)) if may_go_on else exactly(False))


def leads_to_one_set_alone(context: Context, subject: Subject, _name: str) -> Derived:
    """Whether one set and nothing else hangs past the pipe; not decided where more may."""
    try:
        found = line(context)
    except OutsideLimits as limit:
        return no_answer(str(limit))
    pipe = found.of(subject)
    outlets = tuple(outlets_past(found, pipe))
    alone = [each.type for each in outlets] == ["generator"]
    more = may_have_more(found, pipe) or bool(found.unnamed)
    return Derived(one_of((True, False)) if more and len(outlets) < _TWO else exactly(alone))


def piped_gas(context: Context, subject: Subject, _name: str) -> Derived:
    """The gas that the sets past the pipe burn, or all sets where none is shown past it; either where that is not one
    and the same.
    """
    everyone = [context.drawing.pieces[tag] for tag in context.drawing.of("generator")]
    sets = _sets_past(context, subject) or everyone
    gases = {str(atom) for each in sets for atom in context.read(each, "fuel").atoms} & {NATURAL_GAS, PROPANE}
    return Derived(one_of(gases or {NATURAL_GAS, PROPANE}))


def _sets_past(context: Context, subject: Subject) -> list[Subject]:
    """The sets to which a pipe leads; none where the line does not hang together."""
    try:
        found = line(context)
    except OutsideLimits:
        return []
    return [found.sets[each.end] for each in found.past(found.of(subject)) if each.end in found.sets]


def outlets_past(found: Line, pipe: Pipe) -> Iterator[Subject]:
    """The sets and appliances that hang at the ends of this piece and of those past it."""
    for each in found.past(pipe):
        if each.end in found.sets:
            yield found.sets[each.end]
        yield from found.appliances.get(each.end, ())


def may_have_more(found: Line, pipe: Pipe) -> bool:
    """Whether more may hang past a piece than is listed."""
    return not found.all_pipes or any(found.is_open(each) for each in found.past(pipe))
