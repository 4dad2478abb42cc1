"""Whether stated numbers can be, and whether they are usual for their fact."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from checker.catalog.model import Bounds, Fact
from checker.catalog.wording import one_number
from checker.site.model import Stated
from checker.values.possible import Possible, Span
from checker.values.problems import Problem


def out_of_bounds(stated: Stated, fact: Fact) -> Iterator[Problem]:
    """What is wrong with the numbers of a stated fact; no end that a person wrote may lie outside either range."""
    if stated.value == fact.anything():
        # Unknown: its ends are those of nature, and nobody wrote them.
        return
    ends = list(_written_ends(stated.value))
    for bounds, sentence, remedy in (
        (fact.physical, "lies outside what can be", "Check the figure and its unit."),
        (fact.plausible, "lies outside what is usual", "A typing error is suspected: check the figure and its unit."),
    ):
        if bounds is not None and not all(bounds.holds(end) for end in ends):
            usual = range_text(bounds, fact, stated.unit)
            yield Problem(f"{fact.name}: {stated.text} {sentence}: {usual}.", stated.at, remedy)
            return
    if fact.physical is not None and _clamped(stated.value, fact.physical) is None:
        text = range_text(fact.physical, fact, stated.unit)
        yield Problem(f"{fact.name}: {stated.text} leaves no value within {text}.", stated.at, "Check the figure.")


def within_physical(stated: Stated, fact: Fact) -> Stated:
    """The fact with its open ends closed where nature or the trade closes them: ``at most 12 kA`` is not below zero."""
    if fact.physical is None or not stated.value.spans:
        return stated
    value = _clamped(stated.value, fact.physical)
    return stated if value is None or value == stated.value else replace(stated, value=value)


def range_text(bounds: Bounds, fact: Fact, unit: str | None = None) -> str:
    """Both ends of a range as text, in the unit of the person where there is one."""
    low, high = (None if end is None else one_number(fact, end, unit) for end in (bounds.low, bounds.high))
    if low is None or high is None:
        return f"at least {low}" if high is None else f"at most {high}"
    return f"{low} to {high}"


def _written_ends(value: Possible) -> Iterator[Fraction]:
    for span in value.spans:
        yield from (end for end in (span.low, span.high) if end is not None)


def _clamped(value: Possible, bounds: Bounds) -> Possible | None:
    spans = tuple(inner for span in value.spans if (inner := _cut(span, bounds)) is not None)
    if value.spans and not spans:
        return None
    return Possible(value.atoms, value.anything, spans, value.sets, value.absent, value.undefined)


def _cut(span: Span, bounds: Bounds) -> Span | None:
    low, low_open = (bounds.low, False) if span.low is None else (span.low, span.low_open)
    high, high_open = (bounds.high, False) if span.high is None else (span.high, span.high_open)
    if low is not None and high is not None and (low > high or (low == high and (low_open or high_open))):
        return None
    return Span(low, high, low_open, high_open)
