"""Every value that one fact could have, tried: word by word, and numbers by the stretches between which rules turn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, pairwise
from math import ceil, floor

from checker.catalog.model import Fact, ValueType
from checker.facts.conductors.numbers import sizes_in_tables
from checker.facts.known import Leaf
from checker.findings.judging.conditions import Comparison
from checker.findings.judging.evidence import SiteEvidence
from checker.tasks.scheduling.bench import Bench, Pins, Verdict, there
from checker.values.arithmetic import rounded
from checker.values.possible import ABSENT, Possible, Span, exactly, number, several
from checker.values.wire_sizes import SIZES

MOST_SETS = 16
"""Sets of choices that are tried; of a fact with more of them each choice alone is. A limit of effort."""

MOST_COUNTED = 24
"""Whole numbers that are tried one by one."""

MOST_TURNS = 12
"""Numbers at which rules may turn that are looked at for one fact."""

MOST_PARTED = 3
"""So often a stretch is parted, in which rules turn at numbers that they do not name themselves."""

HALVINGS = 30
"""Halvings on the way to such a number; more would not change the digits that are printed."""

_MATERIAL = "material"

FEW = 6
"""Up to so many values in order are tried one by one; of more, those between two that are alike are not."""

MOST_LOOKS = 250
"""Rules tried for one fact, counted one by one; what is left then is not parted any further, and this is told."""

NEAR = 10**6
"""This share of a stretch away from its end a number counts as just beside it."""


@dataclass(frozen=True, slots=True)
class Tried:
    """A value, or all numbers of a stretch, and what the rules say of it."""

    value: Possible
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class Trial:
    """All that was tried of one fact, from low to high; ``cut`` where not everything was."""

    tried: tuple[Tried, ...]
    cut: bool = False

    @property
    def never_cured(self) -> frozenset[int]:
        """Rules that turn down whatever is tried: this fact alone does not settle them."""
        every = [each.verdict.corrected | each.verdict.advised | each.verdict.brings for each in self.tried]
        return frozenset.intersection(*every) if every else frozenset()

    def without(self, rules: frozenset[int]) -> Trial:
        """The same without what some rules say."""
        return Trial(tuple(Tried(each.value, each.verdict.without(rules)) for each in self.tried), self.cut)


def tried(bench: Bench, leaf: Leaf, pins: Pins, rules: Iterable[int]) -> Trial:
    """Try every value of a fact while others are pinned."""
    fact = bench.view.ground.catalog.facts[leaf.name]
    bar = _Bar(bench, leaf, {**pins, **there(bench.view, leaf)}, tuple(rules))
    found = _of_type(bar, fact)
    if not found.tried or not fact.may_be_none or fact.anything() == ABSENT or _is_measured(bench, leaf, fact):
        # Where a fact is none as long as nobody says it, none is no value to choose.
        return found
    return Trial((*found.tried, bar.at(ABSENT)), found.cut)


def _is_measured(bench: Bench, leaf: Leaf, fact: Fact) -> bool:
    """Whether a figure is shown: what has one is not told to be without it."""
    shown = bench.view.read(leaf.subject, leaf.name)
    return fact.type is ValueType.QUANTITY and bool(shown.spans) and not shown.absent


def _of_type(bar: _Bar, fact: Fact) -> Trial:
    """All but that there is none."""
    listed = bar.sizes() if fact.type is ValueType.WIRE_SIZE else _listed(fact)
    if listed is None and fact.several:
        return Trial(tuple(bar.at(several([choice])) for choice in fact.choices), cut=True)
    if listed is None:
        return _numbers(bar, fact) if fact.type is ValueType.QUANTITY else Trial((), cut=True)
    if fact.type.is_ordered and len(listed) > FEW:
        return _steps(bar, listed)
    return Trial(tuple(bar.at(value) for value in listed))


def _listed(fact: Fact) -> tuple[Possible, ...] | None:
    match fact.type:
        case ValueType.FLAG:
            return (exactly(True), exactly(False))
        case ValueType.CHOICE if fact.several:
            return _sets(tuple(fact.choices))
        case ValueType.CHOICE:
            return tuple(exactly(choice) for choice in fact.choices)
        case ValueType.COUNT:
            return _counts(fact)
        case _:
            return None


def _sets(choices: tuple[str, ...]) -> tuple[Possible, ...] | None:
    if 2 ** len(choices) > MOST_SETS:
        return None
    sizes = range(1, len(choices) + 1)
    return tuple(several(chosen) for size in sizes for chosen in combinations(choices, size))


def _counts(fact: Fact) -> tuple[Possible, ...] | None:
    low, high = _range(fact)
    if low is None or high is None or high - low > MOST_COUNTED:
        return None
    return tuple(number(whole) for whole in range(ceil(low), floor(high) + 1))


def _range(fact: Fact) -> tuple[Fraction | None, Fraction | None]:
    bounds = fact.plausible or fact.physical
    return (None, None) if bounds is None else (bounds.low, bounds.high)


class _Bar:
    """Pins the one fact, and asks the rules; stops when it has asked often enough."""

    def __init__(self, bench: Bench, leaf: Leaf, pins: Pins, rules: tuple[int, ...]) -> None:
        self.bench, self.leaf, self.pins, self.rules = bench, leaf, pins, rules
        self._end = bench.looks + MOST_LOOKS
        self.cut = False

    def sizes(self) -> tuple[Possible, ...]:
        """The sizes that the tables of ampacity in force have in a metal that is possible, whatever a conductor is for;
        where none is in force, every size.
        """
        metal = Leaf(self.leaf.subject, f"{self.leaf.name.partition('.')[0]}.{_MATERIAL}")
        view = self.bench.view.pinned(self.pins)
        possible = view.read(metal.subject, metal.name)
        listed = sizes_in_tables(view.ground.numbers, None if possible.anything else possible.atoms)
        return tuple(number(size.circular_mils) for size in SIZES.values() if size in listed or not listed)

    def at(self, value: Possible) -> Tried:
        return Tried(value, self.verdict(value, self.rules))

    def verdict(self, value: Possible, rules: Iterable[int]) -> Verdict:
        return self.bench.verdict(rules, {**self.pins, self.leaf: value})

    def said(self, value: Fraction, rules: tuple[int, ...]) -> tuple[frozenset[int], frozenset[int]]:
        """The rules that surely miss at one number."""
        found = self.verdict(number(value), rules)
        return found.corrected, found.advised

    def undecided(self, value: Possible) -> tuple[int, ...]:
        return self.bench.undecided(self.rules, {**self.pins, self.leaf: value})

    def is_spent(self) -> bool:
        """Whether no more may be asked; what is then left is told to be cut."""
        self.cut = self.cut or self.bench.looks > self._end
        return self.cut


def _steps(bar: _Bar, values: tuple[Possible, ...]) -> Trial:
    """Values in order, halved until what lies between two is alike at its ends and in its middle."""
    verdicts: dict[int, Verdict] = {}

    def at(place: int) -> Verdict:
        if place not in verdicts:
            verdicts[place] = bar.verdict(values[place], bar.rules)
        return verdicts[place]

    def fill(low: int, high: int) -> None:
        if high - low < 2:
            return
        middle = (low + high) // 2
        if at(low) == at(middle) == at(high):
            verdicts.update({place: at(low) for place in range(low + 1, high)})
            return
        if bar.is_spent():
            # What was not tried is not turned down.
            verdicts.update({place: Verdict() for place in range(low + 1, high) if place != middle})
            return
        fill(low, middle)
        fill(middle, high)

    at(0), at(len(values) - 1)
    fill(0, len(values) - 1)
    return Trial(tuple(Tried(value, at(place)) for place, value in enumerate(values)), bar.cut)


def _numbers(bar: _Bar, fact: Fact) -> Trial:
    """A quantity over its plausible range: at each number that a rule compares it with, and on the stretches
    between.
    """
    low, high = _range(fact)
    if low is None or high is None:
        return Trial((), cut=True)
    named = sorted(each for each in _named(bar, fact) if low < each < high)
    points = [low, *named[:MOST_TURNS], high]
    found: list[Tried] = [bar.at(number(low))]
    for start, end in pairwise(points):
        found += [*_between(bar, start, end, MOST_PARTED), bar.at(number(end))]
    return Trial(tuple(found), cut=bar.cut or len(named) > MOST_TURNS)


def _between(bar: _Bar, low: Fraction, high: Fraction, deeper: int) -> Iterator[Tried]:
    """A stretch without its ends: as a whole where every rule decides all of it alike, otherwise parted where one
    turns.
    """
    stretch = Possible(spans=(Span(low, high, low_open=True, high_open=True),))
    open_rules = bar.undecided(stretch)
    whole = bar.verdict(stretch, (rule for rule in bar.rules if rule not in open_rules))
    middle = (low + high) / 2
    inside = bar.said(middle, open_rules)
    starts, ends = (bar.said(_near(*each), open_rules) for each in ((low, high), (high, low)))
    if starts == inside == ends:
        # Where the stretch as a whole leaves something open, what its numbers say counts.
        yield Tried(stretch, whole | bar.verdict(number(middle), open_rules))
        return
    if not deeper or bar.is_spent():
        # What was not looked at is not turned down.
        bar.cut = True
        yield Tried(stretch, whole)
        return
    turn = _turn(bar, low, middle, open_rules) if starts != inside else _turn(bar, middle, high, open_rules)
    yield from _between(bar, low, turn, deeper - 1)
    yield bar.at(number(turn))
    yield from _between(bar, turn, high, deeper - 1)


def _near(start: Fraction, towards: Fraction) -> Fraction:
    return start + (towards - start) / NEAR


def _turn(bar: _Bar, low: Fraction, high: Fraction, rules: tuple[int, ...]) -> Fraction:
    """The number up from which something else is said than at the low end."""
    at_low = bar.said(_near(low, high), rules)
    turning = tuple(rule for rule in rules if (rule in at_low[0] | at_low[1]) != _misses(bar, high, low, rule))
    as_low = bar.said(_near(low, high), turning)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if bar.said(middle, turning) == as_low:
            low = middle
        else:
            high = middle
        if rounded(low) == rounded(high) or bar.is_spent():
            break
    return rounded((low + high) / 2)


def _misses(bar: _Bar, end: Fraction, towards: Fraction, rule: int) -> bool:
    corrected, advised = bar.said(_near(end, towards), (rule,))
    return rule in corrected | advised


def _named(bar: _Bar, fact: Fact) -> set[Fraction]:
    """The numbers with which rules compare the fact while it may be anything."""
    evidence = SiteEvidence(bar.bench.on({**bar.pins, bar.leaf: fact.anything_said()}))
    looks = (bar.bench.look(index, evidence) for index in bar.rules)
    compared = (each for look in looks for judged in look.everything for each in judged.comparisons)
    return {end for each in compared for end in _ends(each, bar.leaf)}


def _ends(comparison: Comparison, leaf: Leaf) -> Iterator[Fraction]:
    sides = (comparison.found, *comparison.wanted)
    if not any(leaf in side.known.leaves for side in sides):
        return
    for side in sides:
        hull = None if leaf in side.known.leaves else side.known.value.hull
        if hull is not None:
            yield from (end for end in (hull.low, hull.high) if end is not None)
