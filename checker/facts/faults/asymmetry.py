"""What an interrupting rating is judged by where X/R at the piece is above that of the test of the device."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from checker.catalog.wording import number_text
from checker.engineering.calculation import OutsideLimits
from checker.engineering.faults.along import Beginning
from checker.engineering.faults.asymmetry import multiplying_factor
from checker.engineering.faults.ratio import Ratios, ratio_past
from checker.engineering.worksheet import Line, Worksheet
from checker.facts.derivation import Context, Derived
from checker.facts.faults.along import READS as OF_RUNS
from checker.facts.faults.along import runs_of, start_at, transformer_between
from checker.facts.faults.numbers import GREATEST_TESTED, LEAST_TESTED, run_numbers
from checker.facts.faults.runs import whole
from checker.facts.faults.sources import AVAILABLE, is_stated
from checker.facts.faults.starts import Kind, Start, ratios
from checker.facts.faults.ways import Way, ways_of
from checker.facts.numbers import cited, rows_in_force
from checker.facts.pairs import halves
from checker.facts.two_ends import amount
from checker.rules.model.numbers import Row
from checker.site.model import Subject
from checker.values.arithmetic import rounded
from checker.values.possible import ABSENT, Possible, between
from checker.values.relations import relate
from checker.values.truth import Truth

TO_INTERRUPT = "fault_current_to_interrupt"
ANGLE = f"{AVAILABLE}.x_over_r"
READS = (*OF_RUNS, "interrupting_rating", "series_rated", "series_rating")
TITLE = "Fault current by which an interrupting rating is judged"
LIMITS = (
    "First peak over first peak: 1 + e to the power of -pi / (X/R). X/R of motors is not counted. A device that is "
    "tested at another X/R is for its maker."
)


def of_pair(context: Context, subject: Subject, name: str) -> Derived:
    """The available fault current x (1 + e^(-pi / (X/R))) / (1 + e^(-pi / (X/R of the test))), where X/R is stated for
    the source or the piece; none where it is not, or where no device interrupts, or X/R is surely not above the test.

    X/R that nobody states is not guessed: interrupting ratings are then compared with the symmetrical current alone.
    """
    tag, source = halves(subject)
    piece, giver = context.drawing.pieces.get(tag), context.drawing.pieces.get(source)
    if piece is None or giver is None:
        return Derived(ABSENT)
    found = _ratio_at(context, subject, giver)
    if found is None:
        return Derived(ABSENT)
    tested = _tested(context, piece)
    if tested is None:
        return Derived(ABSENT)
    low, high = _factor(found[0], tested[1]), _factor(found[1], tested[0], none_is_most=True)
    if high == 1:
        return Derived(ABSENT)
    current = context.read(subject, AVAILABLE)
    value = _times(current, low, high)
    if low == 1 or not _is_sure(context, piece):
        value = value.union(ABSENT)
    sheet = _sheet(context, subject, name, found, tested, (low, high), (current, value))
    return Derived(value, unit="kA", worksheet=sheet, reasons=value.undefined)


def _factor(ratio: Fraction | None, tested: Fraction, *, none_is_most: bool = False) -> Fraction:
    if ratio is None and not none_is_most:
        return Fraction(1)
    return Fraction(1) if ratio is not None and ratio <= 0 else multiplying_factor(ratio, tested)


def _times(current: Possible, low: Fraction, high: Fraction) -> Possible:
    hull = current.hull
    if hull is None or current.undefined:
        return between(0, None)
    return between(rounded((hull.low or Fraction(0)) * low), None if hull.high is None else rounded(hull.high * high))


def _is_sure(context: Context, piece: Subject) -> bool:
    """Whether something surely interrupts there, at a rating for which the test is known."""
    return context.read(piece, "interrupting_rating").number is not None and _tested(context, piece) is not None


# --- X/R of the test -------------------------------------------------------------------------------------------------


def _tested(context: Context, piece: Subject) -> tuple[Fraction, Fraction] | None:
    """At the least and at the most, over the ratings that the devices there may have; None where none interrupts, or
    the documents in force do not tell.
    """
    ratings = [context.read(piece, "interrupting_rating")]
    if True in context.read(piece, "series_rated").atoms:
        ratings.append(context.read(piece, "series_rating"))
    there = [each for each in (rating.present() for rating in ratings) if each is not None]
    if not there:
        return None
    try:
        tables = [rows_in_force(context.numbers, table) for table in (LEAST_TESTED, GREATEST_TESTED)]
    except OutsideLimits:
        return None
    least, greatest = ([value for each in there for value in _of_rating(rows, each)] for rows in tables)
    return (min(least), max(greatest)) if least and greatest else None


def _of_rating(rows: tuple[Row, ...], rating: Possible) -> Iterator[Fraction]:
    for row in rows:
        if relate("is", rating, row.keys["rating"]) is not Truth.NO and row.value.number is not None:
            yield row.value.number


# --- X/R at the piece ------------------------------------------------------------------------------------------------


def _ratio_at(context: Context, pair: Subject, giver: Subject) -> Ratios | None:
    """As it is stated for the piece, or along the runs from the source for which it is stated; None where it is not."""
    if is_stated(context, pair, ANGLE):
        return ratios(context.read(pair, ANGLE))
    tag, source = halves(pair)
    is_said = giver.type == "utility_supply" and is_stated(context, giver, ANGLE)
    if not is_said or transformer_between(context, tag, source):
        return None
    own, ways = ratios(context.read(giver, ANGLE)), ways_of(context, tag, source)
    if ways is None:
        return own
    start = start_at(context, giver)
    found = [_past(context, way, start, own) for way in ways.ways]
    if len(found) > 1:
        # Ways in parallel have an angle between theirs, and the source one of its own.
        found.append(own)
    ends = [high for _, high in found if high is not None]
    return min(low for low, _ in found), max(ends) if len(ends) == len(found) else None


def _past(context: Context, way: Way, start: Start, own: Ratios) -> Ratios:
    """Over the kinds of fault that are meant. Where a run is open, X/R of source or run, whatever is more, as together
    they lie between the two; nothing at the least.
    """
    numbers = run_numbers(context.numbers)
    if numbers is None:
        return Fraction(0), own[1]
    adds = whole(runs_of(context, way, numbers, start))
    found = [ratio_past(_begins(start, kind, own), adds.round_of(kind.fault)) for kind in start.kinds]
    known = [each for each in found if each is not None]
    if len(known) < len(found) or not known:
        steepest = max(row.value.number or Fraction(0) for row in numbers.reactances) / (
            min(row.value.number for row in numbers.resistances if row.value.number) * numbers.cold
        )
        return Fraction(0), None if own[1] is None else max(own[1], steepest)
    ends = [high for _, high in known if high is not None]
    return min(low for low, _ in known), max(ends) if len(ends) == len(known) else None


def _begins(start: Start, kind: Kind, own: Ratios) -> Iterator[Beginning]:
    """The ends of the figure; none where one of them is open."""
    if not start.high or start.low <= 0 or not kind.low or not kind.high:
        return
    for amperes, volts in ((start.low, kind.high), (start.high, kind.low)):
        yield Beginning(amperes, volts, own)


# --- worksheet -------------------------------------------------------------------------------------------------------


def _sheet(
    context: Context,
    subject: Subject,
    name: str,
    found: Ratios,
    tested: tuple[Fraction, Fraction],
    factors: tuple[Fraction, Fraction],
    currents: tuple[Possible, Possible],
) -> Worksheet:
    before, after = (number_text(each, "fault_current", "kA") for each in currents)
    source = cited(context.numbers, LEAST_TESTED)
    lines = (
        Line("1", "available fault current", str(subject), before, "", ""),
        Line("2", "X/R at the piece", "source and runs together", _span(*found), "", ""),
        Line("3", "X/R of the test", "by the interrupting rating", _span(*tested), "", source),
        Line(
            "a",
            "factor",
            "1 + e to the power of -pi / X/R, here over the test, at least 1",
            _span(*factors),
            "",
            "IEEE Std 1015",
        ),
        Line("b", "current by which the rating is judged", "1 x a", after, "", ""),
    )
    return Worksheet(f"{subject.id}.{name}", TITLE, subject.id, lines, LIMITS)


def _span(low: Fraction, high: Fraction | None) -> str:
    if high is None:
        return f"at least {amount(low)}"
    return " to ".join(dict.fromkeys((amount(low), amount(high))))
