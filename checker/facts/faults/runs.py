"""What a run adds to the way of a fault current, as far as it is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from checker.engineering.faults.along import NO_RUN, NOTHING_BETWEEN, Between, Conductors
from checker.engineering.impedance import NO_IMPEDANCE, Impedance
from checker.facts.derivation import Context
from checker.facts.faults.numbers import RunNumbers
from checker.rules.model.numbers import Row
from checker.site.model import Feed, Subject
from checker.values.possible import Possible, exactly, one_of
from checker.values.relations import relate
from checker.values.truth import Truth

KILO = 1000
"""Tables give ohms per thousand feet; sheets write thousands of amperes."""

READS = ("phase", "neutral_conductor", "length", "run_raceway")

_OPEN = Between(NO_IMPEDANCE, None)
_OPEN_RUN = Conductors(_OPEN, _OPEN)
_NO_LENGTH: tuple[Fraction, Fraction | None] = (Fraction(0), None)
_CLAD = exactly("copper_clad_aluminum")
_BOTH_METALS = one_of(("copper", "aluminum"))
"""A conductor of aluminum with a skin of copper lies between the two."""


@dataclass(frozen=True, slots=True)
class RunFound:
    """A run with what it adds."""

    feed: Feed
    adds: Conductors


def run_found(
    context: Context, feed: Feed, numbers: RunNumbers, *, with_neutral: bool = True, hot: bool = False
) -> RunFound:
    """What a run adds: cold and close together at the least, at the most as in the table, or hot. The neutral may take
    nothing at the least, as ground, raceway and neighbors can carry the current back beside it.

    Its conductors matter only where its length is known, and its raceway only where they are: nothing is asked before
    it can tell anything.
    """
    counted = _counted(context, feed)
    if counted is Truth.NO:
        return RunFound(feed, NO_RUN)
    factors = _lengths(context, feed.subject)
    if factors == _NO_LENGTH:
        return RunFound(feed, _OPEN_RUN)
    phase = _along(_conductor(context, feed.subject, "phase", numbers, hot), factors)
    neutral = _OPEN
    if with_neutral:
        neutral = _perhaps(_along(_conductor(context, feed.subject, "neutral_conductor", numbers, hot), factors))
    adds = Conductors(phase, neutral)
    return RunFound(feed, adds if counted is Truth.YES else Conductors(_perhaps(phase), _perhaps(neutral)))


def _perhaps(each: Between) -> Between:
    return Between(NO_IMPEDANCE, each.most)


def _counted(context: Context, feed: Feed) -> Truth:
    """Whether a run takes anything: not where the figure of the utility is that at the meter at which the run ends."""
    drawing = context.drawing
    if not (drawing.is_of(feed.source, "utility_supply") and drawing.is_of(feed.to, "meter")):
        return Truth.YES
    place = context.read(drawing.pieces[feed.source], "available_fault_current.given_at")
    return relate("is", place, exactly("service_point"))


def whole(runs: tuple[RunFound, ...]) -> Conductors:
    """All runs in line."""
    adds = NO_RUN
    for run in runs:
        adds = adds + run.adds
    return adds


def _lengths(context: Context, run: Subject) -> tuple[Fraction, Fraction | None]:
    """Thousands of feet of one conductor, those in parallel counted: at least, and at most."""
    length = context.read(run, "length").hull
    if length is None or (length.high is None and not length.low):
        return _NO_LENGTH
    sets = context.read(run, "phase.parallel_sets").hull
    if sets is None:
        return _NO_LENGTH
    low, few, many = length.low or Fraction(0), max(sets.low or Fraction(1), Fraction(1)), sets.high
    least = Fraction(0) if many is None or many < 1 else low / KILO / many
    return max(least, Fraction(0)), None if length.high is None else length.high / KILO / few


def _along(each: Between, factors: tuple[Fraction, Fraction | None]) -> Between:
    least, most = factors
    if most == 0:
        return NOTHING_BETWEEN
    return Between(each.least.times(least), None if most is None or each.most is None else each.most.times(most))


def _conductor(context: Context, run: Subject, part: str, numbers: RunNumbers, hot: bool) -> Between:
    """Ohms per 1000 ft of one conductor: by every row that may be the one for it."""
    size, material = context.read(run, f"{part}.size"), context.read(run, f"{part}.material")
    if context.read(run, part).absent or size.absent or not _is_of_the_table(size, numbers.reactances):
        return _OPEN
    if relate("is", material, _CLAD) is not Truth.NO:
        material = _BOTH_METALS
    raceway = context.read(run, "run_raceway")
    keys = {"size": size, "material": material, "raceway": raceway}
    ohms = tuple(_values(numbers.resistances, keys))
    reactances = tuple(_values(numbers.reactances, keys))
    if not ohms or not reactances:
        return _OPEN
    least = Impedance(min(ohms) * numbers.cold, min(reactances) * numbers.close)
    return Between(least, Impedance(max(ohms) * (numbers.hot if hot else 1), max(reactances)))


def _is_of_the_table(size: Possible, rows: tuple[Row, ...]) -> bool:
    """Whether every size that is possible stands in the table."""
    known = {row.keys["size"].number for row in rows}
    return bool(size.spans) and not size.anything and all(span.is_point and span.low in known for span in size.spans)


def _values(rows: tuple[Row, ...], keys: dict[str, Possible]) -> Iterator[Fraction]:
    for row in rows:
        fits = (relate("is", keys[name], wanted) is not Truth.NO for name, wanted in row.keys.items())
        if all(fits) and row.value.number is not None:
            yield row.value.number
