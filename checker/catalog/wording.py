"""Facts in words: a set of possibilities as a person would say it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from checker.catalog.model import Fact, ValueType
from checker.values.dates import date_of
from checker.values.possible import Possible, SetSpan, Span
from checker.values.quantities import show
from checker.values.wire_sizes import show_wire_size

NOT_SHOWN = "not shown"
MANY = 4
"""With more alternatives than this the words say only that the fact is not shown."""


def value_text(fact: Fact, value: Possible, unit: str | None = None) -> str:
    """What is possible for one fact, in words and in the unit in which it was given."""
    if not value.is_exact and value == fact.anything():
        return NOT_SHOWN
    words = [_atom_text(fact, atom) for atom in sorted(value.atoms, key=str)]
    words += [_span_text(fact, span, unit or fact.unit) for span in value.spans]
    words += [_set_text(fact, member) for member in value.sets]
    if value.anything or (len(words) > MANY and not value.is_exact):
        words = [NOT_SHOWN]
    if value.absent:
        words.append("none")
    if value.undefined:
        words.append("outside the limits of the calculation" if words else "not decided")
    return " or ".join(words)


def number_text(value: Possible, quantity: str, unit: str | None) -> str:
    """The numbers that are possible, in words."""
    words = [_ends_text(span, lambda number: show(number, quantity, unit)) for span in value.spans]
    return " or ".join(words) if words else NOT_SHOWN


def _atom_text(fact: Fact, atom: str | bool) -> str:
    if fact.type is ValueType.STRUCTURE:
        return "there"
    if isinstance(atom, bool):
        return "yes" if atom else "no"
    return fact.choices.get(atom, atom)


def _span_text(fact: Fact, span: Span, unit: str | None) -> str:
    return _ends_text(_told(fact, span), lambda number: one_number(fact, number, unit))


def _told(fact: Fact, span: Span) -> Span:
    """The span without a lower end of nothing, below which there is nothing anyway: it tells nobody anything."""
    starts_at_nothing = span.low == 0 and span.high != 0 and not span.low_open
    if starts_at_nothing and fact.physical is not None and fact.physical.low == 0:
        return replace(span, low=None)
    return span


def _ends_text(span: Span, text: Callable[[Fraction], str]) -> str:
    if span.low is None:
        return NOT_SHOWN if span.high is None else f"{'less than' if span.high_open else 'at most'} {text(span.high)}"
    if span.high is None:
        return f"{'more than' if span.low_open else 'at least'} {text(span.low)}"
    if span.low == span.high:
        return text(span.low)
    return f"{text(span.low)} to {text(span.high)}"


def one_number(fact: Fact, number: Fraction, unit: str | None) -> str:
    """One number of an ordered fact, in the given unit."""
    if fact.type is ValueType.WIRE_SIZE:
        return show_wire_size(number)
    if fact.type is ValueType.DATE:
        return date_of(number).isoformat()
    if fact.type is ValueType.QUANTITY and fact.quantity is not None:
        return show(number, fact.quantity, unit or fact.unit or None)
    return str(number)


def _set_text(fact: Fact, member: SetSpan) -> str:
    surely = [fact.choices.get(word, word) for word in sorted(member.surely)]
    perhaps = [fact.choices.get(word, word) for word in sorted(member.perhaps - member.surely)]
    if not perhaps:
        return ", ".join(surely) if surely else "nothing of it"
    if len(perhaps) > MANY:
        return f"{', '.join(surely)} and perhaps more" if surely else NOT_SHOWN
    return f"{', '.join(surely)}{' and ' if surely else ''}perhaps {', '.join(perhaps)}"
