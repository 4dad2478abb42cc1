"""Conditions judged on what is possible: yes, no or unknown, with what was compared and what it rests on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date

from checker.facts.collections import Collection, Member
from checker.facts.known import Known, Leaf, Origin
from checker.findings.judging.evidence import Evidence
from checker.findings.judging.operands import Numbers, Term, term
from checker.findings.judging.paths import Place
from checker.rules.model.conditions import Combined, Compare, Condition, Count, FactPath, Fold, Group, Not, Test
from checker.rules.model.rule import Requires
from checker.site.model import Subject
from checker.values.dates import CalendarSpan, day_number, subtract
from checker.values.possible import Possible, between, number
from checker.values.relations import known as is_known
from checker.values.relations import present as is_present
from checker.values.relations import relate
from checker.values.truth import Truth, all_of, any_of, from_ways, truth_of


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a comparison: which fact of which subject, or a number that the rules set, and what is possible for
    it.
    """

    subject: Subject | None
    fact: str | None
    label: str
    known: Known


@dataclass(frozen=True, slots=True)
class Comparison:
    """One relation that was judged. ``direct`` when the part in which it stands cannot hold without it; ``matters``
    unless what it stands in is decided whatever its own answer.
    """

    part: str | None
    holds: Truth
    relation: str
    found: Side
    wanted: tuple[Side, ...]
    direct: bool = True
    matters: bool = True


@dataclass(frozen=True, slots=True)
class Judged:
    """The answer of a condition, the comparisons behind it, and one set of leaves for each time that facts were
    read.
    """

    truth: Truth
    comparisons: tuple[Comparison, ...] = ()
    reads: tuple[frozenset[Leaf], ...] = ()

    @property
    def leaves(self) -> frozenset[Leaf]:
        """Everything that the answer rests on."""
        return frozenset().union(*self.reads)


@dataclass(frozen=True, slots=True)
class Judge:
    """Judges the conditions of one rule on the evidence, on the date of the review."""

    evidence: Evidence
    numbers: Numbers
    on: date

    def condition(self, condition: Condition | None, place: Place, part: str | None = None) -> Judged:
        """Judge one condition; nothing is skipped, so that everything it rests on is known. No condition is yes."""
        if condition is None:
            return Judged(Truth.YES)
        return _settled(self._judged(condition, place, condition.part or part))

    def _judged(self, condition: Condition, place: Place, named: str | None) -> Judged:
        match condition:
            case Compare():
                return self._compare(condition, place, named)
            case Group():
                parts = [self.condition(each, place, named) for each in condition.conditions]
                return (
                    self._combined(parts, all_of)
                    if condition.how == "all"
                    else _indirect(self._combined(parts, any_of))
                )
            case Not():
                inner = self.condition(condition.condition, place, named)
                return _indirect(Judged(~inner.truth, inner.comparisons, inner.reads))
            case Fold():
                return self._fold(condition, place, named)
            case Count():
                return self._count(condition, place, named)

    def requires(self, requires: Requires, place: Place) -> tuple[Judged, Mapping[str, Judged]]:
        """Judge all parts of a requirement: the whole, and each part by name."""
        parts = {name: self.condition(condition, place, name) for name, condition in requires.parts.items()}
        return self._combined(parts.values(), any_of if requires.any_way else all_of), parts

    @staticmethod
    def _combined(parts: Iterable[Judged], combine: Callable[[Iterable[Truth]], Truth]) -> Judged:
        judged = tuple(parts)
        return Judged(
            combine(each.truth for each in judged),
            tuple(comparison for each in judged for comparison in each.comparisons),
            tuple(read for each in judged for read in each.reads),
        )

    # --- comparisons -------------------------------------------------------------------------------------------------

    def _compare(self, compare: Compare, place: Place, part: str | None) -> Judged:
        subject, known = self.evidence.fact(place, compare.path)
        side = Side(subject, compare.path.name, str(compare.path), known)
        tests = [self._test(test, side, compare.if_absent, place, part) for test in compare.tests]
        return self._combined(tests, all_of)

    def _test(self, test: Test, side: Side, if_absent: bool | None, place: Place, part: str | None) -> Judged:
        terms = tuple(term(self.evidence, self.numbers, operand, place) for operand in test.operands)
        truth = self._answer(test, side.known.value, terms, if_absent, place)
        wanted = tuple(Side(each.subject, each.fact, each.label, each.known) for each in terms)
        # Between asks the same fact twice, so that of 8 A or 400 A neither is taken to lie between 60 A and 100 A.
        found = (side.known.leaves,) * (2 if test.relation == "between" else 1)
        reads = (*found, *(each.known.leaves for each in terms))
        return Judged(truth, (Comparison(part, truth, test.relation, side, wanted),), reads)

    def _answer(
        self, test: Test, left: Possible, terms: tuple[Term, ...], if_absent: bool | None, place: Place
    ) -> Truth:
        if test.relation in ("known", "present"):
            answer = is_known(left) if test.relation == "known" else is_present(left)
            return answer if terms[0].known.value.atom is True else ~answer
        if any(each.no_limit for each in terms):
            return Truth.YES
        if test.relation == "between":
            low, high = terms
            return all_of(
                (
                    _relate("at_least", left, low.known.value, if_absent),
                    _relate("at_most", left, high.known.value, if_absent),
                )
            )
        right = terms[0]
        if test.relation == "no_older_than":
            assert isinstance(right.span, CalendarSpan)
            oldest = number(day_number(subtract(self.on, right.span)))
            return _relate("on_or_after", left, oldest, if_absent)
        answer = _relate(test.relation, left, right.known.value, if_absent)
        return self._lowered(test, left, if_absent, place) if answer is Truth.UNKNOWN else answer

    def _lowered(self, test: Test, left: Possible, if_absent: bool | None, place: Place) -> Truth:
        """A comparison with the largest or smallest of several is decided as soon as one of them decides it."""
        operand = test.operands[0]
        if not isinstance(operand, Combined) or operand.how == "sum_of" or test.relation not in _LOWERED:
            return Truth.UNKNOWN
        values = [term(self.evidence, self.numbers, each, place).known.value for each in operand.operands]
        if any(value.absent for value in values):
            return Truth.UNKNOWN
        every = _LOWERED[test.relation] == operand.how
        return (all_of if every else any_of)(_relate(test.relation, left, value, if_absent) for value in values)

    # --- collections -------------------------------------------------------------------------------------------------

    def _belonging(self, member: Member, where: Condition | None, place: Place) -> Judged:
        inside = self.condition(where, place.at(member.subject))
        truth = all_of((member.belongs, inside.truth))
        return Judged(truth, inside.comparisons, (member.leaves, *inside.reads))

    def _fold(self, fold: Fold, place: Place, part: str | None) -> Judged:
        members = self.evidence.members(place, fold.collection)
        belonging = [self._belonging(member, fold.where, place) for member in members.members]
        holding = [self.condition(fold.that, place.at(member.subject), part) for member in members.members]
        truth = self._folded(fold, members, belonging, holding)
        reads = [read for each in (*belonging, *holding) for read in each.reads]
        reads.append(frozenset({members.more} if members.more else ()))
        own = Comparison(part, truth, fold.how, _collection_side(fold.collection, members, belonging), ())
        inner = (
            comparison for one, that in zip(belonging, holding, strict=True) for comparison in _of_member(one, that)
        )
        return Judged(truth, (own, *(replace(comparison, direct=False) for comparison in inner)), tuple(reads))

    def _folded(self, fold: Fold, members: Collection, belonging: list[Judged], holding: list[Judged]) -> Truth:
        open_ended = (Truth.UNKNOWN,) if members.is_open else ()
        pairs = list(zip(belonging, holding, strict=True))
        if fold.how == "every":
            answer = all_of((*(any_of((~one.truth, that.truth)) for one, that in pairs), *open_ended))
        else:
            answer = any_of((*(all_of((one.truth, that.truth)) for one, that in pairs), *open_ended))
            answer = ~answer if fold.how == "none" else answer
        if fold.if_empty is None:
            return answer
        empty = ~any_of((*(one.truth for one in belonging), *open_ended))
        return any_of((answer, empty)) if fold.if_empty else all_of((answer, ~empty))

    def _count(self, count: Count, place: Place, part: str | None) -> Judged:
        members = self.evidence.members(place, count.collection)
        belonging = [self._belonging(member, count.where, place) for member in members.members]
        least = sum(one.truth is Truth.YES for one in belonging)
        most = sum(one.truth is not Truth.NO for one in belonging)
        how_many = (
            between(least, None if members.is_open else most) if members.is_open or least < most else number(least)
        )
        leaves = frozenset().union(*(read for one in belonging for read in one.reads))
        leaves |= {members.more} if members.more else set()
        known = Known(how_many, Origin.DERIVED, leaves)
        side = Side(None, None, count.collection.name, known)
        return self._combined([self._test(test, side, None, place, part) for test in count.tests], all_of)


def _of_member(belongs: Judged, holds: Judged) -> tuple[Comparison, ...]:
    """The comparisons that count at one member: none where it is surely out, those of where only while that is open."""
    if belongs.truth is Truth.NO:
        return ()
    doubt = belongs.comparisons if belongs.truth is Truth.UNKNOWN else ()
    return (*doubt, *holds.comparisons)


def _settled(judged: Judged) -> Judged:
    """The same; where the answer is decided, nothing that is still open inside it matters."""
    if judged.truth is Truth.UNKNOWN:
        return judged
    comparisons = tuple(
        replace(each, matters=False) if each.holds is Truth.UNKNOWN else each for each in judged.comparisons
    )
    return Judged(judged.truth, comparisons, judged.reads)


def _indirect(judged: Judged) -> Judged:
    """The same, its comparisons being some of several of which not each has to hold."""
    return Judged(judged.truth, tuple(replace(each, direct=False) for each in judged.comparisons), judged.reads)


_LOWERED = {"at_least": "largest_of", "more_than": "largest_of", "at_most": "smallest_of", "less_than": "smallest_of"}
"""For each relation the operation of which it must hold for every operand; for the other one operand is enough."""


def _relate(relation: str, left: Possible, right: Possible, if_absent: bool | None) -> Truth:
    """A relation in which ``if_absent`` answers for the case that either side is absent."""
    if if_absent is None or not (left.absent or right.absent):
        return relate(relation, left, right)
    mine, other = left.present(), right.present()
    ways = [truth_of(if_absent)]
    if mine is not None and other is not None:
        ways.append(relate(relation, mine, other))
    return from_ways(
        can_hold=any(way is not Truth.NO for way in ways), can_fail=any(way is not Truth.YES for way in ways)
    )


def _collection_side(path: FactPath, members: Collection, belonging: list[Judged]) -> Side:
    """How many members surely and perhaps belong, and which they are."""
    least = sum(one.truth is Truth.YES for one in belonging)
    most = sum(one.truth is not Truth.NO for one in belonging)
    value = between(least, None) if members.is_open else (number(least) if least == most else between(least, most))
    leaves = frozenset({members.more}) if members.more else frozenset()
    # Nothing that is listed in a list that may go on is not nothing.
    names = ", ".join(member.subject.id for member in members.members) or ("none told" if members.is_open else "none")
    return Side(None, None, path.name, Known(value, Origin.DERIVED, leaves, text=names))
