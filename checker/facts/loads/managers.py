"""The load management of a set: its pieces, up to which current they put loads on, and in which order."""

from __future__ import annotations

from fractions import Fraction

from checker.engineering.load_management.steps import Order
from checker.facts.derivation import Context, Derived
from checker.facts.line.roles import flag
from checker.facts.loads.premises import end
from checker.facts.numbers import words_in_force
from checker.site.model import Subject
from checker.values.possible import exactly
from checker.values.relations import relate
from checker.values.truth import Truth, any_of

READS = ("manages", "set_point", "order")

LISTING = "listing-that-load-management-wants"
_LISTINGS = ("listed", "listed_as_power_control")
READS_OF_LISTING = _LISTINGS


def reduction_counts(context: Context, subject: Subject, name: str) -> Derived:
    """Whether what a piece of load management keeps off counts: it has a listing that the documents in force name, or
    none of them names one.
    """
    wanted = words_in_force(context.numbers, LISTING)
    if not wanted:
        return Derived(exactly(True))
    has = (relate("is", context.read(subject, each), exactly(True)) for each in _LISTINGS if each in wanted)
    return Derived(flag(any_of(has)))


def managers_of(context: Context, subject: Subject) -> tuple[Subject, ...]:
    """The load management on the drawing that is said to protect this set."""
    pieces, managers = context.drawing.pieces, context.drawing.of("load_manager")
    return tuple(pieces[tag] for tag in managers if context.read(pieces[tag], "manages").atom == subject.id)


def set_point(context: Context, subject: Subject) -> Fraction | None:
    """The greatest set point of the load management of this set (A); None where one is not known, or there is none."""
    points = [context.read(each, "set_point") for each in managers_of(context, subject)]
    ends = [None if each.absent else end(each, upper=True) for each in points]
    known = [each for each in ends if each is not None]
    return max(known) if known and len(known) == len(ends) and context.all_drawn("load_manager") else None


def order_of(context: Context, subject: Subject) -> Order:
    """Strict, where all load management of the set is said to stop at the first load that does not fit."""
    said = (context.read(each, "order") for each in managers_of(context, subject))
    stops = [relate("is", each, exactly("stops")) for each in said]
    return Order.STRICT if stops and all(each is Truth.YES for each in stops) else Order.FILL
