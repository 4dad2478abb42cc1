"""How loud a set is at the lot line: from the maker's level at a distance, or as it was measured there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from checker.catalog.wording import number_text, value_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.sites.sound import SOUND_AT_DISTANCE, sum_of_levels
from checker.engineering.worked import letters
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.calculated import source_text
from checker.facts.derivation import Context, Derived, no_answer
from checker.facts.numbers import cited, number_in_force
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import Possible, between, exactly, number, undefined, union_of

WALL, CORNER = "what-a-wall-beside-a-set-adds", "what-a-corner-beside-a-set-adds"
NUMBERS = (WALL, CORNER)
"""The parameters that are read here."""

TO_THE_LINE = "set_to_lot_line"
READS = ("sound_level", "sound_measured_at", "walls_beside", "barrier_takes", TO_THE_LINE)

_SEVEN_METRES = Fraction(7) / Fraction("0.3048")
"""In feet: the distance at which makers of sets mostly state the level."""


_NOTHING = Fraction(0)
_ANYTHING = between(None, None)
_AT_THE_SET = "a level at the set does not say how loud it is at the lot line"


def sound_at_lot_line(context: Context, subject: Subject, name: str) -> Derived:
    """The level in dBA at the nearest lot line, with the other sets of the site running too.

    L = L1 - 20 log10(d / d1), more for walls that reflect, less for a barrier; levels of several sets add by their
    energy. At the least it is that of the set alone, since each set has a nearest place of its own.
    """
    try:
        adds = _what_walls_add(context)
        own = _of_set(context, subject, adds)
        others = [_of_set(context, each, adds) for each in _other_sets(context, subject)]
    except OutsideLimits as limit:
        return no_answer(str(limit))
    if not own.spans:
        return Derived(own, reasons=own.undefined)
    value = own if not others else between(_end(own, upper=False), _together([own, *others]))
    return Derived(value, worksheet=_sheet(context, subject, name, own, others, value), reasons=value.undefined)


def _other_sets(context: Context, subject: Subject) -> list[Subject]:
    pieces, tags = context.drawing.pieces, context.drawing.of("generator")
    return [pieces[tag] for tag in tags if tag != subject.id]


def _together(levels: list[Possible]) -> Fraction | None:
    """The greatest level of all together; None where one of them has no end."""
    ends = [_end(each, upper=True) for each in levels]
    known = [each for each in ends if each is not None]
    return rounded(sum_of_levels(known)) if len(known) == len(ends) else None


_Adds = Mapping[str, Fraction]
"""What walls beside a set add, in dB."""


def _what_walls_add(context: Context) -> _Adds:
    wall, corner = (number_in_force(context.numbers, name) for name in NUMBERS)
    return {"free_field": _NOTHING, "wall": wall, "corner": corner}


def _of_set(context: Context, source: Subject, adds: _Adds) -> Possible:
    """The level of one set alone at the lot line that is nearest to it."""
    places = context.read(source, "sound_measured_at").atoms
    return union_of([_from(context, source, str(each), adds) for each in sorted(map(str, places))])


def _from(context: Context, source: Subject, place: str, adds: _Adds) -> Possible:
    level = Possible(spans=context.read(source, "sound_level").spans)
    if place == "lot_line":
        return level if level.spans else _ANYTHING
    if place != "seven_metres":
        return undefined(_AT_THE_SET)
    nearest = context.read(source, TO_THE_LINE)
    without = [undefined(each) for each in sorted(nearest.undefined)]
    if not nearest.spans and without:
        return union_of(without)
    if not level.spans:
        return _ANYTHING
    distance = Possible(spans=nearest.spans)
    terms = {"level": level, "measured_at": number(_SEVEN_METRES), "distance": distance}
    return union_of([*without, SOUND_AT_DISTANCE.over({**terms, "correction": _correction(context, source, adds)})])


def _correction(context: Context, source: Subject, adds: _Adds) -> Possible:
    """What walls add less what a barrier takes, in dB."""
    walls = union_of([number(adds[str(each)]) for each in sorted(map(str, context.read(source, "walls_beside").atoms))])
    barrier = context.read(source, "barrier_takes")
    most = _NOTHING if barrier.only_absent else _end(barrier, upper=True)
    least = _NOTHING if barrier.absent else _end(barrier, upper=False) or _NOTHING
    high, low = _end(walls, upper=True), _end(walls, upper=False)
    assert high is not None
    assert low is not None
    return between(None if most is None else low - most, high - least)


def _end(value: Possible, *, upper: bool) -> Fraction | None:
    hull = value.hull
    return None if hull is None else hull.high if upper else hull.low


# --- worksheet -------------------------------------------------------------------------------------------------------


def _sheet(
    context: Context, subject: Subject, name: str, own: Possible, others: list[Possible], value: Possible
) -> Worksheet:
    at_line = _steps_to_line(context, subject, own)
    lines = (*_given(context, subject), *at_line, *_steps_together(len(at_line), others, value))
    return Worksheet(f"{subject}.{name}", "Sound at the lot line", subject.id, lines, SOUND_AT_DISTANCE.limits)


def _steps_to_line(context: Context, subject: Subject, own: Possible) -> tuple[Line, ...]:
    """How the level of the set falls to the lot line; nothing where it was measured there."""
    if context.read(subject, "sound_measured_at") != exactly("seven_metres"):
        return ()
    nearest = number_text(context.read(subject, TO_THE_LINE), "length", "ft")
    adds = _decibels(_correction(context, subject, _what_walls_add(context)))
    return (
        Line("a", "nearest lot line", "least of the distances", nearest, "", ""),
        Line("b", "walls less barrier", "", adds, "", cited(context.numbers, WALL)),
        Line("c", f"level of {subject}", _HOW, _dba(own), "", SOUND_AT_DISTANCE.source),
    )


def _steps_together(place: int, others: list[Possible], value: Possible) -> Iterator[Line]:
    """The other sets that are heard there too, from this place of the steps on, and the sum."""
    if not others:
        return
    for at, each in enumerate(others, start=place):
        yield Line(letters(at), "another set", "", _dba(each), "", "")
    yield Line(letters(place + len(others)), "all together at the most", _HOW_TOGETHER, _dba(value), "", "")


_HOW = "L1 - 20 log10(a / 7 m) + b, 7 m = 22.97 ft"
_HOW_TOGETHER = "10 log10 of the sum of 10^(L / 10)"


def _given(context: Context, subject: Subject) -> Iterator[Line]:
    for place, name in enumerate(READS, start=1):
        fact, known = context.catalog.facts[name], context.known(subject, name)
        yield Line(str(place), fact.title, "", value_text(fact, known.value, known.unit), "", source_text(known))


def _dba(value: Possible) -> str:
    return number_text(value, "sound_level", "dBA")


def _decibels(value: Possible) -> str:
    return number_text(value, "sound_difference", "dB")
