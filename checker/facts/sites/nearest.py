"""The nearest thing of a kind, as far as the list of distances of the site says it."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, Work, no_answer
from checker.site.model import Subject
from checker.values.arithmetic import smallest
from checker.values.possible import Possible, between, exactly
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of

READS = ("of", "to_kind", "distance")

BUILDINGS = ("building", "wall", "school")
"""What is a building, or a part of one to which its distance is measured."""
LOT_LINES = ("lot_line",)

_NOTHING = Fraction(0)
_FEET = "ft"


def nearest(context: Context, source: Subject, kinds: Iterable[str]) -> Possible | None:
    """The least distance in feet from a set or a tank to something of these kinds; None where the list is complete and
    holds none.

    A list that is not complete may leave out what is nearer.
    """
    wanted = tuple(kinds)
    listed = context.members("distances")
    judged = [(each, _is_between(context, each, source, wanted)) for each in listed.members]
    ways = [(Possible(spans=context.read(each, "distance").spans), truth) for each, truth in judged]
    sure = [_end(each, upper=True) for each, truth in ways if truth is Truth.YES]
    maybe = [each for each, truth in ways if truth is not Truth.NO]
    if not maybe and listed.complete:
        return None
    most = min((each for each in sure if each is not None), default=None)
    if not listed.complete:
        return between(_NOTHING, most)
    if len(sure) == len(maybe):
        return smallest(maybe, skip_absent=True)
    return between(min(_end(each, upper=False) or _NOTHING for each in maybe), most)


def listed_between(context: Context, source: Subject, kinds: Iterable[str]) -> tuple[Subject, ...]:
    """The distances of the list that are, or may be, from the source to something of these kinds."""
    wanted = tuple(kinds)
    members = context.members("distances").members
    return tuple(each for each in members if _is_between(context, each, source, wanted) is not Truth.NO)


def nearest_listed(kinds: tuple[str, ...], what: str) -> Work:
    """The work for a fact that is the least distance of the list to something of these kinds."""

    def work(context: Context, subject: Subject, name: str) -> Derived:
        found = nearest(context, subject, kinds)
        if found is None:
            return no_answer(f"no distance from {subject} to {what} is listed")
        return Derived(found, unit=_FEET, worksheet=_sheet(context, subject, name, kinds, found))

    return work


def _is_between(context: Context, distance: Subject, source: Subject, kinds: tuple[str, ...]) -> Truth:
    of_source = relate("is", context.read(distance, "of"), exactly(source.id))
    found = context.read(distance, "to_kind")
    return all_of((of_source, any_of(relate("is", found, exactly(kind)) for kind in kinds)))


def _sheet(context: Context, subject: Subject, name: str, kinds: tuple[str, ...], found: Possible) -> Worksheet | None:
    """Of one distance that is all there is to look at there is nothing to compare."""
    listed = listed_between(context, subject, kinds)
    if len(listed) < 2:
        return None
    fact = context.catalog.facts["distance"]
    lines = [
        Line(
            str(place),
            context.site.name_of(each),
            "",
            value_text(fact, known.value, known.unit),
            "",
            source_text(known),
        )
        for place, each in enumerate(listed, start=1)
        for known in (context.known(each, "distance"),)
    ]
    least = number_text(found, "length", _FEET)
    title = context.catalog.facts[name].title
    lines.append(Line("a", title, "least of the distances", least, "", ""))
    return Worksheet(f"{subject.id}.{name}", title, subject.id, tuple(lines), "As far as the list of distances goes.")


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low
