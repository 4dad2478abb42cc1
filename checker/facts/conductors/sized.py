"""What is worked out at both ends of what is known, and its worksheet."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from checker.catalog.wording import value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.worked import Method, Worked
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.conductors.run import MATERIALS
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.known import Known
from checker.facts.two_ends import TwoEnds, step_lines
from checker.site.model import Subject
from checker.values.possible import Possible, Span, between
from checker.values.wire_sizes import WireSize, show_wire_size

Work = Callable[[], Worked]
_OPEN = Span(None, None)
_MILS_IN_A_THOUSAND = 1000


def both_ends(least: Iterable[Work], most: Iterable[Work] | None) -> TwoEnds:
    """The smallest of what comes out at the one end and the largest at the other; no most where that has no end, or no
    answer there, since what lies between may have one. OutsideLimits where the one end has no answer at all.
    """
    return TwoEnds(_smallest(least), None if most is None else _largest(most))


def _smallest(works: Iterable[Work]) -> Worked:
    found: list[Worked] = []
    why = "nothing that is possible has a size"
    for work in works:
        try:
            found.append(work())
        except OutsideLimits as limit:
            why = str(limit)
    if not found:
        raise OutsideLimits(why)
    return min(found, key=lambda each: each.value)


def _largest(works: Iterable[Work]) -> Worked | None:
    try:
        return max((work() for work in works), key=lambda each: each.value)
    except OutsideLimits:
        return None


def with_sheet(
    context: Context, subject: Subject, name: str, title: Method[object], facts: Mapping[str, Known], ends: TwoEnds
) -> Derived:
    """Both ends as a fact, with the worksheet where both are there."""
    return _with_lines(subject, name, title.title, given_lines(context, facts), ends, title.limits)


def with_sheet_of_lines(
    context: Context,
    subject: Subject,
    name: str,
    title: Method[object],
    facts: Mapping[str, Mapping[str, Known]],
    ends: TwoEnds,
    holds: str,
) -> Derived:
    """The same for a conductor that goes by several lines: what was given by the thing of which it is said."""
    given = (line for of, known in facts.items() for line in given_lines(context, known, of))
    numbered = (replace(line, letter=str(place)) for place, line in enumerate(given, start=1))
    return _with_lines(subject, name, title.title, numbered, ends, f"{title.limits} {holds}")


def _with_lines(subject: Subject, name: str, title: str, given: Iterable[Line], ends: TwoEnds, limits: str) -> Derived:
    if ends.most is None:
        return Derived(between(ends.least.value, None))
    sheet = Worksheet(f"{subject.id}.{name}", title, subject.id, (*given, *step_lines(ends)), limits)
    return Derived(between(ends.least.value, ends.most.value), worksheet=sheet)


def given_lines(context: Context, facts: Mapping[str, Known], of: str = "") -> Iterator[Line]:
    """What was given, numbered, and of what where that is another thing."""
    for place, (name, known) in enumerate(facts.items(), start=1):
        fact = context.catalog.facts[name]
        yield Line(str(place), fact.title, of, value_text(fact, known.value, known.unit), "", source_text(known))


def no_size(reason: str) -> Derived:
    """No size, with the reason."""
    return no_answer(reason)


def hull_of(value: Possible) -> Span:
    """The numbers that are possible, as one span."""
    return value.hull or _OPEN


def metals_of(value: Possible) -> tuple[str, ...]:
    """The metals that are possible."""
    return tuple(each for each in MATERIALS if each in value.atoms) or MATERIALS


def size_with(area: Fraction) -> WireSize:
    """A size with exactly this area in circular mils, also where the trade has none."""
    return WireSize(show_wire_size(area), area / _MILS_IN_A_THOUSAND)
