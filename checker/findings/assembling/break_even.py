"""The value of one number at which a finding would turn: an open one, or one that falls short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction
from math import ceil, floor

from checker.catalog.model import Bounds, Fact, ValueType
from checker.catalog.wording import one_number
from checker.facts.known import Ask, Leaf
from checker.facts.view import View
from checker.findings.assembling.naming import base_unit, plain_number
from checker.findings.finding import BreakEven
from checker.findings.judging.evaluation import Applied, Evaluation, evaluate
from checker.findings.judging.evidence import SiteEvidence
from checker.findings.judging.outcomes import SETTLED_OUTCOMES, Outcome
from checker.findings.judging.plan import Planned
from checker.values.arithmetic import rounded
from checker.values.possible import number
from checker.values.truth import Truth

SAMPLES = 8
"""Steps between the places at which it is looked whether the outcome turns only once between the ends."""

MOST_NUMBERS = 4
"""With more open facts than this none of them decides alone."""

HALVINGS = 48
"""Halvings of the interval; more would not change the nine digits that a fact has."""

BESIDE = Fraction(1, 10**11)
"""So small a part of a number lies well below the nine digits that a fact has."""


def break_even(planned: Planned, waiting: tuple[Leaf, ...], view: View, on: date) -> BreakEven | None:
    """Where the finding turns, if one number alone would settle it and turns it once within its plausible range.

    A number that only a person can give comes before one that could also be worked out, and one from which another
    follows before that other.
    """
    behind = {leaf: _behind(leaf, view) for leaf in waiting if leaf.ask is Ask.FACT}
    alone = [leaf for leaf in waiting if not any(leaf in others for others in behind.values())]
    if len(behind) != len(waiting) or len(alone) > MOST_NUMBERS:
        return None
    facts = view.ground.catalog.facts
    in_order = sorted(behind, key=lambda leaf: (leaf.subject.type in facts[leaf.name].derived_for, len(behind[leaf])))
    found = (_of_leaf(leaf, planned, view, on) for leaf in in_order)
    return next((turn for turn in found if turn is not None), None)


def _behind(leaf: Leaf, view: View) -> frozenset[Leaf]:
    """What a figure would be worked out from; nothing for what only a person can say."""
    return view.known(leaf.subject, leaf.name).leaves - {leaf}


def break_even_of_miss(planned: Planned, look: Applied, view: View, on: date) -> BreakEven | None:
    """Where a miss of a rule with several ways turns, over the number that falls short in the first of them.

    Each way wants another number of the same fact, so that none of them alone is what is wanted.
    """
    if not look.any_way:
        return None
    first = next(iter(look.parts.values()))
    short = [each for each in first.comparisons if each.holds is Truth.NO and each.direct and each.found.fact]
    if len(short) != 1 or short[0].found.subject is None or short[0].found.fact is None:
        return None
    return _of_leaf(Leaf(short[0].found.subject, short[0].found.fact), planned, view, on)


def _of_leaf(leaf: Leaf, planned: Planned, view: View, on: date) -> BreakEven | None:
    fact = view.ground.catalog.facts[leaf.name]
    bounds = fact.plausible or fact.physical
    if fact.type not in _NUMBERS or bounds is None or bounds.low is None or bounds.high is None:
        return None
    low, high = _still_possible(leaf, view, bounds.low, bounds.high)
    if low >= high:
        return None
    return _turning_point(_Trial(planned, view, on, leaf), fact, Bounds(low, high))


def _still_possible(leaf: Leaf, view: View, low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    """The part of a range that what is known of the fact leaves: beyond it a figure would only disagree."""
    hull = view.read(leaf.subject, leaf.name).hull
    if hull is None or leaf.subject.type not in view.ground.catalog.facts[leaf.name].derived_for:
        return low, high
    return (low if hull.low is None else max(low, hull.low)), (high if hull.high is None else min(high, hull.high))


class _Trial:
    """Asks what would come out if the open number had a value."""

    def __init__(self, planned: Planned, view: View, on: date, leaf: Leaf) -> None:
        self._planned, self._view, self._on, self.leaf = planned, view, on, leaf

    def outcome(self, value: Fraction) -> Outcome:
        return self._evaluation(value).outcome

    def compared(self, value: Fraction) -> Iterator[Fraction]:
        """The numbers that comparisons look at if the open number has a value."""
        for judged in self._evaluation(value).look.everything:
            for comparison in judged.comparisons:
                for side in (comparison.found, *comparison.wanted):
                    if side.known.value.number is not None:
                        yield side.known.value.number

    def _evaluation(self, value: Fraction) -> Evaluation:
        evidence = SiteEvidence(self._view.pinned({self.leaf: number(value)}))
        return evaluate(self._planned.rule, self._planned.subject, self._planned.belongs, evidence, self._on)

    def is_good(self, value: Fraction) -> bool:
        return self.outcome(value) in SETTLED_OUTCOMES


def _turning_point(trial: _Trial, fact: Fact, bounds: Bounds) -> BreakEven | None:
    low, high = bounds.low, bounds.high
    assert low is not None
    assert high is not None
    points = _whole_numbers(low, high) if fact.type is ValueType.COUNT else _samples(low, high)
    good = _good_at(trial, points)
    turns = [index for index in range(len(good) - 1) if good[index] != good[index + 1]]
    if len(turns) != 1:
        return None
    index = turns[0]
    good_above = good[index + 1]
    if fact.type is ValueType.COUNT:
        value, belongs = _halved_whole(trial, points[index], points[index + 1], good_above=good_above), True
    else:
        value, belongs = _turn_between(trial, points[index], points[index + 1], good_above=good_above)
    if value == (high if good_above else low):
        # Only the very end is good: that is one value and no range.
        return None
    relation = _RELATIONS[good_above, belongs]
    name = f"{trial.leaf.subject.id}.{fact.name}"
    text = one_number(fact, value, fact.unit or None)
    return BreakEven(name, relation, text, plain_number(value), base_unit(fact), relation.replace("_", " "))


def _good_at(trial: _Trial, points: Sequence[Fraction]) -> tuple[bool, ...]:
    """Whether what comes out is good at each point; nothing where one leaves the question open, or where both ends come
    to the same, between which nothing turns once. The ends come first, as each look may take long.
    """
    outcomes: dict[Fraction, Outcome] = {}
    for point in dict.fromkeys((*points[:1], *points[-1:], *points)):
        outcomes[point] = trial.outcome(point)
        if outcomes[point] is Outcome.NEEDS_INFORMATION:
            return ()
        if len(outcomes) == _ENDS and len({each in SETTLED_OUTCOMES for each in outcomes.values()}) == 1:
            return ()
    return tuple(outcomes[point] in SETTLED_OUTCOMES for point in points)


_ENDS = 2
_NUMBERS = frozenset({ValueType.QUANTITY, ValueType.COUNT})
_RELATIONS = {
    (True, True): "at_least",
    (True, False): "more_than",
    (False, True): "at_most",
    (False, False): "less_than",
}
"""By whether the good side lies above, and whether the turning point itself is good."""


def _samples(low: Fraction, high: Fraction) -> list[Fraction]:
    return [low + (high - low) * step / SAMPLES for step in range(SAMPLES + 1)]


def _whole_numbers(low: Fraction, high: Fraction) -> list[Fraction]:
    """Whole numbers between the ends, both of them among these: all, or as many as there are samples."""
    first, last = ceil(low), floor(high)
    steps = min(SAMPLES, last - first)
    return [Fraction(first + (last - first) * step // steps) for step in range(steps + 1)] if steps > 0 else []


def _halved_whole(trial: _Trial, low: Fraction, high: Fraction, *, good_above: bool) -> Fraction:
    """The first good whole number above the turn, or the last good one below it."""
    while high - low > 1:
        middle = Fraction((low + high) // 2)
        if trial.is_good(middle) == good_above:
            high = middle
        else:
            low = middle
    return high if good_above else low


def _turn_between(trial: _Trial, low: Fraction, high: Fraction, *, good_above: bool) -> tuple[Fraction, bool]:
    """The turning point to nine digits, and whether it is on the good side itself. A fact that is compared as it stands
    turns at a number with which it is compared, and three looks show it; any other point is halved for.
    """
    for point in dict.fromkeys(trial.compared(low)):
        beside = abs(point) * BESIDE
        if low < point - beside and point + beside < high:
            below, above = trial.is_good(point - beside), trial.is_good(point + beside)
            if (below, above) == (not good_above, good_above):
                nearest = rounded(point)
                return nearest, trial.is_good(nearest)
    return _halved(trial, low, high, good_above=good_above)


def _halved(trial: _Trial, low: Fraction, high: Fraction, *, good_above: bool) -> tuple[Fraction, bool]:
    """The turning point to nine digits, and whether it is on the good side itself."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if trial.is_good(middle) == good_above:
            high = middle
        else:
            low = middle
        if rounded(low) == rounded(high):
            break
    nearest = rounded((low + high) / 2)
    return nearest, trial.is_good(nearest)
