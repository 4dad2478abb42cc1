"""Roles of disconnects: as stated, and where the drawing does not say, which are still possible.

Past a service disconnect a piece can only be a feeder disconnect; ahead of one it can be an emergency or a meter
disconnect or none; in between every role is open. What other pieces are is taken only from what the drawing says of
them.
"""

from __future__ import annotations

from fractions import Fraction

from checker.facts.derivation import Context, Derived, no_answer
from checker.site.model import Subject
from checker.values.arithmetic import total
from checker.values.possible import ABSENT, Possible, exactly, number, one_of
from checker.values.relations import relate
from checker.values.truth import Truth, any_of

SERVICE = "service_disconnect"
FEEDER = "feeder_disconnect"
_AHEAD_OF_SERVICE = one_of(("emergency_disconnect", "meter_disconnect")).union(ABSENT)


def role(context: Context, subject: Subject, name: str) -> Derived:
    """The roles that the rest of the drawing leaves to this piece; all, where its line ends in the air or runs in a
    ring.
    """
    if context.drawing.source_of(subject.id) is None:
        return Derived(_AHEAD_OF_SERVICE.union(one_of((SERVICE, FEEDER))))
    if context.drawing.utility_of(subject.id) is None:
        return Derived(exactly(FEEDER).union(ABSENT))
    past = any_of(_is_service(context, tag) for tag in _disconnecting(context, context.drawing.ahead(subject.id)))
    if past is Truth.YES:
        return Derived(exactly(FEEDER))
    before = any_of(_is_service(context, tag) for tag in _disconnecting(context, context.drawing.below(subject.id)))
    possible = _AHEAD_OF_SERVICE if before is Truth.YES else _AHEAD_OF_SERVICE.union(exactly(SERVICE))
    return Derived(possible if past is Truth.NO else possible.union(exactly(FEEDER)))


def _disconnecting(context: Context, tags: tuple[str, ...]) -> tuple[Subject, ...]:
    drawing = context.drawing
    return tuple(drawing.pieces[tag] for tag in tags if drawing.is_of(tag, "disconnecting"))


def is_service_disconnect(context: Context, piece: Subject) -> Truth:
    """Whether a piece that can disconnect has that role, stated or by what follows from the drawing."""
    return relate("is", context.read(piece, "role"), exactly(SERVICE))


def _is_service(context: Context, piece: Subject) -> Truth:
    """The same by what is stated alone: from it the role of others follows."""
    return relate("is", context.stated(piece, "role"), exactly(SERVICE))


def first_after_meter(context: Context, subject: Subject, name: str) -> Derived:
    """Whether the piece is the first past its service point that can disconnect."""
    utility = context.drawing.utility_of(subject.id)
    is_first = utility is not None and subject.id in context.drawing.first_disconnecting(utility)
    return Derived(exactly(is_first))


def past_service_disconnect(context: Context, subject: Subject, name: str) -> Derived:
    """Whether a service disconnect lies ahead, on the normal supply; for a connection, at its upper end or ahead of
    that.
    """
    if subject.type == "connection":
        tags = _ahead_of_connection(context, subject)
    else:
        tags = context.drawing.ahead(subject.id) if context.drawing.utility_of(subject.id) else ()
    past = any_of(is_service_disconnect(context, piece) for piece in _disconnecting(context, tags))
    return Derived(flag(past))


def _ahead_of_connection(context: Context, subject: Subject) -> tuple[str, ...]:
    feed = context.drawing.feed(subject)
    if feed.input != context.drawing.entry(feed.to) or context.drawing.utility_of(feed.to) is None:
        return ()
    return (feed.source, *context.drawing.ahead(feed.source))


def flag(truth: Truth) -> Possible:
    """A flag for the answer of a condition."""
    return one_of((True, False)) if truth is Truth.UNKNOWN else exactly(truth is Truth.YES)


def service_rating(context: Context, subject: Subject, name: str) -> Derived:
    """The rated currents of the service disconnects of a supply, added; one that may be none adds nothing, or its own.

    It rises with every rating.
    """
    nothing = number(Fraction(0))
    terms: list[Possible] = []
    for piece in _disconnecting(context, context.drawing.below(subject.id)):
        is_one = is_service_disconnect(context, piece)
        rating = context.read(piece, "rated_current")
        if is_one is not Truth.NO:
            terms.append(rating if is_one is Truth.YES else rating.union(nothing))
    if not terms:
        return no_answer(f"no service disconnect is drawn past {subject}")
    return Derived(total(terms))
